package measure

import (
	"fmt"
	"slices"
	"strings"
)

// A kind is what a quantity must be: its dimensions, the range of its values
// in the program's own unit, and how to write one.
type kind struct {
	name       string
	dimensions []Dimension
	low, high  float64
	hint       string
}

var (
	aMass        = kind{"mass", []Dimension{OfMass}, 0, 1000, "a number and g, kg, mg, oz or lb, e.g. {980 g}"}
	aVolume      = kind{"volume", []Dimension{OfVolume}, 0, 2000, "a number and mL, L, fl oz or gal, e.g. {3.6 L}"}
	aTemperature = kind{"temperature", []Dimension{OfTemperature}, -30, 120, "a number and °C or °F, e.g. {19.5 °C}"}
	aShare       = kind{"share", []Dimension{OfShare}, 0, 100, "a number and %, e.g. 18.1 %"}
	aStrength    = kind{"strength", []Dimension{OfStrength, OfShare}, 0, 100, "a number and % or % vol, e.g. 14 %"}
	aContent     = kind{"content", []Dimension{OfContent}, 0, 2000, "a number and g/L or mg/L, e.g. 5.5 g/L"}
	aYield       = kind{"nitrogen content", []Dimension{OfYield}, 0, 1000, "a number and mg/g, e.g. 212 mg/g"}
	aCarbonation = kind{"carbonation", []Dimension{OfContent, OfCarbonation}, 0, 30, "a number and g/L or volumes, e.g. 5 g/L"}
	aPressure    = kind{"pressure", []Dimension{OfPressure}, 0, 100, "a number and bar, kPa or psi, e.g. {6 bar}"}
	aDepth       = kind{"depth", []Dimension{OfDepth}, 0, 200, "a number and cm, mm or in, e.g. {1.5 cm}"}
)

func (k kind) read(s string) (Quantity, error) {
	text := strings.TrimSpace(s)
	q, u, err := parseQuantity(text)
	switch {
	case isAmbiguous(text):
		return q, err
	case err != nil:
		return q, &Error{text, "is not a " + k.name, k.hint}
	}
	if u.dimension == OfNothing {
		return q, &Error{text, "needs its unit", k.hint}
	}
	if !slices.Contains(k.dimensions, u.dimension) {
		return q, &Error{text, "is not a " + k.name, k.hint}
	}
	if v := u.of(q.Number); v < k.low || v > k.high {
		return q, &Error{text, "is out of range for a " + k.name, k.hint}
	}
	return q, nil
}

func parse[T ~float64](k kind, s string) (Given[T], error) {
	q, err := k.read(s)
	if err != nil {
		return Given[T]{}, err
	}
	return Given[T]{T(q.Value()), q.Text}, nil
}

// ParseMass reads a mass of 0 to 1000 kg, in g, kg, mg, oz or lb.
func ParseMass(s string) (Given[Mass], error) { return parse[Mass](aMass, s) }

// ParseVolume reads a volume of 0 to 2000 L; gal, qt, pt and fl oz are US
// measures unless "imp" stands before them.
func ParseVolume(s string) (Given[Volume], error) { return parse[Volume](aVolume, s) }

// ParseTemperature reads a temperature of −30 to 120 °C, in °C or °F.
func ParseTemperature(s string) (Given[Temperature], error) {
	return parse[Temperature](aTemperature, s)
}

// ParseShare reads a share of 0 to 100 %.
func ParseShare(s string) (Given[Share], error) { return parse[Share](aShare, s) }

// ParseStrength reads an alcoholic strength of 0 to 100 % vol.
func ParseStrength(s string) (Given[Strength], error) { return parse[Strength](aStrength, s) }

// ParseContent reads a mass in a volume, 0 to 2000 g/L, in g/L, mg/L or ppm.
func ParseContent(s string) (Given[Content], error) { return parse[Content](aContent, s) }

// ParseYield reads the nitrogen in a nutrient, 0 to 1000 mg/g.
func ParseYield(s string) (Given[Yield], error) { return parse[Yield](aYield, s) }

// ParseCarbonation reads dissolved CO₂, 0 to 30 g/L, in g/L or volumes.
func ParseCarbonation(s string) (Given[Content], error) { return parse[Content](aCarbonation, s) }

// ParsePressure reads a pressure of 0 to 100 bar, in bar, kPa or psi.
func ParsePressure(s string) (Given[Pressure], error) { return parse[Pressure](aPressure, s) }

// ParseDepth reads a depth of 0 to 200 cm, in cm, mm or in.
func ParseDepth(s string) (Given[Depth], error) { return parse[Depth](aDepth, s) }

// ParseTemperatures reads one temperature or a lowest and a highest,
// "17 °C to 24 °C". The first unit may be left out where the second stands.
func ParseTemperatures(s string) (Given[Span[Temperature]], error) {
	text := strings.TrimSpace(s)
	low, high, both := strings.Cut(text, " to ")
	if !both {
		t, err := ParseTemperature(text)
		return Give(Span[Temperature]{t.Value, t.Value}, t.Text), err
	}
	b, err := ParseTemperature(high)
	if err != nil {
		return Given[Span[Temperature]]{}, err
	}
	if q, e := ParseQuantity(low); e == nil && q.Dimension() == OfNothing {
		hq, _ := ParseQuantity(high)
		low += " " + hq.Unit
	}
	a, err := ParseTemperature(low)
	if err != nil {
		return Given[Span[Temperature]]{}, err
	}
	if a.Value > b.Value {
		return Given[Span[Temperature]]{}, &Error{text, "is the wrong way round", "the lower one first, e.g. {17 °C} to {24 °C}"}
	}
	return Give(Span[Temperature]{a.Value, b.Value}, text), nil
}

// The gravities that a jug can show.
const (
	LowestGravity  Gravity = 0.970
	HighestGravity Gravity = 1.250
)

// ParseGravity reads a specific gravity of 0.970 to 1.250 as it stands in a
// file. A decimal comma is taken only before exactly three decimals, where no
// other reading of it is possible.
func ParseGravity(s string) (Given[Gravity], error) {
	text := strings.TrimSpace(s)
	const hint = "use a point and three or four decimals, e.g. 1.055"
	v, rest, ok := cutNumber(text)
	if _, decimals, comma := strings.Cut(text, ","); comma && len(decimals) != 3 {
		ok = false
	}
	if !ok || rest != "" || Gravity(v) < LowestGravity || Gravity(v) > HighestGravity {
		return Given[Gravity]{}, &Error{text, "is not a density", hint}
	}
	return Give(Gravity(v), text), nil
}

// ParseScale reads a bare number of a scale between low and high: °Brix,
// °Oechsle, pH.
func ParseScale[T ~float64](s, name string, low, high T, example string) (Given[T], error) {
	text := strings.TrimSpace(s)
	v, rest, ok := cutNumber(text)
	switch {
	case isAmbiguous(text):
		return Given[T]{}, ambiguous(text)
	case !ok || rest != "":
		return Given[T]{}, &Error{text, "is not a " + name, "a plain number, e.g. " + example}
	}
	if T(v) < low || T(v) > high {
		return Given[T]{}, &Error{text, fmt.Sprintf("is out of range for a %s", name),
			fmt.Sprintf("%v to %v, e.g. %s", float64(low), float64(high), example)}
	}
	return Give(T(v), text), nil
}

// ParsePH reads a pH of 0 to 14; a cellar's liquids stand between 2 and 9.
func ParsePH(s string) (Given[PH], error) { return ParseScale[PH](s, "pH", 0, 14, "3.4") }

// ParseBrix reads degrees Brix, −5 to 60.
func ParseBrix(s string) (Given[Brix], error) {
	return ParseScale[Brix](s, "Brix reading", -5, 60, "20.2")
}

// ParsePlato reads degrees Plato, −5 to 60.
func ParsePlato(s string) (Given[Brix], error) {
	return ParseScale[Brix](s, "Plato reading", -5, 60, "20.2")
}

// ParseOechsle reads degrees Oechsle, thousandths above water, −30 to 250.
func ParseOechsle(s string) (Given[float64], error) {
	return ParseScale[float64](s, "reading in degrees Oechsle", -30, 250, "84")
}

// ParseRefractometer reads the Brix scale of a refractometer, 0 to 90.
func ParseRefractometer(s string) (Given[Brix], error) {
	return ParseScale[Brix](s, "refractometer reading", 0, 90, "11.4")
}

// ParseHiss reads how loudly a bottle opened, 0 to 5.
func ParseHiss(s string) (Given[float64], error) {
	return ParseScale[float64](s, "hiss", 0, 5, "3")
}

// ParseScore reads a taster's score, 0 to 100.
func ParseScore(s string) (Given[float64], error) {
	return ParseScale[float64](s, "score", 0, 100, "70")
}
