package line

import (
	"regexp"
	"slices"
	"strings"
	"sync"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

var leadingNumber = ferment.Pattern(`^` + measure.NumberPattern)

// shorts are the short ways to type a key: its sign before its number, or its
// scale behind it.
type shorts struct {
	before, after map[string]string // the key's name by the sign
	prefixed      *regexp.Regexp    // a sign with its number
	openNumber    *regexp.Regexp    // a number, or a range, with no unit yet or only the first word of one
}

var short = sync.OnceValue(func() shorts {
	s := shorts{before: map[string]string{}, after: map[string]string{}}
	var signs []string
	for _, k := range ferment.Keys() {
		if k.Before != "" {
			s.before[k.Before] = k.Name
			signs = append(signs, k.Before)
		}
		for _, scale := range k.After {
			s.after[scale] = k.Name
		}
	}
	before := strings.Join(signs, "|")
	s.prefixed = regexp.MustCompile(`(?i)^(` + before + `)([-+−\d.,].*)$`)
	s.openNumber = regexp.MustCompile(`(?i)^(?:@|` + before + `|[a-z-]+=)?(` + measure.NumberPattern + `(?:\.\.` + measure.NumberPattern + `)?)(\D*)$`)
	return s
})

// joinParts puts together what was typed with a space between: a number and
// its unit, a day and its hour, "pH" and its number, pounds and ounces. The
// word did before an act says nothing.
func joinParts(words []part) []part {
	var parts []part
	for len(words) > 0 {
		var p part
		p, words = takePart(words)
		if last := len(parts) - 1; last >= 0 && addsTo(parts[last].text, p.text) {
			parts[last].text += " " + p.text
			continue
		}
		parts = append(parts, p)
	}
	return parts
}

// takePart takes one part off the front of the words.
func takePart(words []part) (p part, rest []part) {
	p, rest = words[0], words[1:]
	if strings.EqualFold(p.text, "did") && len(rest) > 0 {
		p, rest = rest[0], rest[1:]
	}
	if awaitsNumber(p.text) && len(rest) > 0 && leadingNumber().MatchString(rest[0].text) {
		p.text, rest = p.text+rest[0].text, rest[1:]
	}
	for range unitWords(p.text, rest) {
		p.text, rest = p.text+" "+rest[0].text, rest[1:]
	}
	return p, rest
}

// awaitsNumber tells whether a word says nothing without the number after it.
func awaitsNumber(word string) bool {
	return slices.Contains([]string{"@", "-", "−"}, word) || short().before[strings.ToLower(word)] != ""
}

// unitWords is how many of the words ahead belong to what stands before them.
func unitWords(before string, ahead []part) int {
	if len(ahead) > 0 && ferment.IsClock(ahead[0].text) && (ferment.IsDate(before) || strings.EqualFold(before, "yesterday")) {
		return 1
	}
	open := short().openNumber.FindStringSubmatch(before)
	if open == nil {
		return 0
	}
	for n := min(3, len(ahead)); n > 0; n-- {
		unit := open[2]
		for _, w := range ahead[:n] {
			unit = strings.TrimSpace(unit + " " + w.text)
		}
		if isUnit(unit) || short().after[strings.ToLower(unit)] != "" || ferment.IsBack(strings.ToLower(open[1]+unit)) {
			return n
		}
	}
	return 0
}

func isUnit(text string) bool {
	_, is := measure.UnitNamed(text)
	return is
}

// addsTo tells whether one quantity goes on another of a larger unit: ounces
// on pounds.
func addsTo(before, next string) bool {
	if !leadingNumber().MatchString(before) || !leadingNumber().MatchString(next) {
		return false
	}
	whole, err := measure.ParseQuantity(before + " " + next)
	if err != nil {
		return false
	}
	more, _ := measure.ParseQuantity(next)
	return measure.Of(1, more.Unit).Value() < measure.Of(1, whole.Unit).Value()
}
