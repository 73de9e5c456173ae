package gravity

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

// Oechsle is by how many grams a litre is heavier than a kilogram: thousandths of specific gravity over 1.
type Oechsle float64

// Baume is degrees Baumé by the modulus 145.
type Baume float64

// Solids returns the mass of dissolved sugar in a litre:
//
//	s = °Bx/100 × SG × 998.203 g/L
//
// with the sugar of ToBrix. Range 0.980 to 1.4485, outside an error; below 1.000, where
// alcohol hides the sugar, it is negative. The density is that of ICUMSA SPS-4 (1998).
func Solids(g measure.Gravity) (measure.Content, error) {
	b, err := ToBrix(g)
	if err != nil {
		return 0, err
	}
	return solids(b), nil
}

// FromSolids returns the specific gravity for a mass of dissolved sugar in a litre, the
// inverse of Solids. Range 0 to 1200 g/L, outside an error.
func FromSolids(c measure.Content) (measure.Gravity, error) {
	if err := measure.InRange("dissolved sugar", c, 0, 1200, "g/L"); err != nil {
		return 0, err
	}
	b := measure.Root(0, HighestBrix, func(b measure.Brix) float64 { return float64(solids(b) - c) })
	return FromBrix(b)
}

// solids returns grams of sugar in a litre.
func solids(b measure.Brix) measure.Content {
	w := float64(b) / 100
	return measure.Content(w * float64(sucrose(w, 20)))
}

// ToOechsle converts a gravity to °Oe: (SG − 1) × 1000, by definition. Range 0.980 to 1.4485, outside an error.
func ToOechsle(g measure.Gravity) (Oechsle, error) {
	if err := check(g); err != nil {
		return 0, err
	}
	return Oechsle(g.Points()), nil
}

// FromOechsle converts degrees Oechsle to a gravity: 1 + °Oe/1000. Range as ToOechsle.
func FromOechsle(o Oechsle) (measure.Gravity, error) {
	return checked(1 + measure.Gravity(o)/1000)
}

// ToBaume converts a gravity to °Bé: 145 − 145/SG, by the definition of the modulus 145, the usual one of trade
// hydrometers; the older German modulus is 146.78. Range 0.980 to 1.4485, outside an error.
func ToBaume(g measure.Gravity) (Baume, error) {
	if err := check(g); err != nil {
		return 0, err
	}
	return Baume(145 - 145/g), nil
}

// FromBaume converts degrees Baumé to a gravity: 145/(145 − °Bé). Range as ToBaume.
func FromBaume(b Baume) (measure.Gravity, error) {
	return checked(145 / (145 - measure.Gravity(b)))
}

// Break returns the gravity at which a fraction k of the expected fall is done:
//
//	break = OG − k (OG − finish)
//
// Range: both gravities 0.980 to 1.4485, the finish not over the original, k from 0 to 1;
// outside an error. By definition; if sugar were counted instead of gravity, the breaks
// would be up to 0.0003 lower. Uncertainty: that of the finish.
func Break(original, finish measure.Gravity, fraction float64) (measure.Gravity, error) {
	err := cmp.Or(
		measure.InRange("original gravity", original, Lowest, Highest, ""),
		measure.InRange("expected finish", finish, Lowest, Highest, ""),
		measure.InRange("fraction of the fall", fraction, 0, 1, ""),
	)
	if err != nil {
		return 0, err
	}
	if finish > original {
		return 0, fmt.Errorf("the finish %v is above the original gravity %v", finish, original)
	}
	return original - measure.Gravity(fraction)*(original-finish), nil
}

// Parse reads a gravity on any scale: 1.084, 20.2bx, 20.2p, 84oe, 11.2be, or 218g/L of
// solids. Range and errors are those of the scale.
func Parse(text string) (measure.Given[measure.Gravity], error) {
	s := strings.ToLower(strings.TrimSpace(text))
	for _, scale := range scales {
		for _, mark := range scale.marks {
			if number, is := strings.CutSuffix(s, mark); is {
				n, err := measure.ParseNumber(strings.TrimSpace(number))
				if err != nil {
					return measure.Given[measure.Gravity]{}, err
				}
				g, err := scale.gravity(n)
				return measure.Give(g, text), err
			}
		}
	}
	return measure.ParseGravity(text)
}

var scales = []struct {
	marks   []string
	gravity func(float64) (measure.Gravity, error)
}{
	{[]string{"°bx", "bx"}, func(n float64) (measure.Gravity, error) { return FromBrix(measure.Brix(n)) }},
	{[]string{"°oe", "oe"}, func(n float64) (measure.Gravity, error) { return FromOechsle(Oechsle(n)) }},
	{[]string{"°be", "°bé", "be", "bé"}, func(n float64) (measure.Gravity, error) { return FromBaume(Baume(n)) }},
	{[]string{"g/l"}, func(n float64) (measure.Gravity, error) { return FromSolids(measure.Content(n)) }},
	{[]string{"°p", "p"}, func(n float64) (measure.Gravity, error) { return FromBrix(measure.Brix(n)) }},
}

// Index is a refractive index at 20 °C for yellow light (589 nm), against air.
type Index float64

// The range of a refractometer for honey is wider than that of densities: honey with 12 %
// water has an index of 1.5070 and reads 86.1 °Bx.
const (
	highestReading measure.Brix = 86.5
	highestIndex   Index        = 1.5078
)

// RefractiveIndex returns the refractive index of a solution of sucrose:
//
//	(n² − 1)/(n² + 2) = r(w) ρ(w)
//
// with the density of SPS-4 and a specific refraction r in cm³/g that hardly depends on the strength:
//
//	r(w) = 0.2060578 + 0.0007202 w − 0.0018841 w² − 0.0008777 w³
//
// Range 0 to 86.5 °Bx, outside an error. Source: the equation is that of Lorentz and Lorenz; r is fitted to the
// ICUMSA scale of 1974 as in OIV-MA-AS2-02 (2012), to 1e-5, which is less than 0.01 °Bx.
func RefractiveIndex(b measure.Brix) (Index, error) {
	if err := measure.InRange("sugar", b, 0, highestReading, "°Bx"); err != nil {
		return 0, err
	}
	return index(float64(b) / 100), nil
}

// BrixOf returns what a refractometer shows for a refractive index, the inverse of RefractiveIndex. Range 1.3330 to
// 1.5078, where the driest honeys are, outside an error.
func BrixOf(n Index) (measure.Brix, error) {
	if err := measure.InRange("refractive index", n, index(0), highestIndex, ""); err != nil {
		return 0, err
	}
	return measure.Root(0, 90, func(b measure.Brix) float64 { return float64(index(float64(b)/100) - n) }), nil
}

// ethanolRefraction is the specific refraction of ethanol in dilute solution, in cm³/g
// (from memory). With that of pure ethanol a dry mead would be 2.7 points off.
const ethanolRefraction = 0.2775

// IndexOfMixture returns the refractive index of sugar and ethanol in water: their
// refractions add up by mass, and the density gives the index of the whole,
//
//	(n² − 1)/(n² + 2) = ((1 − a) r(w) + 0.2775 a) ρ
//
// with a the mass fraction of ethanol and w that of sugar in the rest. Range: sugar −5 to
// 60 °Bx, ethanol 0 to 40 % by mass, gravity 0.980 to 1.4485; outside an error. Source:
// Lorentz and Lorenz; 0.2775 is from memory. Uncertainty: 0.5 °Bx.
func IndexOfMixture(sugar measure.Brix, ethanol measure.Share, g measure.Gravity) (Index, error) {
	if err := cmp.Or(measure.InRange("sugar", sugar, -5, 60, "°Bx"), measure.InRange("alcohol", ethanol, 0, 40, "% by mass"), check(g)); err != nil {
		return 0, err
	}
	a := float64(ethanol) / 100
	w := float64(sugar) / 100 / (1 - a)
	return indexOf(((1-a)*refraction(w) + a*ethanolRefraction) * float64(Density(g)*waterAt20) / 1000), nil
}

// refraction returns the specific refraction of a sucrose solution, by Lorentz and Lorenz, for its share of sugar by
// mass.
func refraction(w float64) float64 {
	return poly(w, []float64{0.20605784, 0.00072020, -0.00188409, -0.00087774})
}

// index returns the refractive index of a sucrose solution at 20 °C, for its share of sugar by mass.
func index(w float64) Index { return indexOf(refraction(w) * float64(sucrose(w, 20)) / 1000) }

func indexOf(l float64) Index { return Index(math.Sqrt((1 + 2*l) / (1 - l))) }
