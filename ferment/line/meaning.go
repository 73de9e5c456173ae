package line

import (
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// meaning is the key of the file that a part is short for, and its value.
func (r *lineReader) meaning(p part) (key, value string, err error) {
	lower := strings.ToLower(p.text)
	key, value, pair := strings.Cut(p.text, "=")
	switch {
	case p.text == "?":
		return "doubt", "true", nil
	case pair:
		return strings.ToLower(key), strings.ReplaceAll(value, `"`, ""), nil
	case strings.HasPrefix(p.text, "@"):
		return "sample", p.text[1:], nil
	case isTime(lower):
		return "at", p.text, nil
	case ferment.IsAct(lower):
		return "did", lower, nil
	case slices.Contains(ferment.ClarityWords, lower):
		return "clarity", lower, nil
	case lower == "unknown":
		return "amount", lower, nil
	}
	if m := short().prefixed.FindStringSubmatch(p.text); m != nil {
		return short().before[strings.ToLower(m[1])], m[2], nil
	}
	if leadingNumber().MatchString(p.text) {
		return r.number(p)
	}
	return "", "", unknownWord(p, lower)
}

// isTime tells whether a part says when.
func isTime(lower string) bool {
	day, _, _ := strings.Cut(lower, " ")
	day, _, _ = strings.Cut(day, "t")
	return ferment.IsClock(lower) || ferment.IsDate(day) || ferment.IsBack(lower) || lower == "yesterday" || strings.HasPrefix(lower, "yesterday ")
}

// number is what a part means that begins with a number.
func (r *lineReader) number(p part) (key, value string, err error) {
	digits := leadingNumber().FindString(p.text)
	unit := strings.ToLower(strings.TrimSpace(p.text[len(digits):]))
	switch {
	case unit == "":
		if isGravity(p.text) && !(r.awaitsAmount() && isCoarse(p.text)) {
			return "gravity", p.text, nil
		}
		return "", "", p.fail("%s", r.couldBe(p.text))
	case strings.Contains(p.text, ".."):
		return "temperature", p.text, nil
	case short().after[unit] != "":
		return short().after[unit], digits, nil
	case ferment.IsBack("-" + digits + unit):
		return "", "", p.fail("%s could be a time ago: type -%s%s", p.text, digits, unit)
	case strings.HasPrefix(unit, "-"):
		return "", "", p.fail("%s could be a lowest and a highest: type %s..%s", p.text, digits, unit[1:])
	}
	q, err := measure.ParseQuantity(p.text)
	if err != nil {
		return "", "", p.fail("%s", err)
	}
	return quantityKey(p, q.Dimension())
}

// quantityKey is the key that a quantity without a name is for.
func quantityKey(p part, of measure.Dimension) (key, value string, err error) {
	glued := strings.ReplaceAll(p.text, " ", "")
	switch of {
	case measure.OfTemperature:
		return "temperature", p.text, nil
	case measure.OfMass, measure.OfVolume, measure.OfContent:
		return "amount", p.text, nil
	case measure.OfStrength:
		return "", "", p.fail("%s could be alcohol: type alcohol=%s", p.text, glued)
	case measure.OfShare:
		return "", "", p.fail("%s could be a stock solution, the water in honey or alcohol: type stock=%s, water=%s or alcohol=%s", p.text, glued, glued, glued)
	case measure.OfDepth:
		return "", "", p.fail("%s could be lees or foam: type lees=%s or foam=%s", p.text, glued, glued)
	}
	return "", "", p.fail("%s is nothing that an entry keeps (e.g. 1.046@23, 19.5C, nutrient 1.5g)", p.text)
}

// unknownWord says what a word that is no part may have meant.
func unknownWord(p part, lower string) error {
	if k, is := keyFor(lower); is {
		return p.fail("%s needs its value (e.g. %s)", p.text, example(k))
	}
	words := slices.Concat(keyNames(), ferment.ClarityWords, ferment.ActNames())
	near := ferment.DidYouMean(lower, words)
	if near == "" {
		near = " (e.g. degas, 1.046@23 or smell=clean)"
	}
	return p.fail("%q is no act, no reading and no key%s", p.text, near)
}
