package measure

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Dimension is what a unit measures.
type Dimension string

// The dimensions that a unit can have.
const (
	OfMass        Dimension = "mass"
	OfVolume      Dimension = "volume"
	OfTemperature Dimension = "temperature"
	OfShare       Dimension = "share"
	OfStrength    Dimension = "strength"
	OfContent     Dimension = "content"
	OfYield       Dimension = "nitrogen content"
	OfCarbonation Dimension = "carbonation"
	OfPressure    Dimension = "pressure"
	OfDepth       Dimension = "depth"
	OfNothing     Dimension = "number"
)

// unit converts a number to the base unit of its dimension: value·factor + offset.
type unit struct {
	name      string // as it is written
	dimension Dimension
	factor    float64
	offset    float64
}

// toBase converts a number to the base unit of the dimension.
func (u unit) toBase(number float64) float64 { return number*u.factor + u.offset }

// Exact factors: international yard and pound agreement of 1959, US gallon of 231 cubic inches, imperial gallon of
// 4.54609 L (UK Weights and Measures Act 1985); psi from the pound-force, NIST SP 811.
const (
	// LitresPerUSGallon is the US gallon.
	LitresPerUSGallon = 3.785411784

	poundKg      = 0.45359237
	imperialGalL = 4.54609
	psiBar       = 0.0689475729
)

// CO2PerVolume is the mass in g of one litre of CO₂ at 0 °C and 1.01325 bar, so of "one
// volume" in a litre of liquid (1.977 g/L, gas tables; an ideal gas would have 1.9635).
const CO2PerVolume = 1.977

var units = map[string]unit{
	"g":         {"g", OfMass, 1e-3, 0},
	"kg":        {"kg", OfMass, 1, 0},
	"mg":        {"mg", OfMass, 1e-6, 0},
	"lb":        {"lb", OfMass, poundKg, 0},
	"oz":        {"oz", OfMass, poundKg / 16, 0},
	"ml":        {"mL", OfVolume, 1e-3, 0},
	"cl":        {"cL", OfVolume, 1e-2, 0},
	"dl":        {"dL", OfVolume, 1e-1, 0},
	"l":         {"L", OfVolume, 1, 0},
	"gal":       {"gal", OfVolume, LitresPerUSGallon, 0},
	"qt":        {"qt", OfVolume, LitresPerUSGallon / 4, 0},
	"pt":        {"pt", OfVolume, LitresPerUSGallon / 8, 0},
	"cup":       {"cup", OfVolume, LitresPerUSGallon / 16, 0},
	"fl oz":     {"fl oz", OfVolume, LitresPerUSGallon / 128, 0},
	"tbsp":      {"tbsp", OfVolume, LitresPerUSGallon / 256, 0},
	"tsp":       {"tsp", OfVolume, LitresPerUSGallon / 768, 0},
	"imp gal":   {"imp gal", OfVolume, imperialGalL, 0},
	"imp pt":    {"imp pt", OfVolume, imperialGalL / 8, 0},
	"imp fl oz": {"imp fl oz", OfVolume, imperialGalL / 160, 0},
	"°c":        {"°C", OfTemperature, 1, 0},
	"c":         {"°C", OfTemperature, 1, 0},
	"°f":        {"°F", OfTemperature, 5.0 / 9, -160.0 / 9},
	"f":         {"°F", OfTemperature, 5.0 / 9, -160.0 / 9},
	"%":         {"%", OfShare, 1, 0},
	"% vol":     {"% vol", OfStrength, 1, 0},
	"%vol":      {"% vol", OfStrength, 1, 0},
	"g/l":       {"g/L", OfContent, 1, 0},
	"mg/l":      {"mg/L", OfContent, 1e-3, 0},
	"ppm":       {"ppm", OfContent, 1e-3, 0},
	"mg/g":      {"mg/g", OfYield, 1, 0},
	"volumes":   {"volumes", OfCarbonation, CO2PerVolume, 0},
	"bar":       {"bar", OfPressure, 1, 0},
	"kpa":       {"kPa", OfPressure, 0.01, 0},
	"psi":       {"psi", OfPressure, psiBar, 0},
	"mm":        {"mm", OfDepth, 0.1, 0},
	"cm":        {"cm", OfDepth, 1, 0},
	"in":        {"in", OfDepth, 2.54, 0},
	"":          {"", OfNothing, 1, 0},
}

func findUnit(s string) (unit, bool) {
	u, ok := units[strings.ToLower(strings.Join(strings.Fields(s), " "))]
	return u, ok
}

// UnitNamed returns a unit as it is usually written ("ml" is "mL"); not ok for other text.
func UnitNamed(s string) (string, bool) {
	u, ok := findUnit(s)
	return u.name, ok && s != ""
}

// Units returns all units in alphabetical order.
func Units() []string {
	names := map[string]bool{}
	for _, u := range units {
		names[u.name] = u.name != ""
	}
	return slices.DeleteFunc(slices.Sorted(maps.Keys(names)), func(name string) bool { return !names[name] })
}

// Quantity is a number with its unit, as typed. A sum ("2 lb 8 oz") is in its first unit.
type Quantity struct {
	Number float64
	Unit   string // "g", "fl oz", "% vol"; "" for a bare number
	Text   string // as typed
}

// Of returns a quantity made by the program, with as few decimals as needed, at most six.
func Of(number float64, unit string) Quantity {
	n := strconv.FormatFloat(math.Round(number*1e6)/1e6, 'f', -1, 64)
	return Quantity{number, unit, strings.TrimSpace(n + " " + unit)}
}

// Known reports whether there is a quantity at all.
func (q Quantity) Known() bool { return q.Text != "" }

// Dimension returns what the quantity measures.
func (q Quantity) Dimension() Dimension {
	u, _ := findUnit(q.Unit)
	return u.dimension
}

// Value returns the quantity in the base unit of its dimension.
func (q Quantity) Value() float64 {
	u, _ := findUnit(q.Unit)
	return u.toBase(q.Number)
}

// Mass returns the quantity as a mass, if it is one.
func (q Quantity) Mass() (Mass, bool) { return Mass(q.Value()), q.Dimension() == OfMass }

// Volume returns the quantity as a volume, if it is one.
func (q Quantity) Volume() (Volume, bool) { return Volume(q.Value()), q.Dimension() == OfVolume }

// Spoon reports a spoon or a cup; of a powder that is ±25 % (common practice, no source).
func (q Quantity) Spoon() bool { return q.Unit == "tsp" || q.Unit == "tbsp" || q.Unit == "cup" }

func (q Quantity) String() string { return q.Text }

// ParseQuantity reads a number and a unit, or several that add up; a bare number has no dimension.
func ParseQuantity(s string) (Quantity, error) {
	q, _, err := parseQuantity(s)
	return q, err
}

func parseQuantity(s string) (Quantity, unit, error) {
	text := strings.TrimSpace(s)
	fail := func(problem string) (Quantity, unit, error) {
		return Quantity{}, unit{}, &Error{text, problem, "a number and a unit, e.g. {1.5 g}, {3.6 L} or {22 °C}"}
	}
	if isAmbiguous(text) {
		return Quantity{}, unit{}, ambiguous(text)
	}
	var base unit
	total, rest, ok := Quantity{Text: text}, text, true
	for first := true; first || rest != ""; first = false {
		var n float64
		if n, rest, ok = cutNumber(rest); !ok {
			return fail("is not a quantity")
		}
		word := rest
		if i := strings.IndexAny(rest, "0123456789"); i >= 0 {
			word, rest = strings.TrimSpace(rest[:i]), rest[i:]
		} else {
			rest = ""
		}
		u, known := findUnit(word)
		switch {
		case !known:
			return fail(fmt.Sprintf("has the unknown unit %q", word))
		case first:
			total.Number, total.Unit, base = n, u.name, u
		case u.dimension != base.dimension || u.dimension != OfMass && u.dimension != OfVolume:
			return fail("adds up things that do not go together")
		default:
			total.Number += n * u.factor / base.factor
		}
	}
	return total, base, nil
}

// LastDigit returns the value of one step in the last digit of a written quantity, in the base unit: 0.1 kg for "8.2
// kg", 0.001 kg for "980 g". The quantity is uncertain by at least half of that. It is 0 where there is no quantity.
func LastDigit(text string) float64 {
	last := strings.LastIndexAny(text, "0123456789")
	if _, err := ParseQuantity(text); err != nil {
		return 0
	}
	u, _ := findUnit(strings.TrimSpace(text[last+1:]))
	digit := u.factor
	start := strings.LastIndexFunc(text[:last+1], func(r rune) bool { return !strings.ContainsRune("0123456789.,", r) })
	number := text[start+1 : last+1]
	if i := strings.IndexAny(number, ".,"); i >= 0 {
		digit /= math.Pow10(len(number) - i - 1)
	}
	return digit
}
