package ferment

import (
	"fmt"
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

// meaning is the key of the file that a part is short for, and its value as it
// stands in a file.
func (r *lineReader) meaning(p part) (key, value string, err error) {
	lower := strings.ToLower(p.text)
	number, unit := cutUnit(p.text)
	switch {
	case p.text == "?":
		return "doubt", "true", nil
	case strings.HasPrefix(p.text, "@"):
		return "sample", r.degrees(p.text[1:]), nil
	case strings.Contains(p.text, "="):
		key, value, _ = strings.Cut(p.text, "=")
		return strings.ToLower(strings.TrimSpace(key)), tidy(strings.Trim(value, `"`)), nil
	case IsAct(lower):
		return "did", lower, nil
	case contains(ClarityWords, lower):
		return "clarity", lower, nil
	case lower == "unknown":
		return "amount", "unknown", nil
	case isClock(p.text), isDate(firstWord(p.text)), strings.HasPrefix(lower, "yesterday"):
		return "at", p.text, nil
	case isBack(p.text):
		return "at", p.text, nil
	case strings.HasPrefix(lower, "ph") && startsWithNumber(lower):
		return "ph", point(p.text[2:]), nil
	case strings.HasPrefix(lower, "ta") && startsWithNumber(lower):
		return "acidity", tidy(withDefault(p.text[2:], "g/L")), nil
	case strings.HasPrefix(lower, "vol") && startsWithNumber(lower):
		return "volume", tidy(p.text[3:]), nil
	case number == "":
		return "", "", p.fail("%q is no act, no reading and no key%s (e.g. 1.046@23, degas, ph3.4)", p.text, didYouMean(lower, r.words()))
	case unit == "":
		value, err := bareGravity(p)
		return "gravity", value, err
	}
	return r.quantity(p, number, unit)
}

func firstWord(s string) string {
	word, _, _ := strings.Cut(s, " ")
	return word
}

// words are those that a misspelt one may have meant.
func (r *lineReader) words() []string {
	words := append(keyNames(), ClarityWords...)
	for _, a := range acts {
		words = append(words, string(a))
	}
	return words
}

// quantity is a number with a scale or a unit.
func (r *lineReader) quantity(p part, number, unit string) (key, value string, err error) {
	switch strings.TrimPrefix(strings.ToLower(unit), "°") {
	case "bx", "brix":
		return "brix", point(number), nil
	case "p", "plato":
		return "plato", point(number), nil
	case "oe":
		return "oechsle", point(number), nil
	case "r":
		return "refractometer", point(number), nil
	}
	name, known := measure.UnitNamed(unit)
	if !known {
		return "", "", p.fail("%q has the unknown unit %q (e.g. 1.5g, 19.5C, 3.4L, 11.4bx)", p.text, unit)
	}
	if name != "°C" && name != "°F" {
		return "amount", tidy(p.text), nil
	}
	if low, high, is := strings.Cut(number, ".."); is {
		return "temperature", point(low) + " " + name + " to " + point(high) + " " + name, nil
	}
	return "temperature", point(number) + " " + name, nil
}

// bareGravity is a number without a unit: a gravity, whole or in thousandths.
func bareGravity(p part) (string, error) {
	text := point(strings.TrimPrefix(p.text, "+"))
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return "", p.fail("%q is no number (e.g. 1.046)", p.text)
	}
	switch {
	case v >= float64(measure.LowestGravity) && v <= float64(measure.HighestGravity):
		if strings.HasPrefix(text, ".") {
			text = "0" + text
		}
		return text, nil
	case v >= 1000*float64(measure.LowestGravity) && v <= 1000*float64(measure.HighestGravity):
		whole, decimals, _ := strings.Cut(text, ".")
		whole = fmt.Sprintf("%04s", whole)
		return whole[:len(whole)-3] + "." + whole[len(whole)-3:] + decimals, nil
	}
	return "", p.fail("%s", couldBe(p.text, text, v))
}

// couldBe says what a bare number that is no gravity may have meant.
func couldBe(typed, text string, v float64) string {
	gravity := strconv.FormatFloat(1+v/1000, 'f', -1, 64)
	if len(gravity) < 5 {
		gravity = fmt.Sprintf("%.3f", 1+v/1000)
	}
	switch {
	case v > 0 && v <= 50:
		return fmt.Sprintf("%s could be %s °Bx or %s: type %sbx or %s", typed, text, gravity, text, gravity)
	case v > 50 && v <= 250:
		return fmt.Sprintf("%s could be %s °Oe or %s: type %soe or %s", typed, text, gravity, text, gravity)
	}
	return fmt.Sprintf("%s is no gravity: 0.970 to 1.250, or 970 to 1250, e.g. 1.046", typed)
}

// degrees is a temperature of the sample; a plain number is in the cellar's
// unit.
func (r *lineReader) degrees(s string) string {
	unit := "°C"
	if r.ctx.Units == measure.US {
		unit = "°F"
	}
	return tidy(withDefault(s, unit))
}

// withDefault gives a number without a unit one.
func withDefault(s, unit string) string {
	if number, typed := cutUnit(s); number != "" && typed == "" {
		return number + " " + unit
	}
	return s
}

// tidy writes a quantity as a file has it, "1.5 g" for "1,5G". Anything else
// stays as it is.
func tidy(s string) string {
	number, unit := cutUnit(s)
	name, known := measure.UnitNamed(unit)
	if number == "" || !known || strings.Contains(number, "..") {
		return s
	}
	return point(number) + " " + name
}

// point writes a decimal comma as a point.
func point(number string) string { return strings.Replace(strings.TrimSpace(number), ",", ".", 1) }
