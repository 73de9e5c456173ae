package measure

import "strings"

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

// A unit turns a number into the program's own unit of its dimension by
// value·factor + offset.
type unit struct {
	name      string // as it is written
	dimension Dimension
	factor    float64
	offset    float64
}

// of is a number of the unit in the program's own one.
func (u unit) of(number float64) float64 { return number*u.factor + u.offset }

// Exact factors: international pound and yard agreement of 1959, US gallon of
// 231 cubic inches, imperial gallon of 4.54609 L (UK Weights and Measures Act
// 1985); psi from the pound-force, NIST SP 811.
const (
	// LitresPerUSGallon is the US gallon.
	LitresPerUSGallon = 3.785411784

	poundKg      = 0.45359237
	imperialGalL = 4.54609
	psiBar       = 0.0689475729
)

// CO2PerVolume is the mass in g of one litre of CO₂ at 0 °C and 1.01325 bar:
// what "one volume" in a litre of liquid weighs (1.977 g/L, gas tables; an
// ideal gas would give 1.9635).
const CO2PerVolume = 1.977

var units = map[string]unit{
	"g":         {"g", OfMass, 1e-3, 0},
	"kg":        {"kg", OfMass, 1, 0},
	"mg":        {"mg", OfMass, 1e-6, 0},
	"lb":        {"lb", OfMass, poundKg, 0},
	"oz":        {"oz", OfMass, poundKg / 16, 0},
	"ml":        {"mL", OfVolume, 1e-3, 0},
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

// findUnit looks a unit up by its letters in either case.
func findUnit(s string) (unit, bool) {
	u, ok := units[strings.ToLower(strings.Join(strings.Fields(s), " "))]
	return u, ok
}

// UnitNamed tells whether a text is a unit, and gives it as it is written:
// "ml" is "mL".
func UnitNamed(s string) (string, bool) {
	u, ok := findUnit(s)
	return u.name, ok && s != ""
}
