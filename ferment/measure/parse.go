package measure

import (
	"fmt"
	"slices"
	"strings"
)

// Parsers of a quantity with its unit.
var (
	// ParseMass reads a mass of 0 to 1000 kg, in g, kg, mg, oz or lb.
	ParseMass = reading[Mass]("mass", 0, 1000, "a number and g, kg, mg, oz or lb, e.g. {980 g}", OfMass)
	// ParseVolume reads a volume of 0 to 2000 L; gal, qt, pt and fl oz are US
	// measures unless "imp" is before them.
	ParseVolume = reading[Volume]("volume", 0, 2000, "a number and mL, L, fl oz or gal, e.g. {3.6 L}", OfVolume)
	// ParseTemperature reads a temperature of −30 to 120 °C, in °C or °F.
	ParseTemperature = reading[Temperature]("temperature", -30, 120, "a number and °C or °F, e.g. {19.5 °C}", OfTemperature)
	// ParseShare reads a share of 0 to 100 %.
	ParseShare = reading[Share]("share", 0, 100, "a number and %, e.g. 18.1 %", OfShare)
	// ParseStrength reads an alcoholic strength of 0 to 100 % vol.
	ParseStrength = reading[Strength]("strength", 0, 100, "a number and % or % vol, e.g. 14 %", OfStrength, OfShare)
	// ParseContent reads a mass in a volume, 0 to 2000 g/L, in g/L, mg/L or ppm.
	ParseContent = reading[Content]("content", 0, 2000, "a number and g/L or mg/L, e.g. 5.5 g/L", OfContent)
	// ParseYield reads the nitrogen in a nutrient, 0 to 1000 mg/g.
	ParseYield = reading[Yield]("nitrogen content", 0, 1000, "a number and mg/g, e.g. 212 mg/g", OfYield)
	// ParseCarbonation reads dissolved CO₂, 0 to 30 g/L, in g/L or volumes.
	ParseCarbonation = reading[Content]("carbonation", 0, 30, "a number and g/L or volumes, e.g. 5 g/L", OfContent, OfCarbonation)
	// ParsePressure reads a pressure of 0 to 100 bar, in bar, kPa or psi.
	ParsePressure = reading[Pressure]("pressure", 0, 100, "a number and bar, kPa or psi, e.g. {6 bar}", OfPressure)
	// ParseDepth reads a depth of 0 to 200 cm, in cm, mm or in.
	ParseDepth = reading[Depth]("depth", 0, 200, "a number and cm, mm or in, e.g. {1.5 cm}", OfDepth)
)

// Parsers of a bare number on a scale.
var (
	// ParsePH reads a pH of 0 to 14; a cellar's liquids are between 2 and 9.
	ParsePH = scale[PH]("pH", 0, 14, "3.4")
	// ParseBrix reads degrees Brix, −5 to 60.
	ParseBrix = scale[Brix]("Brix reading", -5, 60, "20.2")
	// ParsePlato reads degrees Plato, −5 to 60.
	ParsePlato = scale[Brix]("Plato reading", -5, 60, "20.2")
	// ParseOechsle reads degrees Oechsle, thousandths above water, −30 to 250.
	ParseOechsle = scale[float64]("reading in degrees Oechsle", -30, 250, "84")
	// ParseRefractometer reads the Brix scale of a refractometer, 0 to 90.
	ParseRefractometer = scale[Brix]("refractometer reading", 0, 90, "11.4")
	// ParseHiss reads how loudly a bottle opened, 0 to 5.
	ParseHiss = scale[float64]("hiss", 0, 5, "3")
	// ParseScore reads a taster's score, 0 to 100.
	ParseScore = scale[float64]("score", 0, 100, "70")
)

// reading returns a parser for quantities of some dimensions; low and high in the base unit.
func reading[T ~float64](name string, low, high float64, hint string, dimensions ...Dimension) func(string) (Given[T], error) {
	return func(s string) (Given[T], error) {
		text, problem := strings.TrimSpace(s), ""
		q, u, err := parseQuantity(text)
		v := u.toBase(q.Number)
		switch {
		case isAmbiguous(text):
			return Given[T]{}, err
		case err == nil && u.dimension == OfNothing:
			problem = "needs its unit"
		case err != nil || !slices.Contains(dimensions, u.dimension):
			problem = "is not a " + name
		case v < low || v > high:
			problem = "is out of range for a " + name
		default:
			return Given[T]{T(v), q.Text}, nil
		}
		return Given[T]{}, &Error{text, problem, hint}
	}
}

// scale returns a parser for bare numbers from low to high.
func scale[T ~float64](name string, low, high T, example string) func(string) (Given[T], error) {
	return func(s string) (Given[T], error) { return ParseScale(s, name, low, high, example) }
}

// ParseTemperatures reads one temperature or two, "17 °C to 24 °C"; the second unit may do.
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

// The gravities that can occur in a ferment.
const (
	LowestGravity  Gravity = 0.970
	HighestGravity Gravity = 1.250
)

// ParseGravity reads a specific gravity of 0.970 to 1.250 as it is in a
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

// ParseScale reads a bare number of a scale between low and high: °Brix, °Oechsle, pH.
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
