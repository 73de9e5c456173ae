package honey

import (
	"cmp"
	"math"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// Sweetened is what honey makes of a must or a mead.
type Sweetened struct {
	Honey   measure.Mass
	Volume  measure.Volume
	Alcohol measure.Strength
	Added   measure.Content // sugar and other solids that the honey brought
}

// Raise is the honey that brings a must or a mead from one gravity to a higher
// one, by the balance of mass and volume:
//
//	h = V (G' − G) ρ/(1 − G' ρ (w/ρ + (1 − w) v))
//
// with v the volume of dissolved sugar; volume and alcohol follow. The quick
// rule that forgets the volume of the honey gives 2 to 5 % too little. Range:
// 0.980 to 1.200, 0.01 to 2000 L, 0 to 25 % vol; a lower gravity is an error.
// Uncertainty: 2 %.
func Raise(volume measure.Volume, from, to measure.Gravity, alcohol measure.Strength, water measure.Share) (Sweetened, error) {
	err := cmp.Or(
		inVolume(volume), inHoney(water),
		measure.InRange("gravity", from, gravity.Lowest, strongest, ""), measure.InRange("gravity wanted", to, gravity.Lowest, strongest, ""),
		measure.InRange("alcohol", alcohol, 0, 25, "% vol"),
	)
	if err == nil && to < from {
		err = errWrongWay("honey", from, to)
	}
	if err != nil {
		return Sweetened{}, err
	}
	perKilogram := float64(Takes(1, water))
	h := measure.Mass(float64(volume) * float64(to-from) * waterDensity / (1 - float64(to)*waterDensity*perKilogram))
	after := volume + Takes(h, water)
	return Sweetened{h, after, alcohol * measure.Strength(volume/after), measure.Content(Solids(h, water).Grams() / float64(after))}, nil
}

// Lower is the water that brings a must from one gravity to a lower one, and
// the volume then:
//
//	water = V (G − G')/(G' − 1)
//
// Range: 1.001 to 1.200, 0.01 to 2000 L; a higher gravity is an error. By
// definition; contraction is under 0.1 %.
func Lower(volume measure.Volume, from, to measure.Gravity) (water, after measure.Volume, err error) {
	err = cmp.Or(inVolume(volume), measure.InRange("gravity", from, weakest, strongest, ""), measure.InRange("gravity wanted", to, weakest, strongest, ""))
	if err == nil && to > from {
		err = errWrongWay("water", from, to)
	}
	if err != nil {
		return 0, 0, err
	}
	water = volume * measure.Volume((from-to)/(to-1))
	return water, volume + water, nil
}

// Mead is an amount of mead, must or water.
type Mead struct {
	Volume  measure.Volume
	Gravity measure.Gravity
	Alcohol measure.Strength
}

// Blend is what several meads make together: volumes add up, gravity and
// alcohol are means by volume. Range: each 0.001 to 2000 L, 0.980 to 1.200, 0 to
// 25 % vol; outside an error. Uncertainty: 0.2 % of the volume, from contraction.
func Blend(parts ...Mead) (Mead, error) {
	var sum Mead
	for _, p := range parts {
		err := cmp.Or(
			measure.InRange("volume", p.Volume, 0.001, 2000, "L"),
			measure.InRange("gravity", p.Gravity, gravity.Lowest, strongest, ""),
			measure.InRange("alcohol", p.Alcohol, 0, 25, "% vol"),
		)
		if err != nil {
			return Mead{}, err
		}
		sum.Volume += p.Volume
		sum.Gravity += p.Gravity * measure.Gravity(p.Volume)
		sum.Alcohol += p.Alcohol * measure.Strength(p.Volume)
	}
	if err := inVolume(sum.Volume); err != nil {
		return Mead{}, err
	}
	return Mead{sum.Volume, sum.Gravity / measure.Gravity(sum.Volume), sum.Alcohol / measure.Strength(sum.Volume)}, nil
}

// Parts are the parts of two strengths that make a third between them, by the
// rectangle (Pearson's square):
//
//	a : b = |to − B| : |A − to|
//
// scaled so that the smaller is 1. The target must lie between the two, and
// they must differ. Exact.
func Parts(a, b, to measure.Strength) (ofA, ofB float64, err error) {
	low, high := min(a, b), max(a, b)
	err = cmp.Or(
		measure.InRange("strength", a, 0, 100, "% vol"), measure.InRange("strength", b, 0, 100, "% vol"),
		measure.InRange("strength wanted", to, low, high, "% vol"),
	)
	if err == nil {
		err = measure.InRange("difference of the two", high-low, 0.1, 100, "% vol")
	}
	if err != nil {
		return 0, 0, err
	}
	ofA, ofB = math.Abs(float64(to-b)), math.Abs(float64(a-to))
	if least := min(ofA, ofB); least > 0 {
		ofA, ofB = ofA/least, ofB/least
	} else {
		ofA, ofB = ofA/float64(high-low), ofB/float64(high-low)
	}
	return ofA, ofB, nil
}
