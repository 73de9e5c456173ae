// Package alcohol calculates what fermentation makes of sugar: the strength of a ferment, the sugar left, where it
// will end, what a refractometer shows of it, and what spirit or water changes.
package alcohol

import (
	"cmp"
	"fmt"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// Balling's yields: 2.0665 g of extract make 1 g of ethanol, 0.9565 g of CO₂ and 0.11 g of
// yeast (Balling 1865, as used by Cutaia, Reid and Speers 2009).
const (
	extractPerEthanol = 2.0665
	co2PerEthanol     = 0.9565
	yeastPerEthanol   = 0.11
)

// ethanolGravity is the specific gravity of ethanol at 20/20 °C (OIML R 22).
const ethanolGravity = 0.79066

const weakest measure.Gravity = 1.002

// Balance is the result of a fall of gravity.
type Balance struct {
	Final       measure.Gravity
	Alcohol     measure.Strength
	Mass        measure.Share // alcohol in % by mass
	RealExtract measure.Brix  // sugar that is really still there
	Apparent    measure.Share // attenuation by gravity; over 100 % in a dry mead
	Real        measure.Share // attenuation by real extract
}

// BalanceOf returns Balling's mass balance between an original and a final gravity:
//
//	RE = 0.1808 OE + 0.8192 AE
//	A = (OE − RE) / (2.0665 − 0.010665 OE)   % by mass
//	% vol = A SG / 0.79066
//	apparent = (OG − SG)/(OG − 1), real = (OE − RE)/OE
//
// with OE and AE the °Brix of the two gravities; AE may be negative. A final gravity up to
// 0.004 above the original is a reading error and counts as nothing fermented.
//
// Range: original 1.002 to 1.250, final 0.980 to 1.250, outside an error. Source: Balling 1865; constants as in Cutaia,
// Reid and Speers 2009, J. Inst. Brew. 115(4):318-327, whose means it reproduces to 3 %; the excise factors of Notice
// 226 are within 0.2 % vol, 0.3 for finals of 1.010 to 1.020. Uncertainty: ±0.5 % vol, because yeasts differ.
func BalanceOf(original, final measure.Gravity) (Balance, error) {
	if err := checkFall(original, final); err != nil {
		return Balance{}, err
	}
	return balance(original, final), nil
}

// FromGravities returns the strength of a ferment by its original and its present gravity, by BalanceOf.
func FromGravities(original, final measure.Gravity) (measure.Strength, error) {
	b, err := BalanceOf(original, final)
	return b.Alcohol, err
}

// With adds to the balance the alcohol that a starter or spirit brought, in % vol of the whole: strengths add up, and
// % mass = % vol × 0.79066 / SG. Range 0 to 25 % vol, outside an error.
func (b Balance) With(brought measure.Strength) (Balance, error) {
	if err := measure.InRange("alcohol brought in", brought, 0, 25, "% vol"); err != nil {
		return Balance{}, err
	}
	b.Alcohol += brought
	b.Mass += measure.Share(float64(brought) * ethanolGravity / float64(b.Final))
	return b, nil
}

// SugarLeft returns the sugar that yeast can still ferment, in g/L:
//
//	s = (RE ρ) now − (RE ρ) at the finish
//
// with the real extract of BalanceOf; zero at or below the finish. Range and source as
// BalanceOf. Uncertainty: 2 g/L for each 0.001 of the finish.
func SugarLeft(original, now, finish measure.Gravity) (measure.Content, error) {
	if err := cmp.Or(checkFall(original, now), checkFall(original, finish)); err != nil {
		return 0, err
	}
	return max(extract(original, now)-extract(original, finish), 0), nil
}

// extract returns the solids that are left when a must has fallen to a gravity (the real extract).
func extract(original, g measure.Gravity) measure.Content {
	d, _ := gravity.DensityOf(g)
	return measure.Content(balance(original, g).RealExtract) / 100 * measure.Content(d)
}

// balance is BalanceOf for gravities that have been checked.
func balance(original, final measure.Gravity) Balance {
	final = min(final, original)
	oe, _ := gravity.ToBrix(original)
	ae, _ := gravity.ToBrix(final)
	re := min(0.1808*oe+0.8192*ae, oe)
	a := float64(oe-re) / (extractPerEthanol - 0.010665*float64(oe))
	return Balance{
		Final:       final,
		Alcohol:     measure.Strength(a * float64(final) / ethanolGravity),
		Mass:        measure.Share(a),
		RealExtract: re,
		Apparent:    measure.Share(100 * (original - final) / (original - 1)),
		Real:        measure.Share(100 * (oe - re) / oe),
	}
}

// checkFall checks an original gravity and a later one. The later one may be 0.004 higher, the error of two readings.
func checkFall(original, final measure.Gravity) error {
	err := cmp.Or(
		measure.InRange("original gravity", original, weakest, measure.HighestGravity, ""),
		measure.InRange("gravity", final, gravity.Lowest, measure.HighestGravity, ""),
	)
	if err == nil && final > original+0.004 {
		err = fmt.Errorf("the gravity %v is above the original %v: gravity falls, e.g. from 1.100 to 0.998", final, original)
	}
	return err
}

const mostVolume measure.Volume = 2000

// Effective returns the original gravity as if all the honey had been in the must from the beginning:
//
//	s' = (s V + solids)/V'
//
// with s the solids of the original gravity, V the volume then, V' the volume now, and solids those of the honey fed
// since. Range: original 1.000 to 1.250, 0.1 mL to 2000 L, V' not under V, solids 0 to 1000 kg, result to 1.250;
// outside an error. Mass balance, within 0.5 % of the solids.
func Effective(original measure.Gravity, volume measure.Volume, solids measure.Mass, after measure.Volume) (measure.Gravity, error) {
	err := cmp.Or(
		measure.InRange("original gravity", original, 1, measure.HighestGravity, ""),
		measure.InRange("solids fed", solids, 0, 1000, "kg"),
		checkGrows(volume, after),
	)
	if err != nil {
		return 0, err
	}
	s, err := gravity.Solids(original)
	if err != nil {
		return 0, err
	}
	total := float64(s)*float64(volume) + solids.Grams()
	g, err := gravity.FromSolids(measure.Content(total / float64(after)))
	if err != nil {
		return 0, err
	}
	if err := measure.InRange("effective original gravity", g, 1, measure.HighestGravity, ""); err != nil {
		return 0, err
	}
	return g, nil
}

func checkGrows(before, after measure.Volume) error {
	err := cmp.Or(inVolume(before), inVolume(after))
	if err == nil && after < before {
		err = fmt.Errorf("the volume after, %v, is less than the %v before", after, before)
	}
	return err
}

func inVolume(v measure.Volume) error { return measure.InRange("volume", v, 0.0001, mostVolume, "L") }

// Fermentable is the usual share of a honey's solids that ferments, measured by gravity. By composition yeast could
// take 90 to 95 % (White 1962, USDA Technical Bulletin 1261); glycerol and acids remain.
const Fermentable measure.Share = 86

// DrySpread is the uncertainty of a calculated dry finish (common practice, no source).
const DrySpread = 0.005

// DryFinish returns the gravity at which a must has nothing more to ferment. Of a kilogram of must with the mass
// fraction w of solids, x = share × w is converted by Balling's yields, and the rest is weighed and measured:
//
//	ethanol e = x/2.0665, mass m = 1 − 0.9565 e − 0.11 e, sugar r = w − x
//	SG = m / ((m − r)/ρ(e/(m − r)) + 0.6182 r) / ρ_water
//
// with the density of ethanol and water by OIML R 22 and the volume that dissolved sugar takes by 27 CFR 24.181.
//
// Range: original 1.002 to 1.250, share 50 to 100 %, finish not under 0.980; outside an error. Checked against the
// range of dry meads, 0.990 to 1.002 (common practice, no source). Uncertainty: 0.005.
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

// ShareFermented returns the share of a must's solids that fermented, from where it came to rest without any sugar:
// DryFinish solved for its share. Range: a share of 50 to 100 %; outside an error. Uncertainty: 1 % for each 0.001 of
// the finish at 1.080 to 1.100, 2 % at 1.050.
func ShareFermented(original, finish measure.Gravity) (measure.Share, error) {
	most, err := DryFinish(original, 50)
	if err = cmp.Or(err, measure.InRange("finish", finish, gravity.Lowest, most, "")); err != nil {
		return 0, err
	}
	under := func(share measure.Share) float64 {
		dry, err := DryFinish(original, share)
		if err != nil { // lower than any mead
			dry = gravity.Lowest
		}
		return float64(finish - dry)
	}
	if under(100) < 0 {
		return 0, fmt.Errorf("the finish %v is lower than a must of %v can reach", finish, original)
	}
	return measure.Root(50, 100, under), nil
}

// UsualTolerance is the alcohol that a yeast is assumed to reach if it has no tolerance, ±2
// % vol (common practice, no source: 14 to 18 % vol).
const UsualTolerance measure.Strength = 16

// StrongMust is the gravity over which a must is hard on any yeast (common practice, no source).
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
// Range: that of DryFinish, tolerance 1 to 25 % vol; outside an error. Uncertainty: 0.005, and ±1.5 % vol for a
// maker's tolerance, more often over than under; ±2 for the assumed one.
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
