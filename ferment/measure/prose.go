package measure

import (
	"regexp"
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
		low, high, shown := inUS(first, second, unit)
		unit = shown
		out.WriteString(text[last:from] + low)
		if second != "" {
			out.WriteString(joint + high)
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
