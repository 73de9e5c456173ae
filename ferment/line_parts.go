package ferment

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"

	"cellar/jugkeeper/ferment/measure"
)

// part is one piece of a line, with the column that it begins in, from 1.
type part struct {
	text   string
	column int
}

func (p part) fail(format string, args ...any) error {
	return &LineError{Part: p.text, Column: p.column, Message: fmt.Sprintf(format, args...)}
}

// splitLine cuts a line at its spaces, and before every @. What stands between
// double quotes stays together; the first semicolon outside them begins the
// note.
func splitLine(text string) (words []part, note part, err error) {
	var word strings.Builder
	start, column, quoted := 1, 0, false
	end := func() {
		if word.Len() > 0 {
			words = append(words, part{word.String(), start})
		}
		word.Reset()
	}
	for i, c := range text {
		column++
		switch {
		case c == '"':
			quoted = !quoted
			word.WriteRune(c)
			continue
		case quoted:
			word.WriteRune(c)
			continue
		case c == ';':
			end()
			return words, part{strings.TrimSpace(text[i+1:]), column + 1}, nil
		case unicode.IsSpace(c):
			end()
			continue
		case c == '@' && !strings.Contains(word.String(), "="):
			end()
		}
		if word.Len() == 0 {
			start = column
		}
		word.WriteRune(c)
	}
	if quoted {
		return nil, note, part{text, column}.fail("the quotes are not closed: write smell=\"wet wool\"")
	}
	end()
	return words, note, nil
}

var (
	numberPart   = regexp.MustCompile(`^[-+−]?([0-9]+([.,][0-9]*)?|[.,][0-9]+)(\.\.[0-9]+([.,][0-9]+)?)?$`)
	measuredPart = regexp.MustCompile(`^(?i)(ph|ta|vol)$`)
	scaleWords   = []string{"bx", "°bx", "brix", "p", "°p", "plato", "oe", "°oe", "r"}
)

// joinParts puts together what was typed with a space between: a number and
// its unit, a day and its hour, a word and its number. The word did before an
// act says nothing.
func joinParts(words []part) []part {
	var out []part
	for i := 0; i < len(words); {
		p := words[i]
		if strings.EqualFold(p.text, "did") && i+1 < len(words) {
			i++
			continue
		}
		for i++; i < len(words); i++ {
			next := words[i].text
			if !goesWith(p.text, next) {
				break
			}
			p.text += gap(p.text) + next
		}
		out = append(out, p)
	}
	return out
}

// gap is what stands between two pieces of one part.
func gap(before string) string {
	if isDate(before) || strings.EqualFold(before, "yesterday") || endsWithUnit(before) || halfUnit(before) != "" {
		return " "
	}
	return ""
}

// goesWith tells whether a word belongs to the part before it.
func goesWith(before, next string) bool {
	switch {
	case before == "@", measuredPart.MatchString(before):
		return numberPart.MatchString(next) || startsWithNumber(next)
	case isDate(before), strings.EqualFold(before, "yesterday"):
		return isClock(next)
	case numberPart.MatchString(afterWord(before)):
		return isUnit(next) || contains(scaleWords, strings.ToLower(next)) || strings.EqualFold(next, "imp") || strings.EqualFold(next, "fl")
	case endsWithUnit(before):
		return strings.EqualFold(next, "vol") && strings.HasSuffix(before, "%")
	}
	half := halfUnit(before)
	return half != "" && (isUnit(half+" "+next) || strings.EqualFold(half+" "+next, "imp fl"))
}

// halfUnit is a unit of several words that a part with a number has only the
// beginning of.
func halfUnit(s string) string {
	number, unit := cutUnit(afterWord(s))
	switch unit = strings.ToLower(unit); {
	case number != "" && (unit == "fl" || unit == "imp" || unit == "imp fl"):
		return unit
	}
	return ""
}

// afterWord is a part without the word or the sign that its number stands
// after.
func afterWord(s string) string {
	s = strings.TrimPrefix(s, "@")
	for _, w := range []string{"ph", "ta", "vol"} {
		if len(s) > len(w) && strings.EqualFold(s[:len(w)], w) {
			return s[len(w):]
		}
	}
	return s
}

func isUnit(s string) bool { _, is := measure.UnitNamed(s); return is }

func startsWithNumber(s string) bool {
	number, _ := cutUnit(afterWord(s))
	return number != ""
}

func endsWithUnit(s string) bool {
	number, unit := cutUnit(afterWord(s))
	return number != "" && isUnit(unit)
}

// cutUnit parts the number, or the range, at the front of a text from the unit
// behind it.
func cutUnit(s string) (number, unit string) {
	end := 0
	for i, c := range s {
		if !strings.ContainsRune("0123456789.,-+−", c) {
			break
		}
		end = i + len(string(c))
	}
	if !numberPart.MatchString(s[:end]) {
		return "", s
	}
	return s[:end], strings.TrimSpace(s[end:])
}

func contains(words []string, word string) bool {
	for _, w := range words {
		if w == word {
			return true
		}
	}
	return false
}
