package measure

import (
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// metricInProse finds a quantity in a sentence, or a span of two.
var metricInProse = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(−?\d+(?:\.\d+)?)(?:( to | or )(−?\d+(?:\.\d+)?))? ?(°C|mL|L|cm|bar|kg|g)`)
})

// Prose is a sentence with its temperatures, volumes, masses, lengths and
// pressures in the units of a system. What is dosed by the litre stays metric,
// and so do up to 10 g: that is what packets say and scales for doses show.
func Prose(text string, s System) string {
	if s != US {
		return text
	}
	var out strings.Builder
	last := 0
	for _, at := range metricInProse().FindAllStringSubmatchIndex(text, -1) {
		from, first, joint, second := at[0], text[at[2]:at[3]], "", ""
		if at[4] >= 0 {
			joint, second = text[at[4]:at[5]], text[at[6]:at[7]]
		}
		if glued(text, from) && second != "" { // the first is no number: "w1 or 2 L"
			from, first, joint, second = at[6], second, "", ""
		}
		if glued(text, from) || goesOn(text[at[1]:]) {
			continue
		}
		unit := text[at[8]:at[9]]
		if unit == "°C" && startsAny(text[at[1]:], apart) {
			unit = "°C apart"
		}
		number, unit, turned := inUS(first, second, unit)
		if !turned {
			continue
		}
		out.WriteString(text[last:from] + number[0])
		if second != "" {
			out.WriteString(joint + number[1])
		}
		out.WriteString(" " + unit)
		last = at[1]
	}
	return strings.ReplaceAll(out.String()+text[last:], " in cm", " in inches")
}

// Turned is a text that may be one quantity, in the units of a system: one of
// its own as it was typed, a sentence as Prose.
func Turned(text string, s System) string {
	if s != US {
		return text
	}
	q, err := ParseQuantity(text)
	if err != nil {
		return Prose(text, s)
	}
	switch q.Dimension() {
	case OfTemperature:
		return Temperature(q.Value()).In(s)
	case OfPressure:
		return Pressure(q.Value()).In(s)
	case OfDepth:
		return Depth(q.Value()).In(s)
	case OfMass, OfVolume:
		return q.In(s)
	}
	return text
}

// apart are the words after a difference of temperatures.
var apart = []string{" apart", " of each other"}

// turn is how a metric number becomes one of the other system.
type turn struct {
	per, add float64
	unit     string
	write    func(float64) string
}

func places(n int) func(float64) string { return func(v float64) string { return Decimal(v, n) } }

var turns = map[string]turn{
	"°C": {1.8, 32, "°F", places(0)}, "°C apart": {1.8, 0, "°F", places(0)},
	"mL": {128 / (LitresPerUSGallon * 1000), 0, "fl oz", fluidOunces}, "L": {1 / LitresPerUSGallon, 0, "gal", places(2)},
	"cm": {1 / 2.54, 0, "in", places(1)}, "bar": {1 / psiBar, 0, "psi", places(0)},
	"g": {16 / (poundKg * 1000), 0, "oz", places(2)}, "kg": {1 / poundKg, 0, "lb", places(2)},
}

// inUS turns one number or the two of a span; a dose by weight stays.
func inUS(first, second, metric string) (numbers [2]string, unit string, turned bool) {
	values := [2]float64{}
	for i, text := range []string{first, second} {
		values[i], _ = strconv.ParseFloat(strings.Replace(text, "−", "-", 1), 64)
	}
	most := max(values[0], values[1])
	if metric == "g" && most <= 10 {
		return numbers, metric, false
	}
	t := turns[metric]
	if metric == "g" && most*t.per >= 32 {
		t = turns["kg"]
		t.per /= 1000
	}
	for i, v := range values {
		numbers[i] = t.write(v*t.per + t.add)
	}
	return numbers, t.unit, true
}

// glued tells whether a number at a place goes on to the left.
func glued(text string, at int) bool { return at > 0 && (isLetter(text[at-1]) || text[at-1] == '.') }

// goesOn tells whether what stands behind a unit makes it another one.
func goesOn(text string) bool { return text != "" && (isLetter(text[0]) || text[0] == '/') }

func isLetter(b byte) bool { return b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' }

func startsAny(text string, with []string) bool {
	for _, w := range with {
		if strings.HasPrefix(text, w) {
			return true
		}
	}
	return false
}
