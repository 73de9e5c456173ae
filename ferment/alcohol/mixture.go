package alcohol

import (
	"cmp"
	"fmt"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// Liquid is an amount of ethanol in water, without sugar.
type Liquid struct {
	Volume   measure.Volume
	Strength measure.Strength
}

// Mix is two liquids in one vessel. Masses add, water's and ethanol's each, and
// the density of what comes out gives the volume, which is less than the sum:
// half a litre of water and half a litre of ethanol make 0.9646 L.
//
// Range: 0.1 mL to 2000 L, 0 to 100 % vol; outside an error. Source: OIML R 22
// (1975), at 20 °C.
func Mix(a, b Liquid) (Liquid, error) {
	if err := cmp.Or(a.check(), b.check()); err != nil {
		return Liquid{}, err
	}
	massA, ethanolA := a.masses()
	massB, ethanolB := b.masses()
	share := measure.Share(min(100, 100*(ethanolA+ethanolB)/(massA+massB)))
	strength, err := gravity.EthanolByVolume(share)
	if err != nil {
		return Liquid{}, err
	}
	density, err := gravity.EthanolWater(share, 20)
	if err != nil {
		return Liquid{}, err
	}
	return Liquid{measure.Volume((massA + massB) * 1000 / float64(density)), strength}, nil
}

func (l Liquid) check() error {
	return cmp.Or(inVolume(l.Volume), measure.InRange("alcohol", l.Strength, 0, 100, "% vol"))
}

// masses are those of the whole and of its ethanol, in kg.
func (l Liquid) masses() (whole, ethanol float64) {
	share, _ := gravity.EthanolByMass(l.Strength)
	density, _ := gravity.EthanolWater(share, 20)
	whole = float64(l.Volume) * float64(density) / 1000
	return whole, whole * float64(share) / 100
}

// Dose is how much spirit to add to a medium, and what it makes.
type Dose struct {
	Spirit measure.Volume
	Made   Liquid // the mixture by OIML R 22, of a medium without sugar
}

// Spirit is the spirit that brings a medium without alcohol to a strength, so
// that only yeast which bears it grows:
//
//	v = V A/(S − A)
//
// Range: medium 1 mL to 2000 L, A 0.5 to 20 % vol and under S, S up to 100 %
// vol; outside an error. By definition; the exact mixture, given with it, is
// within 0.1 % vol of A up to 10 % vol.
func Spirit(medium measure.Volume, to, spirit measure.Strength) (Dose, error) {
	err := cmp.Or(
		measure.InRange("volume of the medium", medium, 0.001, mostVolume, "L"),
		measure.InRange("alcohol wanted", to, 0.5, 20, "% vol"),
		measure.InRange("alcohol of the spirit", spirit, 0.5, 100, "% vol"),
	)
	if err == nil && to >= spirit {
		err = fmt.Errorf("a spirit of %v cannot bring a medium to %v: it must be stronger, e.g. 40 %%", spirit, to)
	}
	if err != nil {
		return Dose{}, err
	}
	v := medium * measure.Volume(to/(spirit-to))
	made, err := Mix(Liquid{medium, 0}, Liquid{v, spirit})
	return Dose{v, made}, err
}
