package measure

import (
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// metricInProse is a quantity in a sentence, or a span of two.
var metricInProse = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(−?\d+(?:\.\d+)?)(?:( to | or |, )(−?\d+(?:\.\d+)?))? ?(°C|mL|L|cm|bar)`)
})

// apart are the words after a difference of temperatures.
var apart = []string{" apart", " of each other"}

// Prose is a sentence with its temperatures, volumes, lengths and pressures in
// the units of a system. What is dosed by the litre and weighed stays metric:
// that is what scales and packets say.
func Prose(text string, s System) string {
	if s != US {
		return text
	}
	var out strings.Builder
	last := 0
	for _, at := range metricInProse().FindAllStringSubmatchIndex(text, -1) {
		if next := text[at[1]:]; next != "" && (isLetter(next[0]) || next[0] == '/') || at[0] > 0 && (isLetter(text[at[0]-1]) || text[at[0]-1] == '.') {
			continue
		}
		unit := text[at[8]:at[9]]
		if unit == "°C" && startsAny(text[at[1]:], apart) {
			unit = "°C apart"
		}
		turn := turns[unit]
		out.WriteString(text[last:at[0]] + turn.number(text[at[2]:at[3]]))
		if at[4] >= 0 {
			out.WriteString(text[at[4]:at[5]] + turn.number(text[at[6]:at[7]]))
		}
		out.WriteString(" " + turn.unit)
		last = at[1]
	}
	return out.String() + text[last:]
}

// turn is how a metric number becomes one of the other system.
type turn struct {
	per, add float64
	places   int
	unit     string
}

var turns = map[string]turn{
	"°C": {1.8, 32, 0, "°F"}, "°C apart": {1.8, 0, 0, "°F"}, "mL": {128 / (usGallonL * 1000), 0, 1, "fl oz"}, "L": {1 / usGallonL, 0, 2, "gal"},
	"cm": {1 / 2.54, 0, 1, "in"}, "bar": {1 / psiBar, 0, 0, "psi"},
}

func (t turn) number(text string) string {
	n, err := strconv.ParseFloat(strings.Replace(text, "−", "-", 1), 64)
	if err != nil {
		return text
	}
	return Decimal(n*t.per+t.add, t.places)
}

func isLetter(b byte) bool { return b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' }

func startsAny(text string, with []string) bool {
	for _, w := range with {
		if strings.HasPrefix(text, w) {
			return true
		}
	}
	return false
}
