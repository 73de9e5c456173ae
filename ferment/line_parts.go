package ferment

import (
	"slices"
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

const number = `[-+−]?(?:\d+(?:[.,]\d*)?|[.,]\d+)`

var (
	// A number, or a range, that has no unit yet or only the first word of one.
	openNumber    = Pattern(`(?i)^(?:@|ph|ta|vol|[a-z-]+=)?(` + number + `(?:\.\.` + number + `)?)(\D*)$`)
	leadingNumber = Pattern(`^` + number)
)

// scaleKeys are the keys of readings that are written with their scale.
var scaleKeys = map[string]string{
	"bx": "brix", "°bx": "brix", "brix": "brix", "p": "plato", "°p": "plato", "plato": "plato",
	"oe": "oechsle", "°oe": "oechsle", "r": "refractometer",
}

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
	return slices.Contains([]string{"@", "-", "−", "ph", "ta", "vol"}, strings.ToLower(word))
}

// unitWords is how many of the words ahead belong to what stands before them.
func unitWords(before string, ahead []part) int {
	if len(ahead) > 0 && isClock(ahead[0].text) && (isDate(before) || strings.EqualFold(before, "yesterday")) {
		return 1
	}
	open := openNumber().FindStringSubmatch(before)
	if open == nil {
		return 0
	}
	for n := min(3, len(ahead)); n > 0; n-- {
		unit := open[2]
		for _, w := range ahead[:n] {
			unit = strings.TrimSpace(unit + " " + w.text)
		}
		if isUnit(unit) || scaleKeys[strings.ToLower(unit)] != "" || isBack(strings.ToLower(open[1]+unit)) {
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
