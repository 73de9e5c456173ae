package ferment

import (
	"strings"
	"unicode"

	"cellar/jugkeeper/ferment/measure"
)

const whenHint = "an act, a step or a condition, and perhaps an offset, e.g. pitch + 2 d, last rack, break 1/3"

// ParseWhen reads one point in time of a plan, with its offset: "pitch + 2 d",
// "last rack", "end of quiet", "break 1/3 + 1 d". A word that is no condition
// is taken for an act or a step; whether there is such a step is for
// Protocol.Check to say.
func ParseWhen(text string) (When, error) {
	w := When{Text: strings.Join(strings.Fields(text), " ")}
	point := w.Text
	var err error
	if before, offset, ok := trailingOffset(w.Text); ok {
		point = before
		if w.Offset, err = ParseOffset(offset); err != nil {
			return When{}, err
		}
	}
	if w.Point, err = parsePoint(point); err != nil {
		return When{}, err
	}
	return w, nil
}

// trailingOffset cuts a step in time off the end of a text of words with one
// space between them. A minus wants a space before it, since names of steps hold
// hyphens.
func trailingOffset(text string) (point, offset string, ok bool) {
	for i := len(text) - 1; i > 0; i-- {
		var sign string
		switch rest := text[i:]; {
		case rest[0] == '+':
			sign = "+"
		case text[i-1] != ' ':
			continue
		case rest[0] == '-':
			sign = "-"
		case strings.HasPrefix(rest, "−"):
			sign = "−"
		default:
			continue
		}
		if step := strings.TrimPrefix(text[i+len(sign):], " "); isStep(step) {
			return strings.TrimSuffix(text[:i], " "), sign + step, true
		}
	}
	return "", "", false
}

// isStep tells whether a text begins as a number and has at most one word of
// letters after it.
func isStep(text string) bool {
	_, unit, _ := strings.Cut(text, " ")
	return text != "" && strings.ContainsRune("0123456789.,", rune(text[0])) &&
		strings.IndexFunc(unit, func(r rune) bool { return r > unicode.MaxASCII || !unicode.IsLetter(r) }) < 0
}

// parsePoint reads an anchor, a condition, or the end of a step.
func parsePoint(text string) (Point, error) {
	if step, end := strings.CutPrefix(text, "end of "); end && isStepName(step) {
		return Point{EndOf: step}, nil
	}
	if name, last := strings.CutPrefix(text, "last "); last && isAnchor(name) {
		return Point{Anchor: name, Last: true}, nil
	}
	c, known, err := readCondition(text)
	switch {
	case err != nil:
		return Point{}, err
	case known:
		return Point{Condition: &c}, nil
	case isAnchor(text):
		return Point{Anchor: text}, nil
	}
	return Point{}, &measure.Error{Text: text, Problem: "is not a point in time", Hint: whenHint}
}

// PlannedPitch is the anchor of what is made ready before the yeast goes in.
const PlannedPitch = "planned pitch"

func isAnchor(text string) bool { return text == PlannedPitch || isStepName(text) }

// isStepName tells whether a text can name a step: one word of letters and
// digits, perhaps with hyphens, each between two of them.
func isStepName(text string) bool {
	last := '-'
	for i, r := range text {
		switch {
		case unicode.IsLetter(r), i > 0 && isDigit(r):
		case last != '-' && (r == '-' || r == '_'):
			r = '-'
		default:
			return false
		}
		last = r
	}
	return last != '-'
}
