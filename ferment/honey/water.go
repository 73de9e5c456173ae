// Package honey is about honey and what is made with it: its water and
// density, musts for a gravity and a volume, sweetening, and blends.
package honey

import (
	"math"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// Typical is the water in honey where nobody measured it: the mean of 490
// American honeys (White et al. 1962, USDA Technical Bulletin 1261), which ran
// from 13.4 to 22.9 %.
const Typical measure.Share = 17.2

// The water of honey that the refractometer tables cover, and that honey can
// have at all.
const (
	driest  measure.Share = 12
	wettest measure.Share = 26
)

// perKelvin is how much the refractive index of honey falls for a degree more
// (IHC Harmonised Methods 2009, from memory).
const perKelvin = 0.00023

// Water is the water in honey by its refractive index:
//
//	w = (−0.26810 − log10(n − 1))/0.002243
//
// in % by mass, with n brought to 20 °C by 0.00023 a kelvin. Books print the
// constant as 1.73190, which is a logarithm in bar notation and means −0.26810.
// Range: 12 to 26 % water, read at 10 to 40 °C; outside an error. Source: Wedmore
// 1955, as in AOAC 969.38 and the IHC methods of 2009. Uncertainty: 0.1 %.
func Water(n gravity.Index, at measure.Temperature) (measure.Share, error) {
	if err := measure.InRange("temperature of the refractometer", at, 10, 40, "°C"); err != nil {
		return 0, err
	}
	n20 := float64(n) + perKelvin*float64(at-20)
	if err := measure.InRange("refractive index of honey", n20, 1.46, 1.52, ""); err != nil {
		return 0, err
	}
	w := measure.Share((-0.26810 - math.Log10(n20-1)) / 0.002243)
	if err := inHoney(w); err != nil {
		return 0, err
	}
	return w, nil
}

// Index is the refractive index of honey at 20 °C by its water: Water the
// other way round.
func Index(water measure.Share) (gravity.Index, error) {
	if err := inHoney(water); err != nil {
		return 0, err
	}
	return gravity.Index(1 + math.Pow(10, -0.26810-0.002243*float64(water))), nil
}

// WaterByBrix is the water in honey by a sugar refractometer that reaches so
// far. Its scale is that of sucrose, and honey of the same refraction is a
// little wetter than 100 less the reading: the reading is turned into a
// refractive index, and that into water. Range as Water. Uncertainty: 0.2 %.
func WaterByBrix(reads measure.Brix) (measure.Share, error) {
	n, err := gravity.RefractiveIndex(reads)
	if err != nil {
		return 0, err
	}
	return Water(n, 20)
}

// BrixOf is what a sugar refractometer shows of honey with so much water.
func BrixOf(water measure.Share) (measure.Brix, error) {
	n, err := Index(water)
	if err != nil {
		return 0, err
	}
	return gravity.BrixOf(n)
}
