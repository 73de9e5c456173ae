package honey

import (
	"cmp"
	"fmt"
	"math"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// Correct returns the honey that raises a must to another gravity, or the water that lowers it, and the volume then:
//
//	honey = m (B' − B)/(100 − w − B'),  water = m (B/B' − 1),  V' = (m + added)/(G' ρ),  m = V G ρ
//
// with B and B' the °Brix of the two gravities by ICUMSA SPS-4. Range: 1.001 to 1.200, 0.01 to 2000 L, honey with 12
// to 26 % water; outside an error. Uncertainty: 1 %: that of the water in the honey, or of the gravity.
func Correct(volume measure.Volume, from, to measure.Gravity, water measure.Share) (Recipe, error) {
	err := cmp.Or(inVolume(volume), inHoney(water), measure.InRange("gravity", from, weakest, strongest, ""), measure.InRange("gravity wanted", to, weakest, strongest, ""))
	if err != nil {
		return Recipe{}, err
	}
	b, _ := gravity.ToBrix(from)
	wanted, _ := gravity.ToBrix(to)
	mass := float64(volume) * float64(from) * waterDensity
	var r Recipe
	if to >= from {
		r.Honey = measure.Mass(mass * float64(wanted-b) / (100 - float64(water) - float64(wanted)))
	} else {
		r.Water = measure.Volume(mass * float64(b/wanted-1) / waterDensity)
	}
	r.Gravity, r.Volume = to, measure.Volume((mass+float64(r.Honey)+float64(r.Water)*waterDensity)/(float64(to)*waterDensity))
	return r, nil
}

// Mead is a volume of mead, must or water, or of what dissolves in it.
type Mead struct {
	Volume  measure.Volume
	Gravity measure.Gravity
	Alcohol measure.Strength
}

// Dissolved returns honey as an ingredient of a mead, with the volume that it adds. Range:
// above 0 to 1000 kg with 12 to 26 % water; outside an error.
func Dissolved(honey measure.Mass, water measure.Share) (Mead, error) {
	if err := cmp.Or(inHoney(water), measure.InRange("honey", honey, 1e-6, 1000, "kg")); err != nil {
		return Mead{}, err
	}
	takes := VolumeIn(honey, water)
	return Mead{Volume: takes, Gravity: measure.Gravity(float64(honey) / (float64(takes) * waterDensity))}, nil
}

// Sweeten returns the honey that raises a mead to a gravity, by mass and volume:
//
//	h = V (G' − G)/(1/ρ − G' t)
//
// with t the volume that a kilogram of honey adds (Takes; 27 CFR 24.181 for the sugar). Blend of the mead and that
// honey has the gravity. Range: 0.980 to 1.200, 0.01 to 2000 L, 0 to 25 % vol, honey with 12 to 26 % water; outside,
// and for a gravity that is not higher, an error. Uncertainty: 2 %.
func Sweeten(m Mead, to measure.Gravity, water measure.Share) (measure.Mass, error) {
	err := cmp.Or(
		inVolume(m.Volume), inHoney(water),
		measure.InRange("gravity", m.Gravity, gravity.Lowest, strongest, ""), measure.InRange("gravity wanted", to, gravity.Lowest, strongest, ""),
		measure.InRange("alcohol", m.Alcohol, 0, 25, "% vol"),
	)
	if err == nil && to <= m.Gravity {
		err = fmt.Errorf("honey cannot bring %s to %s", m.Gravity.Places(4), to.Places(4))
	}
	if err != nil {
		return 0, err
	}
	return measure.Mass(float64(m.Volume) * float64(to-m.Gravity) / (1/waterDensity - float64(to)*float64(VolumeIn(1, water)))), nil
}

// SweetenBy returns the honey for a content of its solids in the sweetened mead, in g/L: h
// = c V/((1 − w) − c t). Range: as Sweeten, to 400 g/L.
func SweetenBy(m Mead, content measure.Content, water measure.Share) (measure.Mass, error) {
	if err := cmp.Or(inVolume(m.Volume), inHoney(water), measure.InRange("sugar wanted", content, 0.01, 400, "g/L")); err != nil {
		return 0, err
	}
	kilos := float64(content) / 1000
	return measure.Mass(kilos * float64(m.Volume) / (float64(Solids(1, water)) - kilos*float64(VolumeIn(1, water)))), nil
}

// Blend returns the mixture of several meads: volumes add up, gravity and alcohol are means
// by volume. Range: each 0.1 mL to 2000 L, 0.980 to 1.200 (Dissolved honey to 1.6), 0 to 25
// % vol; outside an error. Uncertainty: 0.2 % of the volume, from contraction.
func Blend(parts ...Mead) (Mead, error) {
	var sum Mead
	for _, p := range parts {
		err := cmp.Or(
			measure.InRange("volume", p.Volume, 0.0001, 2000, "L"),
			measure.InRange("gravity", p.Gravity, gravity.Lowest, 1.6, ""),
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

// Parts returns in what parts liquids of two strengths make a third strength, by Pearson's square:
//
//	a : b = |to − B| : |A − to|
//
// scaled so that the smaller is 1. The target must be between the two, and they must differ. Exact.
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
