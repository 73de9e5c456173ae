package measure

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// System is the family of units that a person is shown.
type System string

// The two systems of units.
const (
	Metric System = "metric"
	US     System = "us"
)

// Decimal writes a number with the given places and a true minus sign.
func Decimal(v float64, places int) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.HasPrefix(s, "-") {
		if strings.Trim(s, "-0.") == "" {
			return s[1:]
		}
		return "−" + s[1:]
	}
	return s
}

// Places writes a gravity with n decimals: three as on a glass, four to compare.
func (g Gravity) Places(n int) string { return strconv.FormatFloat(float64(g), 'f', n, 64) }

// In writes a mass: one place below 10 g, none above, kg from 10 kg; oz and lb in US units.
func (m Mass) In(s System) string {
	n, unit := m.Parts(s)
	return n + " " + unit
}

// Parts is like In, but returns number and unit apart.
func (m Mass) Parts(s System) (number, unit string) {
	g := m.Grams()
	if s == US {
		oz := float64(m) / poundKg * 16
		switch {
		case oz < 0.35:
			return Decimal(g, 1), "g" // below what a kitchen scale in ounces shows
		case oz < 32:
			return Decimal(oz, 2), "oz"
		}
		return Decimal(oz/16, 2), "lb"
	}
	switch {
	case g < 0.095 && g > 0:
		return Decimal(g, 2), "g"
	case g < 9.95:
		return Decimal(g, 1), "g"
	case g < 10000:
		return Decimal(g, 0), "g"
	}
	return Decimal(float64(m), 2), "kg"
}

// In writes a volume in litres with two places, mL below 0.1 L; fl oz and gal in US units.
func (v Volume) In(s System) string {
	n, unit := v.Parts(s)
	return n + " " + unit
}

// Small writes a volume below a litre in mL, with one place below 100 mL; fl oz in US units.
func (v Volume) Small(s System) string {
	switch {
	case s == US || v >= 1:
		return v.In(s)
	case math.Abs(float64(v)) < 0.0995:
		return Decimal(v.Millilitres(), 1) + " mL"
	}
	return Decimal(v.Millilitres(), 0) + " mL"
}

// Parts is like In, but returns number and unit apart.
func (v Volume) Parts(s System) (number, unit string) {
	if s == US {
		if float64(v) < LitresPerUSGallon/4 {
			return fluidOunces(float64(v) * 128 / LitresPerUSGallon), "fl oz"
		}
		return Decimal(float64(v)/LitresPerUSGallon, 2), "gal"
	}
	if math.Abs(float64(v)) < 0.1 {
		return Decimal(v.Millilitres(), 0), "mL"
	}
	return Decimal(float64(v), 2), "L"
}

// fluidOunces has two decimals below one ounce: a tenth is 3 mL, too coarse for a dose.
func fluidOunces(n float64) string {
	if n > 0 && n < 0.995 {
		return Decimal(n, 2)
	}
	return Decimal(n, 1)
}

// In writes a temperature with one place, none where it is whole.
func (t Temperature) In(s System) string {
	v, unit := float64(t), "°C"
	if s == US {
		v, unit = v*1.8+32, "°F"
	}
	if math.Abs(v-math.Round(v)) < 0.05 {
		return Decimal(v, 0) + " " + unit
	}
	return Decimal(v, 1) + " " + unit
}

// In writes a pressure with one place in bar, none in psi.
func (p Pressure) In(s System) string {
	if s == US {
		return Decimal(float64(p)/psiBar, 0) + " psi"
	}
	return Decimal(float64(p), 1) + " bar"
}

// In writes a depth with one place, in cm or inches.
func (d Depth) In(s System) string {
	if s == US {
		return Decimal(float64(d)/2.54, 1) + " in"
	}
	return Decimal(float64(d), 1) + " cm"
}

func (g Gravity) String() string     { return g.Places(4) }
func (b Brix) String() string        { return Decimal(float64(b), 1) + " °Bx" }
func (t Temperature) String() string { return t.In(Metric) }
func (v Volume) String() string      { return v.In(Metric) }
func (m Mass) String() string        { return m.In(Metric) }
func (s Strength) String() string    { return Decimal(float64(s), 1) + " % vol" }
func (s Share) String() string       { return Decimal(float64(s), 1) + " %" }
func (p Pressure) String() string    { return p.In(Metric) }
func (d Depth) String() string       { return d.In(Metric) }

// String writes a pH with two decimals, or one if it has no more.
func (p PH) String() string {
	if tenth := math.Round(float64(p)*10) / 10; math.Abs(float64(p)-tenth) < 0.005 {
		return Decimal(tenth, 1)
	}
	return Decimal(float64(p), 2)
}

// String writes a content in mg/L below 1 g/L, else in g/L.
func (c Content) String() string {
	if math.Abs(float64(c)) < 1 {
		return fmt.Sprintf("%s mg/L", Decimal(c.MilligramsPerLitre(), 0))
	}
	return Decimal(float64(c), 1) + " g/L"
}

// Between returns a temperature, or a lowest and a highest: "17 to 24 °C".
func Between(t Span[Temperature], s System) string {
	if t.Low == t.High {
		return t.Low.In(s)
	}
	low, _, _ := strings.Cut(t.Low.In(s), " ")
	return low + " to " + t.High.In(s)
}

// systems is the system of each unit; units that are in neither, such as g/L, belong to both.
var systems = map[string]System{
	"g": Metric, "kg": Metric, "mg": Metric, "mL": Metric, "cL": Metric, "dL": Metric, "L": Metric, "°C": Metric, "bar": Metric, "kPa": Metric, "mm": Metric, "cm": Metric,
	"lb": US, "oz": US, "gal": US, "qt": US, "pt": US, "cup": US, "fl oz": US, "tbsp": US, "tsp": US, "°F": US, "psi": US, "in": US,
}

type shownIn interface{ In(System) string }

// AsTyped returns a value as typed, if in units of the system; otherwise converted.
func AsTyped[T shownIn](g Given[T], s System) string {
	if g.Known() && writtenIn(g.Text, s) {
		return g.Text
	}
	return g.Value.In(s)
}

// Shown returns a value in a system's units. What was typed in US units stays so in the US system.
func Shown[T shownIn](g Given[T], s System) string {
	if s == US {
		return AsTyped(g, s)
	}
	return g.Value.In(s)
}

func writtenIn(text string, s System) bool {
	last := strings.LastIndexAny(text, "0123456789")
	u, _ := findUnit(text[last+1:])
	if s != US {
		s = Metric
	}
	return systems[u.name] == s
}

// In returns a quantity as it was typed, converted if it was typed in the other system. A
// dose too small for ounces stays in grams, as scales for doses show it.
func (q Quantity) In(s System) string {
	u, known := findUnit(q.Unit)
	shown := q.spaced()
	if !known || writtenIn(q.Unit, s) {
		return shown
	}
	switch u.dimension {
	case OfMass:
		shown = Mass(q.Value()).In(s)
	case OfVolume:
		shown = Volume(q.Value()).In(s)
	case OfTemperature:
		shown = Temperature(q.Value()).In(s)
	case OfDepth:
		shown = Depth(q.Value()).In(s)
	case OfPressure:
		shown = Pressure(q.Value()).In(s)
	}
	if s == US && strings.HasSuffix(shown, " g") {
		return q.spaced()
	}
	return shown
}

// spaced returns the typed text with a space before the unit.
func (q Quantity) spaced() string {
	number := strings.TrimRight(q.Text, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ%°/")
	if q.Unit == "" || number == "" || strings.Contains(q.Text, " ") {
		return q.Text
	}
	return number + " " + q.Unit
}

// Converted puts a typed quantity, or a range of temperatures, into a system. Other text stays.
func Converted(text string, s System) string {
	if s != US {
		return text
	}
	q, err := ParseQuantity(text)
	if err != nil {
		if span, err := ParseTemperatures(text); err == nil {
			return span.Value.Low.In(s) + " to " + span.Value.High.In(s)
		}
		return text
	}
	return q.In(s)
}

// marked matches an author's braces: a quantity, a range, a difference ("apart"), a unit.
var marked = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\{(?:(−?\d+(?:\.\d+)?)(?:( to | or )(−?\d+(?:\.\d+)?))? ?)?(°C|mL|L|cm|bar|kg|g)( apart| of each other)?\}`)
})

// Fill returns a text with the quantities that its author put in braces converted to the
// units of a system, without the braces: "{20 to 50 mL}", "{30 °C apart}", "{cm}". All
// other text stays as it is. Up to 10 g stay grams, as on packets and on scales for doses.
func Fill(text string, s System) string {
	if !strings.Contains(text, "{") {
		return text
	}
	return marked().ReplaceAllStringFunc(text, func(mark string) string {
		if s != US {
			return mark[1 : len(mark)-1]
		}
		part := marked().FindStringSubmatch(mark)
		first, joint, second, unit, apart := part[1], part[2], part[3], part[4], part[5]
		switch {
		case first == "":
			return conversions[unit].word()
		case apart != "":
			unit += " apart"
		}
		from, to, unit := inUS(first, second, unit)
		return from + joint + to + " " + unit + apart
	})
}

type conversion struct {
	per, add float64
	unit     string
	write    func(float64) string
}

func decimals(n int) func(float64) string { return func(v float64) string { return Decimal(v, n) } }

var conversions = map[string]conversion{
	"°C": {1.8, 32, "°F", decimals(0)}, "°C apart": {1.8, 0, "°F", decimals(0)},
	"mL": {128 / (LitresPerUSGallon * 1000), 0, "fl oz", fluidOunces}, "L": {1 / LitresPerUSGallon, 0, "gal", decimals(2)},
	"cm": {1 / 2.54, 0, "in", decimals(1)}, "bar": {1 / psiBar, 0, "psi", decimals(0)},
	"g": {16 / (poundKg * 1000), 0, "oz", decimals(2)}, "kg": {1 / poundKg, 0, "lb", decimals(2)},
}

func (t conversion) word() string {
	if t.unit == "in" {
		return "inches"
	}
	return t.unit
}

// inUS converts one number, or the two ends of a range, to US units; up to 10 g stay.
func inUS(first, second, metric string) (from, to, unit string) {
	number := func(text string) float64 {
		v, _ := strconv.ParseFloat(strings.Replace(text, "−", "-", 1), 64)
		return v
	}
	most := max(number(first), number(second))
	t := conversions[metric]
	switch {
	case metric == "g" && most <= 10:
		return first, second, metric
	case metric == "g" && most*t.per >= 32:
		t = conversions["kg"]
		t.per /= 1000
	}
	from = t.write(number(first)*t.per + t.add)
	if second != "" {
		to = t.write(number(second)*t.per + t.add)
	}
	return from, to, t.unit
}
