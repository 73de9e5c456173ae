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
// one. Mass, solids and alcohol are balanced, each as it stands before and after:
//
//	V G ρ + h = V' G' ρ,  V s + h (1 − w) = V' s',  V A = V' A'
//
// with s and s' the solids of the two gravities once the alcohol is taken out of
// them (gravity.Extract, by ICUMSA SPS-4), solved for the volume. The quick rule
// that forgets the volume of the honey gives 2 to 5 % too little. Range: 0.980 to
// 1.200, 0.01 to 2000 L, 0 to 25 % vol, honey with 12 to 26 % water; outside, and
// for a lower gravity, an error. Uncertainty: 2 %.
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
	part := 1 - float64(water)/100
	before := float64(volume) * solidsBeside(alcohol, from)
	weighs := func(v measure.Volume, g measure.Gravity) float64 { return float64(v) * float64(g) * waterDensity }
	honey := func(after measure.Volume) float64 {
		return (float64(after)*solidsBeside(spread(alcohol, volume, after), to) - before) / part
	}
	// Honey of 26 % water does not triple a must before it reaches 1.200.
	after := measure.Root(volume, 3*volume, func(v measure.Volume) float64 {
		return weighs(v, to) - weighs(volume, from) - honey(v)
	})
	h := measure.Mass(honey(after))
	added := measure.Content(Solids(h, water).Grams() / float64(after))
	return Sweetened{h, after, spread(alcohol, volume, after), added}, nil
}

func spread(s measure.Strength, before, after measure.Volume) measure.Strength {
	return s * measure.Strength(before/after)
}

// solidsBeside is what a litre holds beside its alcohol and water, in kg.
func solidsBeside(alcohol measure.Strength, g measure.Gravity) float64 {
	sugar, _ := gravity.Extract(g, alcohol)
	s, _ := gravity.Solids(sugar)
	return float64(s) / 1000
}

// Lower is the water that brings a must from one gravity to a lower one, and
// the volume then:
//
//	water = m (B/B' − 1),  V' = (m + water)/(G' ρ),  m = V G ρ
//
// with B and B' the °Brix of the two gravities by ICUMSA SPS-4. Range: 1.001 to
// 1.200, 0.01 to 2000 L; outside, and for a higher gravity, an error. It is as
// sure as the gravity is: 1 % at 1.100.
func Lower(volume measure.Volume, from, to measure.Gravity) (water, after measure.Volume, err error) {
	err = cmp.Or(inVolume(volume), measure.InRange("gravity", from, weakest, strongest, ""), measure.InRange("gravity wanted", to, weakest, strongest, ""))
	if err == nil && to > from {
		err = errWrongWay("water", from, to)
	}
	if err != nil {
		return 0, 0, err
	}
	b, _ := gravity.ToBrix(from)
	wanted, _ := gravity.ToBrix(to)
	mass := float64(volume) * float64(from) * waterDensity
	added := mass * float64(b/wanted-1)
	return measure.Volume(added / waterDensity), measure.Volume((mass + added) / (float64(to) * waterDensity)), nil
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
