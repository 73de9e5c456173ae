package alcohol

import (
	"cmp"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// Fermentable is the share of a honey's solids that goes as gravity counts,
// where the person gives none. By composition yeast could take 90 to 95 %
// (White 1962, USDA Technical Bulletin 1261); glycerol and acids stay behind.
const Fermentable measure.Share = 86

// DrySpread is how far a dry finish is off what is worked out (common practice, no
// source).
const DrySpread = 0.005

// DryFinish returns the gravity at which a must has no more to ferment. Of a kilogram
// of must with the mass fraction w of solids, x = share × w goes by Balling's
// yields, and what is left is weighed and measured:
//
//	ethanol e = x/2.0665, mass m = 1 − 0.9565 e − 0.11 e, sugar r = w − x
//	SG = m / ((m − r)/ρ(e/(m − r)) + 0.6182 r) / ρ_water
//
// with the density of ethanol and water by OIML R 22 and the volume that
// dissolved sugar takes by 27 CFR 24.181.
//
// Range: original 1.002 to 1.250, share 50 to 100 %, finish not under 0.980;
// outside an error. Checked against the range that dry meads show, 0.990 to
// 1.002 (common practice, no source). Uncertainty: DrySpread.
func DryFinish(original measure.Gravity, fermentable measure.Share) (measure.Gravity, error) {
	err := cmp.Or(
		measure.InRange("original gravity", original, weakest, measure.HighestGravity, ""),
		measure.InRange("fermentable share", fermentable, 50, 100, "%"),
	)
	if err != nil {
		return 0, err
	}
	b, _ := gravity.ToBrix(original)
	w := float64(b) / 100
	gone := w * float64(fermentable) / 100
	ethanol := gone / extractPerEthanol
	mass := 1 - (co2PerEthanol+yeastPerEthanol)*ethanol
	sugar := w - gone
	liquid := mass - sugar
	mixture, _ := gravity.EthanolWater(measure.Share(100*ethanol/liquid), 20)
	volume := liquid*1000/float64(mixture) + gravity.SugarVolume*sugar
	water, _ := gravity.Water(20)
	finish := measure.Gravity(mass / volume * 1000 / float64(water))
	if err := measure.InRange("dry finish", finish, gravity.Lowest, original, ""); err != nil {
		return 0, err
	}
	return finish, nil
}

// UsualTolerance is the alcohol that a yeast is taken to reach where nobody said,
// ±2 % vol (common practice, no source: 14 to 18 % vol).
const UsualTolerance measure.Strength = 16

// StrongMust is the gravity over which a must is hard on any yeast (common practice, no source).
const StrongMust measure.Gravity = 1.130

// Finish is where a ferment is expected to end, and what was assumed.
type Finish struct {
	Gravity     measure.Gravity
	Dry         measure.Gravity  // where it would end without a tolerance
	Alcohol     measure.Strength // by BalanceOf at Gravity
	AtTolerance bool             // the yeast ends it, not the sugar
}

// FinishOf returns the dry finish or, where it is higher, the gravity at which the
// alcohol by BalanceOf reaches what the yeast tolerates, UsualTolerance where
// nobody said. Of alcohol that was brought in, the caller takes off the tolerance.
//
// Range: that of DryFinish, tolerance 1 to 25 % vol; outside an error.
// Uncertainty: 0.005, and a tolerance is a maker's word, ±1.5 % vol, more often
// over than under; nobody's is ±2.
func FinishOf(original measure.Gravity, tolerance measure.Given[measure.Strength], fermentable measure.Share) (Finish, error) {
	bears := tolerance.Or(UsualTolerance)
	dry, err := DryFinish(original, fermentable)
	if err = cmp.Or(err, measure.InRange("tolerance of the yeast", bears, 1, 25, "% vol")); err != nil {
		return Finish{}, err
	}
	f := Finish{Gravity: dry, Dry: dry, AtTolerance: balance(original, dry).Alcohol > bears}
	if f.AtTolerance {
		f.Gravity = measure.Root(dry, original, func(g measure.Gravity) float64 {
			return float64(bears - balance(original, g).Alcohol)
		})
	}
	f.Alcohol = balance(original, f.Gravity).Alcohol
	return f, nil
}
