package gravity

import (
	"cmp"
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

// Oechsle is how much heavier than a kilogram a litre is, in grams: thousandths
// of specific gravity over 1.
type Oechsle float64

// Baume is the degree of heaviness by the modulus 145.
type Baume float64

// Solids returns the mass of dissolved sugar in a litre:
//
//	s = °Bx/100 × SG × 998.203 g/L
//
// with the sugar of ToBrix. Range 0.980 to 1.4485, outside an error; below
// 1.000, where alcohol hides the sugar, it is less than nothing. The density is
// that of ICUMSA SPS-4 (1998).
func Solids(g measure.Gravity) (measure.Content, error) {
	b, err := ToBrix(g)
	if err != nil {
		return 0, err
	}
	return solids(b), nil
}

// FromSolids returns the specific gravity of a litre with a mass of dissolved
// sugar, the inverse of Solids. Range 0 to 1200 g/L, outside an error.
func FromSolids(c measure.Content) (measure.Gravity, error) {
	if err := measure.InRange("dissolved sugar", c, 0, 1200, "g/L"); err != nil {
		return 0, err
	}
	b := measure.Root(0, HighestBrix, func(b measure.Brix) float64 { return float64(solids(b) - c) })
	return FromBrix(b)
}

func solids(b measure.Brix) measure.Content {
	w := float64(b) / 100
	return measure.Content(w * float64(sucrose(w, 20)))
}

// ToOechsle returns a gravity in °Oe: (SG − 1) × 1000, by definition. Range 0.980 to
// 1.4485, outside an error.
func ToOechsle(g measure.Gravity) (Oechsle, error) {
	if err := check(g); err != nil {
		return 0, err
	}
	return Oechsle(g.Points()), nil
}

// FromOechsle returns the gravity of a degree Oechsle: 1 + °Oe/1000. The range is
// that of ToOechsle.
func FromOechsle(o Oechsle) (measure.Gravity, error) {
	return checked(1 + measure.Gravity(o)/1000)
}

// ToBaume returns a gravity in °Bé: 145 − 145/SG, by definition of the modulus 145,
// the usual one of trade hydrometers; the older German modulus is 146.78. Range
// 0.980 to 1.4485, outside an error.
func ToBaume(g measure.Gravity) (Baume, error) {
	if err := check(g); err != nil {
		return 0, err
	}
	return Baume(145 - 145/g), nil
}

// FromBaume returns the gravity of a degree Baumé: 145/(145 − °Bé). The range is that
// of ToBaume.
func FromBaume(b Baume) (measure.Gravity, error) {
	return checked(145 / (145 - measure.Gravity(b)))
}

// Break returns the gravity at which a fraction k of the expected fall is behind:
//
//	break = OG − k (OG − finish)
//
// Range: both gravities 0.980 to 1.4485, the finish not over the original, k
// from 0 to 1; outside an error. By definition; counted by sugar instead of
// gravity the breaks are up to 0.0003 lower. It is as sure as the finish is.
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

// Parse reads a gravity on any scale: 1.084, 20.2bx, 20.2p, 84oe, 11.2be, 218g/L
// of solids. Range and errors are those of the scale.
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
