package gravity

import (
	"cmp"
	"math"

	"cellar/jugkeeper/ferment/measure"
)

// Index is a refractive index at 20 °C for yellow light (589 nm), against air.
type Index float64

// A refractometer for honey goes somewhat further than densities do: honey with
// 12 % of water has 1.5070 and reads as 86.1 °Bx.
const (
	highestReading measure.Brix = 86.5
	highestIndex   Index        = 1.5078
)

// RefractiveIndex returns the refractive index of a solution of sucrose:
//
//	(n² − 1)/(n² + 2) = r(w) ρ(w)
//
// with the density of SPS-4 and a specific refraction r in cm³/g that hardly
// changes with the strength:
//
//	r(w) = 0.2060578 + 0.0007202 w − 0.0018841 w² − 0.0008777 w³
//
// Range 0 to 86.5 °Bx, outside an error. Source: the form is that of Lorentz and
// Lorenz; r is fitted here to the ICUMSA scale of 1974 as OIV-MA-AS2-02 (2012)
// tables it, which it meets to 1e-5, less than 0.01 °Bx.
func RefractiveIndex(b measure.Brix) (Index, error) {
	if err := measure.InRange("sugar", b, 0, highestReading, "°Bx"); err != nil {
		return 0, err
	}
	return index(float64(b) / 100), nil
}

// BrixOf returns what a refractometer shows for a refractive index, the inverse of
// RefractiveIndex. Range 1.3330 to 1.5078, where the driest honeys are, outside
// an error.
func BrixOf(n Index) (measure.Brix, error) {
	if err := measure.InRange("refractive index", n, index(0), highestIndex, ""); err != nil {
		return 0, err
	}
	return measure.Root(0, 90, func(b measure.Brix) float64 { return float64(index(float64(b)/100) - n) }), nil
}

// ethanolRefraction is the specific refraction of ethanol in dilute solution,
// in cm³/g (from memory). That of pure ethanol would put a dry mead 2.7 points
// wrong.
const ethanolRefraction = 0.2775

// IndexOfMixture returns the refractive index of sugar and ethanol in water: their
// refractions add, by mass, and the density turns them into that of the whole,
//
//	(n² − 1)/(n² + 2) = ((1 − a) r(w) + 0.2775 a) ρ
//
// with a the mass fraction of ethanol and w that of sugar in what is not
// ethanol. Range: sugar −5 to 60 °Bx, ethanol 0 to 40 % by mass, gravity 0.980
// to 1.4485; outside an error. Source: Lorentz and Lorenz; for 0.2775 none, from
// memory. Uncertainty: 0.5 °Bx.
func IndexOfMixture(sugar measure.Brix, ethanol measure.Share, g measure.Gravity) (Index, error) {
	if err := cmp.Or(measure.InRange("sugar", sugar, -5, 60, "°Bx"), measure.InRange("alcohol", ethanol, 0, 40, "% by mass"), check(g)); err != nil {
		return 0, err
	}
	a := float64(ethanol) / 100
	w := float64(sugar) / 100 / (1 - a)
	return indexOf(((1-a)*refraction(w) + a*ethanolRefraction) * float64(Density(g)*waterAt20) / 1000), nil
}

func refraction(w float64) float64 {
	return poly(w, []float64{0.20605784, 0.00072020, -0.00188409, -0.00087774})
}

func index(w float64) Index { return indexOf(refraction(w) * float64(sucrose(w, 20)) / 1000) }

func indexOf(l float64) Index { return Index(math.Sqrt((1 + 2*l) / (1 - l))) }
