package line

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

var leadingNumber = ferment.Pattern(`^` + measure.NumberPattern)

// shorts are the short forms of keys: a sign before the number, or a scale after it.
type shorts struct {
	before, after map[string]string // the key's name by the sign
	prefixed      *regexp.Regexp    // a sign with its number
	openNumber    *regexp.Regexp    // a number, or a range, without a unit or with only the first word of one
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

// joinParts joins what was typed apart: a number and its unit, a day and its hour, "pH" and its number, pounds and
// ounces. The word did before an act is skipped.
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

// takePart takes the next part off the words, with the number that belongs to it.
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

// awaitsNumber reports whether a word has no meaning without the number after it.
func awaitsNumber(word string) bool {
	return slices.Contains([]string{"@", "-", "−"}, word) || short().before[strings.ToLower(word)] != ""
}

// unitWords returns how many of the words ahead belong to the one before.
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
		_, is := measure.UnitNamed(unit)
		if is || short().after[strings.ToLower(unit)] != "" || ferment.IsBack(strings.ToLower(open[1]+unit)) {
			return n
		}
	}
	return 0
}

// addsTo reports whether a quantity adds to one in a larger unit: ounces to pounds.
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

// wholeGravity returns a gravity as a file has it: "1046.5" is "1.0465", ".996" is "0.996". The digits stay.
func wholeGravity(text string) string {
	plain := measure.PlainNumber(text)
	whole, decimals, _ := strings.Cut(plain, ".")
	if n := len(whole); n == 3 || n == 4 {
		whole = ("0" + whole)[n-3:]
		plain = whole[:1] + "." + whole[1:] + decimals
	}
	return plain
}

func isGravity(text string) bool {
	_, err := measure.ParseGravity(wholeGravity(text))
	return err == nil
}

// couldBe says what a bare number may have meant, and how each is typed.
func (r *lineReader) couldBe(typed string) string {
	n := measure.PlainNumber(typed)
	v, err := measure.ParseNumber(typed)
	var names, ways []string
	may := func(is bool, name, typed string) {
		if is {
			names, ways = append(names, name), append(ways, typed)
		}
	}
	amount := r.awaitsAmount() && v > 0
	may(amount, n+" g", n+"g")
	may(amount, n+" mL", n+"mL")
	may(amount && isGravity(typed), fmt.Sprintf("%.3f", v), fmt.Sprintf("%.3f", v))
	may(!amount && v >= 2 && v <= 5, "pH "+n, "ph"+n)
	may(!amount && v >= 1.3 && v <= 45, n+" °Bx", n+"bx")
	may(!amount && v > 45 && v <= 250, n+" °Oe", n+"oe")
	may(!amount && !strings.Contains(n, ".") && v >= 1 && v <= 250, fmt.Sprintf("%.3f", 1+v/1000), fmt.Sprintf("%.3f", 1+v/1000))
	may(!amount && r.roomTemperature(v), n+r.degree(), n+r.degree()[len(" °"):])
	may(v < 0, n+" hours", n+"h")
	if err != nil && strings.Contains(typed, ",") {
		return err.Error()
	}
	if err != nil || len(names) == 0 {
		return typed + " is no gravity: 0.970 to 1.250, or 970 to 1250 (e.g. 1.046 or 1046)"
	}
	return fmt.Sprintf("%s could be %s: type %s", typed, ferment.Either(names), ferment.Either(ways))
}

func (r *lineReader) awaitsAmount() bool {
	_, given := r.seen["amount"]
	return r.line.Entry.Did.Adds() && !given
}

// isCoarse reports whether a number has too few decimals for a gravity, so that after an act it is an amount.
func isCoarse(text string) bool {
	whole, decimals, _ := strings.Cut(measure.PlainNumber(text), ".")
	return len(whole) < 3 && len(decimals) < 2
}

// degree adds the cellar's unit of temperature to a number.
func (r *lineReader) degree() string {
	if r.ctx.Units == measure.US {
		return " °F"
	}
	return " °C"
}

// roomTemperature reports whether a number is likely the temperature of a jug, in the cellar's unit.
func (r *lineReader) roomTemperature(v float64) bool {
	if r.ctx.Units == measure.US {
		return v >= 55 && v <= 95
	}
	return v >= 15 && v <= 35
}

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

func isTime(lower string) bool {
	day, _, _ := strings.Cut(lower, " ")
	day, _, _ = strings.Cut(day, "t")
	return ferment.IsClock(lower) || ferment.IsDate(day) || ferment.IsBack(lower) || lower == "yesterday" || strings.HasPrefix(lower, "yesterday ")
}

func (r *lineReader) number(p part) (key, value string, err error) {
	digits := leadingNumber().FindString(p.text)
	unit := strings.ToLower(strings.TrimSpace(p.text[len(digits):]))
	switch {
	case unit == "":
		if isGravity(p.text) && !(r.awaitsAmount() && (isCoarse(p.text) || strings.Contains(p.text, ","))) {
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

func unknownWord(p part, lower string) error {
	if k, is := keyFor(lower); is {
		return p.fail("%s needs its value (e.g. %s)", p.text, example(k))
	}
	words := slices.Concat(keyNames(), ferment.ClarityWords, ferment.ActNames())
	near := cmp.Or(ferment.DidYouMean(lower, words), " (e.g. degas, 1.046@23 or smell=clean)")
	return p.fail("%q is no act, no reading and no key%s", p.text, near)
}

// saying is a phrase that people type, and the words of a line that it means; # is a number.
type saying struct{ said, means string }

var sayings = []saying{
	{"smells of rotten eggs", "smell=rotten eggs"}, {"smell of rotten eggs", "smell=rotten eggs"},
	{"rotten eggs", "smell=rotten eggs"}, {"rotten egg", "smell=rotten eggs"},
	{"foamed over", "foam-over"}, {"foam over", "foam-over"},
	{"airlock dry", "airlock=dry"}, {"dry airlock", "airlock=dry"},
	{"no bubbles", "airlock=still"}, {"bubbles", "airlock=working"}, {"bubbling", "airlock=working"},
	{"refractometer #", "#r"}, {"# refractometer", "#r"},
}

// meant replaces the sayings among the words.
func meant(words []part) []part {
	var out []part
	for len(words) > 0 {
		p, n := words[0], 1
		for _, s := range sayings {
			if means, is := s.in(words); is {
				p.text, n = means, len(strings.Fields(s.said))
				break
			}
		}
		out, words = append(out, p), words[n:]
	}
	return out
}

// in returns what the words mean if they begin with the saying.
func (s saying) in(words []part) (means string, is bool) {
	said := strings.Fields(s.said)
	if len(said) > len(words) {
		return "", false
	}
	means = s.means
	for i, want := range said {
		switch got := words[i].text; {
		case want == "#" && leadingNumber().FindString(got) == got:
			means = strings.Replace(means, "#", got, 1)
		case !strings.EqualFold(want, got):
			return "", false
		}
	}
	return means, true
}
