// Package gravity has the density of water, of sugar solutions and of ethanol in water, the
// scales for it, and the corrections of hydrometer and refractometer.
//
// A specific gravity is the density of a liquid at 20 °C over that of water at 20 °C, in vacuo.
package gravity

import (
	"cmp"

	"cellar/jugkeeper/ferment/measure"
)

// Density is in kg/m³, which is g/L.
type Density float64

// The range in which gravity and sugar can be converted.
const (
	Lowest      measure.Gravity = 0.980
	HighestBrix measure.Brix    = 85
)

// Highest is the gravity of the strongest sugar solution, near 1.4485.
var Highest = specific(sucrose(float64(HighestBrix)/100, 20))

// lowestBrix is the sugar that corresponds to Lowest; it is below 0.
var lowestBrix = brixOf(Lowest)

// waterAt20 is the density of water at 20 °C, by which specific gravity is defined.
var waterAt20 = water(20)

// DensityOf returns the density at 20 °C of a liquid of a specific gravity:
//
//	ρ = SG × 998.203 kg/m³
//
// Range 0.980 to 1.4485, outside an error. The density of water is that of
// ICUMSA SPS-4 (1998); published ones differ by 0.004 kg/m³.
func DensityOf(g measure.Gravity) (Density, error) {
	if err := check(g); err != nil {
		return 0, err
	}
	return Density(g) * waterAt20, nil
}

func specific(d Density) measure.Gravity { return measure.Gravity(d / waterAt20) }

func check(g measure.Gravity) error {
	return measure.InRange("gravity", g, Lowest, Highest, "")
}

func checked(g measure.Gravity) (measure.Gravity, error) {
	if err := check(g); err != nil {
		return 0, err
	}
	return g, nil
}

// poly returns c[0] + c[1] x + c[2] x² + …
func poly(x float64, c []float64) float64 {
	sum := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		sum = sum*x + c[i]
	}
	return sum
}

// Water returns the density of air-free water at one atmosphere:
//
//	ρ = (999.83952 + 16.952577 t − 7.9905127e-3 t² − 46.241757e-6 t³
//	    + 105.84601e-9 t⁴ − 281.03006e-12 t⁵) / (1 + 16.887236e-3 t)
//
// in kg/m³, t in °C. Range 0 to 40 °C, outside an error. Source: Bettin and Spieweck 1990, the water of ICUMSA SPS-4
// (1998). Kell 1975, Tanaka 2001 and IAPWS-95 differ from it by at most 0.005 kg/m³.
func Water(t measure.Temperature) (Density, error) {
	if err := measure.InRange("temperature of the water", t, 0, 40, "°C"); err != nil {
		return 0, err
	}
	return water(float64(t)), nil
}

// water is Water for any temperature.
func water(t float64) Density {
	terms := []float64{999.83952, 16.952577, -7.9905127e-3, -46.241757e-6, 105.84601e-9, -281.03006e-12}
	return Density(poly(t, terms) / (1 + 16.887236e-3*t))
}

// Hydrometer is an instrument that floats at a specific gravity.
type Hydrometer struct {
	Calibrated measure.Temperature // 15, 15.56 or 20 °C, printed on its scale
	Error      float64             // its reading in water at that temperature, less 1
}

// Correct returns the specific gravity at 20/20 °C of a liquid that was read at another temperature. A hydrometer
// made for t₀ that shows R floats, at t, in the density
//
//	ρ(t) = R ρ_water(t₀) (1 − γ (t − t₀)),   γ = 25e-6 per K
//
// That density is then converted to 20 °C: a sugar solution expands as ICUMSA SPS-4 has it
// for its strength, and the effect of alcohol is that in water, by OIML R 22 (densities
// add, Tabarié's rule). The hydrometer's error in water is subtracted first.
//
// Range: reading 0.960 to 1.4485, sample 0 to 40 °C, alcohol 0 to 25 % vol, hydrometer calibrated at 10 to 30 °C with
// an error of at most 0.050, result 0.980 to 1.4485; outside an error. Source: the derivation of saccharometer tables
// in NBS Circular C440 (1942), whose rows it reproduces to 0.01 °Bx (from memory); glass by OIML R 22 (1975), of ISO
// 649-1 from memory. Uncertainty: 0.001, 0.002 with gas in the sample.
func (h Hydrometer) Correct(reads measure.Gravity, sample measure.Temperature, strength measure.Strength) (measure.Gravity, error) {
	if err := h.check(reads, sample, strength); err != nil {
		return 0, err
	}
	t, t0 := float64(sample), float64(h.Calibrated)
	floatsIn := (Density(reads) - Density(h.Error)) * water(t0) * Density(1-25e-6*(t-t0))
	p := ethanolShare(strength)
	sugar := strengthOf(floatsIn-lightness(p, t), t)
	return checked(specific(sucrose(float64(sugar)/100, 20) + lightness(p, 20)))
}

// lightness returns by how much ethanol changes the density of water; it is negative.
func lightness(p, t float64) Density { return ethanolWater(p, t) - ethanolWater(0, t) }

func (h Hydrometer) check(reads measure.Gravity, sample measure.Temperature, strength measure.Strength) error {
	return cmp.Or(
		measure.InRange("hydrometer reading", reads, 0.960, Highest, ""),
		measure.InRange("temperature of the sample", sample, 0, 40, "°C"),
		measure.InRange("alcohol", strength, 0, 25, "% vol"),
		measure.InRange("temperature of the hydrometer's scale", h.Calibrated, 10, 30, "°C"),
		measure.InRange("error of the hydrometer in water", h.Error, -0.050, 0.050, ""),
	)
}
