// Package gravity is about density: of water, of sugar solutions, of ethanol
// in water; the scales on which it is read; and the hydrometer that reads it.
//
// A specific gravity is the density of a liquid at 20 °C over that of water at
// 20 °C, in vacuo.
package gravity

import "cellar/jugkeeper/ferment/measure"

// Density is in kg/m³, which is g/L.
type Density float64

// The strengths between which gravity and sugar are turned into each other.
const (
	Lowest      measure.Gravity = 0.980
	HighestBrix measure.Brix    = 85
)

// Highest is the gravity of the strongest sugar solution, near 1.4485.
var Highest = specific(sucrose(float64(HighestBrix)/100, 20))

// lowestBrix is the sugar, less than none, that stands for the lowest gravity.
var lowestBrix = brixOf(Lowest)

// waterAt20 is the density to which specific gravities refer.
var waterAt20 = water(20)

// Of is the density at 20 °C of a liquid of a specific gravity:
//
//	ρ = SG × 998.203 kg/m³
//
// Range 0.980 to 1.4485, outside an error. The density of water is that of
// ICUMSA SPS-4 (1998); published ones differ by 0.004 kg/m³.
func Of(g measure.Gravity) (Density, error) {
	if err := check(g); err != nil {
		return 0, err
	}
	return Density(g) * waterAt20, nil
}

func specific(d Density) measure.Gravity { return measure.Gravity(d / waterAt20) }

func check(g measure.Gravity) error {
	return measure.InRange("gravity", g, Lowest, Highest, "")
}

// checked is the gravity if it lies in the range.
func checked(g measure.Gravity) (measure.Gravity, error) {
	if err := check(g); err != nil {
		return 0, err
	}
	return g, nil
}

// poly is c[0] + c[1] x + c[2] x² + …
func poly(x float64, c []float64) float64 {
	sum := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		sum = sum*x + c[i]
	}
	return sum
}
