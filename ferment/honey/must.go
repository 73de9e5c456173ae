package honey

import (
	"cmp"
	"fmt"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// waterDensity is that of water at 20 °C in kg/L, by ICUMSA SPS-4 (1998).
const waterDensity = 0.998203

// The gravities of musts for which a recipe is calculated.
const (
	weakest   measure.Gravity = 1.001
	strongest measure.Gravity = 1.200
)

// Recipe is honey and water, and the must that they make.
type Recipe struct {
	Honey   measure.Mass
	Water   measure.Volume
	Gravity measure.Gravity
	Volume  measure.Volume
}

// Solids returns the mass of honey without its water.
func Solids(honey measure.Mass, water measure.Share) measure.Mass {
	return honey * measure.Mass(1-float64(water)/100)
}

// VolumeIn returns the volume in L that honey adds to a must: its water, and its dissolved
// solids. A kilogram with 17.2 % water adds 0.684 L, although it fills 0.705 L in the jar.
func VolumeIn(honey measure.Mass, water measure.Share) measure.Volume {
	solids := Solids(honey, water)
	return Juice(solids, honey-solids)
}

func inHoney(water measure.Share) error { return measure.InRange("water in honey", water, 12, 26, "%") }

func inVolume(v measure.Volume) error { return measure.InRange("volume", v, 0.01, 2000, "L") }

// ForGravity returns the honey and the water for a must of given gravity and volume:
//
//	honey = V s/(1 − w),  water = (V G ρ − honey)/ρ
//
// with s the solids of the gravity by ICUMSA SPS-4. The water in the honey is counted. Range: 1.001 to 1.200, 0.01 to
// 2000 L, honey with 12 to 26 % water; outside an error. Uncertainty: 1 %: that of the water in the honey.
func ForGravity(g measure.Gravity, volume measure.Volume, water measure.Share) (Recipe, error) {
	err := cmp.Or(measure.InRange("gravity of the must", g, weakest, strongest, ""), inVolume(volume), inHoney(water))
	if err != nil {
		return Recipe{}, err
	}
	s, err := gravity.Solids(g)
	if err != nil {
		return Recipe{}, err
	}
	honey := measure.Grams(float64(s) * float64(volume) / (1 - float64(water)/100))
	total := float64(volume) * float64(g) * waterDensity
	return Recipe{honey, measure.Volume((total - float64(honey)) / waterDensity), g, volume}, nil
}

// FromMass returns the must of a mass of honey made up to a volume. Range, source as ForGravity.
func FromMass(honey measure.Mass, volume measure.Volume, water measure.Share) (Recipe, error) {
	if err := cmp.Or(inHoney(water), inVolume(volume)); err != nil {
		return Recipe{}, err
	}
	return Made(volume, 0, Portion{honey, water})
}

// Made returns the must that parts of honey and fruit juice make when they are made up to a
// volume; if volume is 0, when they are mixed with so much water:
//
//	s = Σ m (1 − w)/V,  or  °Bx = 100 Σ m (1 − w)/(Σ m + water),  V = (Σ m + water)/(G ρ)
//
// Range: 1.001 to 1.200, 0.01 to 2000 L, each part 1 g to 1000 kg; outside, and
// where they are more than the volume, an error. Source as ForGravity.
func Made(volume, into measure.Volume, parts ...Portion) (Recipe, error) {
	all := Together(parts...)
	err := measure.InRange("mass of honey", all.Mass, 0.001, 1000, "kg")
	if volume > 0 {
		err = cmp.Or(err, inVolume(volume))
	} else {
		err = cmp.Or(err, inVolume(into))
	}
	if err != nil {
		return Recipe{}, err
	}
	var g measure.Gravity
	solids, total := Solids(all.Mass, all.Water), float64(all.Mass)+float64(into)*waterDensity
	if volume > 0 {
		g, err = gravity.FromSolids(measure.Content(solids.Grams() / float64(volume)))
		total = float64(volume) * float64(g) * waterDensity
	} else {
		g, err = gravity.FromBrix(measure.Brix(100 * float64(solids) / total))
	}
	if err = cmp.Or(err, measure.InRange("gravity of the must", g, weakest, strongest, "")); err != nil {
		return Recipe{}, err
	}
	if total < float64(all.Mass) {
		return Recipe{}, fmt.Errorf("honey and fruit are more than the %s of the must", volume)
	}
	return Recipe{all.Mass, measure.Volume((total - float64(all.Mass)) / waterDensity), g, measure.Volume(total / (float64(g) * waterDensity))}, nil
}

// Makes returns the most must of a gravity that a mass of honey makes, and the water for it, the inverse of ForGravity:
//
//	V = honey (1 − w)/s
//
// Range and source as ForGravity. A kilogram of 17.2 % water makes 4.0 L at 1.080.
func Makes(honey measure.Mass, water measure.Share, g measure.Gravity) (Recipe, error) {
	err := cmp.Or(measure.InRange("mass of honey", honey, 0.001, 1000, "kg"), inHoney(water), measure.InRange("gravity of the must", g, weakest, strongest, ""))
	if err != nil {
		return Recipe{}, err
	}
	s, err := gravity.Solids(g)
	if err != nil {
		return Recipe{}, err
	}
	return ForGravity(g, measure.Volume(Solids(honey, water).Grams()/float64(s)), water)
}

// IntoWater returns the must of honey in a given volume of water. Range, source as ForGravity.
func IntoWater(honey measure.Mass, into measure.Volume, water measure.Share) (Recipe, error) {
	if err := cmp.Or(inHoney(water), inVolume(into)); err != nil {
		return Recipe{}, err
	}
	return Made(0, into, Portion{honey, water})
}

// Juice returns the volume that the sugar and water of fruit add to a must.
func Juice(sugar, water measure.Mass) measure.Volume {
	return measure.Volume(float64(water)/waterDensity + float64(sugar)*gravity.SugarVolume)
}

// Portion is honey of one lot in a must.
type Portion struct {
	Mass  measure.Mass
	Water measure.Share
}

// Together returns honey of several lots as one, with the mean of their water by mass.
func Together(ps ...Portion) Portion {
	var all Portion
	var water float64
	for _, p := range ps {
		all.Mass += p.Mass
		water += float64(p.Mass) * float64(p.Water)
	}
	if all.Mass > 0 {
		all.Water = measure.Share(water / float64(all.Mass))
	}
	return all
}

// MoreHoneyFor returns how much more honey a must of given gravity and volume needs, next to that of other lots:
//
//	honey = (V s − Σ others (1 − w))/(1 − w)
//
// Range and source as ForGravity; it is an error if the others alone exceed the gravity.
func MoreHoneyFor(g measure.Gravity, volume measure.Volume, water measure.Share, others ...Portion) (measure.Mass, error) {
	alone, err := ForGravity(g, volume, water)
	if err != nil {
		return 0, err
	}
	solids := Solids(alone.Honey, water)
	for _, p := range others {
		solids -= Solids(p.Mass, p.Water)
	}
	if solids < 0 {
		return 0, fmt.Errorf("the other honey alone brings more than %s", g)
	}
	return solids / measure.Mass(1-float64(water)/100), nil
}
