package measure

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Error says what could not be read as a quantity and what would have been right.
type Error struct {
	Text    string // as typed
	Problem string // "is not a mass", "needs its unit"
	Hint    string // "a number and g, kg, oz or lb, e.g. {1.5 g}", a quantity in braces
}

func (e *Error) Error() string {
	return e.in(Metric)
}

func (e *Error) in(s System) string {
	return fmt.Sprintf("%q %s (%s)", e.Text, e.Problem, Fill(e.Hint, s))
}

// cutNumber splits the number off the front of a text. The decimal sign is a point, or a comma as the only separator.
// There is no exponent, no underscore, no NaN.
func cutNumber(s string) (value float64, rest string, ok bool) {
	s = strings.TrimSpace(s)
	sign := 1.0
	body := s
	switch {
	case strings.HasPrefix(body, "-"), strings.HasPrefix(body, "+"):
		if body[0] == '-' {
			sign = -1
		}
		body = body[1:]
	case strings.HasPrefix(body, "−"):
		sign, body = -1, strings.TrimPrefix(body, "−")
	}
	end, marks, digits := 0, 0, 0
	for end < len(body) {
		c := body[end]
		if c == '.' || c == ',' {
			marks++
		} else if c < '0' || c > '9' {
			break
		} else {
			digits++
		}
		end++
	}
	if digits == 0 || marks > 1 || digits > 15 {
		return 0, s, false
	}
	v, err := strconv.ParseFloat(strings.Replace(body[:end], ",", ".", 1), 64)
	if err != nil {
		return 0, s, false
	}
	return sign * v, strings.TrimSpace(body[end:]), true
}

// ParseNumber reads a bare number.
func ParseNumber(s string) (float64, error) {
	v, rest, ok := cutNumber(s)
	switch {
	case !ok || rest != "":
		return 0, &Error{s, "is not a number", "digits and one decimal point, e.g. 3.4"}
	case isAmbiguous(s):
		return 0, ambiguous(s)
	}
	return v, nil
}

// thousands matches a number whose comma may be a decimal or a thousands sign: three digits
// follow, and more than a single 0 comes before. In a gravity it is decimal.
var thousands = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`((?:^|[^\d.,])(?:[1-9]\d{0,2})),(\d{3})($|[^\d.,])`)
})

func isAmbiguous(text string) bool {
	return strings.Contains(text, ",") && thousands().MatchString(text)
}

// ambiguous returns the error for what thousands matches, with both ways to read it.
func ambiguous(text string) *Error {
	part := thousands().FindStringSubmatch(text)
	whole := strings.TrimLeft(part[1], " −-+abcdefghijklmnopqrstuvwxyz")
	return &Error{text, "could be " + thousands().ReplaceAllString(text, "$1$2$3") + " or " + thousands().ReplaceAllString(text, "$1.$2$3"),
		"write " + whole + part[2] + " or " + whole + "." + part[2]}
}

// WithUnit adds to a bare number the unit of an example that has only one unit: "3.6" is
// "3.6 L" by "in all, e.g. 3.4 L". Any other text stays.
func WithUnit(text, example string) string {
	if _, rest, bare := cutNumber(text); !bare || rest != "" {
		return text
	}
	var units []string
	for _, found := range numberAndUnit().FindAllStringSubmatch(example, -1) {
		words := strings.Fields(found[2])
		for n := min(3, len(words)); n > 0; n-- {
			if unit, is := UnitNamed(strings.TrimRight(strings.Join(words[:n], " "), ";:)")); is {
				units = append(units, unit)
				break
			}
		}
	}
	if units = slices.Compact(units); len(units) != 1 {
		return text
	}
	return text + " " + units[0]
}

// Root returns where a function that rises from low to high is zero, to 1e-12; low or high where it is not zero
// between them. It uses the Illinois rule (Dowell and Jarratt 1971): the next point is on the secant through both
// ends, and the value at an end that stays is halved, so that both ends move in. Every fourth step is a bisection,
// for functions that are far from straight.
func Root[T ~float64](low, high T, f func(T) float64) T {
	below, above := f(low), f(high)
	switch {
	case below >= 0:
		return low
	case above <= 0:
		return high
	}
	moved := 0
	for step := 1; high-low > 1e-12; step++ {
		x := low + (high-low)*T(below/(below-above))
		if x <= low || x >= high || step%4 == 0 {
			x = low + (high-low)/2
		}
		switch y := f(x); {
		case y == 0:
			return x
		case y < 0:
			low, below = x, y
			if moved < 0 {
				above /= 2
			}
			moved = -1
		default:
			high, above = x, y
			if moved > 0 {
				below /= 2
			}
			moved = 1
		}
	}
	return low + (high-low)/2
}

// NumberPattern is a number as a person types it, as a regular expression.
const NumberPattern = `[-+−]?(?:\d+(?:[.,]\d*)?|[.,]\d+)`

var numberAndUnit = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(` + NumberPattern + `)\s*([^\d.,]*)`) })

// Spelled writes quantities as files do: "1.5 g" for "1,5G", "17 °C to 24 °C" for "17 to 24c".
func Spelled(text string) string {
	if low, high, both := strings.Cut(text, " to "); both {
		low, high = Spelled(low), Spelled(high)
		if _, err := ParseNumber(low); err == nil {
			_, unit, _ := strings.Cut(high, " ")
			low += " " + unit
		}
		return low + " to " + high
	}
	var words []string
	for _, m := range numberAndUnit().FindAllStringSubmatch(text, -1) {
		words = append(words, PlainNumber(m[1]))
		if unit, known := UnitNamed(m[2]); known {
			words = append(words, unit)
		}
	}
	return strings.Join(words, " ")
}

// PlainNumber writes a number as files do: a point with a digit before it, no plus sign.
func PlainNumber(text string) string {
	text = strings.NewReplacer(",", ".", "−", "-", "+", "").Replace(text)
	sign, digits := "", text
	if rest, minus := strings.CutPrefix(text, "-"); minus {
		sign, digits = "-", rest
	}
	if strings.HasPrefix(digits, ".") {
		digits = "0" + digits
	}
	return sign + strings.TrimSuffix(digits, ".")
}

// Parsers of a quantity with its unit.
var (
	// ParseMass reads a mass of 0 to 1000 kg, in g, kg, mg, oz or lb.
	ParseMass = reading[Mass]("mass", 0, 1000, "a number and g, kg, mg, oz or lb, e.g. {980 g}", OfMass)
	// ParseVolume reads a volume of 0 to 2000 L; gal, qt, pt and fl oz are US measures unless "imp" is before them.
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

// ParseGravity reads a specific gravity of 0.970 to 1.250 as it is in a file. A decimal comma is taken only before
// exactly three decimals, where no other reading of it is possible.
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
