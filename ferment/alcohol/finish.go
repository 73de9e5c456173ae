package alcohol

import (
	"cmp"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// Fermentable is the usual share of a honey's solids that ferments, measured by gravity. By
// composition yeast could take 90 to 95 % (White 1962, USDA Technical Bulletin 1261);
// glycerol and acids remain.
const Fermentable measure.Share = 86

// DrySpread is the uncertainty of a calculated dry finish (common practice, no source).
const DrySpread = 0.005

// DryFinish returns the gravity at which a must has nothing more to ferment. Of a kilogram
// of must with the mass fraction w of solids, x = share × w is converted by Balling's
// yields, and the rest is weighed and measured:
//
//	ethanol e = x/2.0665, mass m = 1 − 0.9565 e − 0.11 e, sugar r = w − x
//	SG = m / ((m − r)/ρ(e/(m − r)) + 0.6182 r) / ρ_water
//
// with the density of ethanol and water by OIML R 22 and the volume that
// dissolved sugar takes by 27 CFR 24.181.
//
// Range: original 1.002 to 1.250, share 50 to 100 %, finish not under 0.980; outside an
// error. Checked against the range of dry meads, 0.990 to 1.002 (common practice, no
// source). Uncertainty: 0.005.
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

// UsualTolerance is the alcohol that a yeast is assumed to reach if it has no tolerance, ±2
// % vol (common practice, no source: 14 to 18 % vol).
const UsualTolerance measure.Strength = 16

// StrongMust is the gravity over which a must is hard on any yeast (common practice, no
// source).
const StrongMust measure.Gravity = 1.130

// Finish is where a ferment is expected to end, and what was assumed.
type Finish struct {
	Gravity     measure.Gravity
	Dry         measure.Gravity  // where it would end with an unlimited tolerance
	Alcohol     measure.Strength // by BalanceOf at Gravity
	AtTolerance bool             // the yeast's tolerance ends it, not the sugar
}

// FinishOf returns the dry finish or, if that is higher, the gravity at which the alcohol
// by BalanceOf reaches the yeast's tolerance (UsualTolerance if it has none). The caller
// subtracts alcohol that was brought in from the tolerance.
//
// Range: that of DryFinish, tolerance 1 to 25 % vol; outside an error.
// Uncertainty: 0.005, and ±1.5 % vol for a maker's tolerance, more often over than under;
// ±2 for the assumed one.
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
