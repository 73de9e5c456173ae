package gravity

import (
	"cmp"

	"cellar/jugkeeper/ferment/measure"
)

// glassExpansion is γ, the cubic expansion of soda-lime glass per K: the value
// of OIML R 22 for alcoholometers, of ISO 649-1 from memory.
const glassExpansion = 25e-6

// Hydrometer is an instrument that floats at a specific gravity.
type Hydrometer struct {
	Calibrated measure.Temperature // 15, 15.56 or 20 °C, printed on its scale
	Error      float64             // what it reads in water at that temperature, less 1
}

// Correct is the specific gravity at 20/20 °C of a liquid that was read at
// another temperature. A hydrometer made for t₀ that shows R floats, at t, in
// the density
//
//	ρ(t) = R ρ_water(t₀) (1 − γ (t − t₀)),   γ = 25e-6 per K
//
// and the liquid that has this density at t is followed to 20 °C along its own
// expansion: a solution of sugar by ICUMSA SPS-4 at its strength, to which
// alcohol adds what it adds to water by OIML R 22 (densities add as Tabarié's
// rule has it). The error in water is taken off the reading first.
//
// Range: reading 0.960 to 1.4485, sample 0 to 40 °C, alcohol 0 to 25 % vol,
// instrument made for 10 to 30 °C and off by 0.050 at most, result 0.980 to
// 1.4485; outside an error. Source: the derivation of saccharometer tables as in
// NBS Circular C440 (1942), whose rows it meets to 0.01 °Bx (from memory); glass
// by OIML R 22 (1975). Uncertainty: 0.001, 0.002 with gas in the sample.
func (h Hydrometer) Correct(reads measure.Gravity, sample measure.Temperature, strength measure.Strength) (measure.Gravity, error) {
	if err := h.check(reads, sample, strength); err != nil {
		return 0, err
	}
	t, t0 := float64(sample), float64(h.Calibrated)
	floatsIn := (Density(reads) - Density(h.Error)) * water(t0) * Density(1-glassExpansion*(t-t0))
	p := ethanolShare(strength)
	sugar := strengthOf(floatsIn-lightness(p, t), t)
	return checked(specific(sucrose(float64(sugar)/100, 20) + lightness(p, 20)))
}

// lightness is what ethanol adds to the density of water; less than nothing.
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
