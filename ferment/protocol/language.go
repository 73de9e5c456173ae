// Package protocol parses the words of plans (times, windows, conditions) and checks plans for faults.
package protocol

import (
	"strings"
	"unicode"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

const whenHint = "an act, a step or a condition, and perhaps an offset, e.g. pitch + 2 d, last rack, break 1/3"

// ParseWhen reads one point in time of a plan: "pitch + 2 d", "last rack", "end of quiet", "break 1/3 + 1 d". A word
// that is not a condition is taken as an act or a step; Check says whether it exists.
func ParseWhen(text string) (ferment.When, error) {
	w := ferment.When{Text: strings.Join(strings.Fields(text), " ")}
	point, offset, moved := trailingOffset(w.Text)
	var err error
	if moved {
		w.Offset, err = ferment.ParseOffset(offset)
	} else {
		point = w.Text
	}
	if err == nil {
		w.Point, err = parsePoint(point)
	}
	if err != nil {
		return ferment.When{}, err
	}
	return w, nil
}

// trailingOffset cuts an offset such as "+ 2 d" off the end of a text. A minus needs a space before it, because step
// names contain hyphens.
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

// isStep reports whether a text is a number with at most one word of letters after it.
func isStep(text string) bool {
	_, unit, _ := strings.Cut(text, " ")
	return text != "" && strings.ContainsRune("0123456789.,", rune(text[0])) &&
		strings.IndexFunc(unit, func(r rune) bool { return r > unicode.MaxASCII || !unicode.IsLetter(r) }) < 0
}

func parsePoint(text string) (ferment.Point, error) {
	if step, end := strings.CutPrefix(text, "end of "); end && ferment.IsStepName(step) {
		return ferment.Point{EndOf: step}, nil
	}
	if name, last := strings.CutPrefix(text, "last "); last && isAnchor(name) {
		return ferment.Point{Anchor: name, Last: true}, nil
	}
	c, known, err := course.ReadCondition(text)
	switch {
	case err != nil:
		return ferment.Point{}, err
	case known && c.Kind != ferment.StepDone:
		return ferment.Point{Condition: &c}, nil
	case isAnchor(text):
		return ferment.Point{Anchor: text}, nil
	}
	return ferment.Point{}, &measure.Error{Text: text, Problem: "is not a point in time", Hint: whenHint}
}

// ParseCondition reads one yes-or-no question: "ph under 3.1", "gravity since w4", "stuck"; a single unknown word asks
// whether the step of that name is settled.
func ParseCondition(text string) (ferment.Condition, error) {
	c, known, err := course.ReadCondition(text)
	switch {
	case err != nil:
		return ferment.Condition{}, err
	case known:
		return c, nil
	}
	return ferment.Condition{}, &measure.Error{Text: c.Text, Problem: "is not a condition",
		Hint: "a word, a step or a comparison, e.g. near finish, nutrient-1 or ph under 3.1"}
}

func isAnchor(text string) bool { return text == ferment.PlannedPitch || ferment.IsStepName(text) }

const windowHint = "opens .. closes, around the due time, e.g. -12 h .. +24 h"

// ParseWindow reads when a window opens and closes around its due time: "-12 h .. +24 h".
func ParseWindow(text string) (w ferment.Window, err error) {
	opens, closes, both := strings.Cut(text, "..")
	if !both {
		return w, &measure.Error{Text: text, Problem: "is not a window", Hint: windowHint}
	}
	if w.Opens, err = ferment.ParseOffset(opens); err != nil {
		return ferment.Window{}, err
	}
	if w.Closes, err = ferment.ParseOffset(closes); err != nil {
		return ferment.Window{}, err
	}
	if w.IsNever() {
		return ferment.Window{}, &measure.Error{Text: text, Problem: "closes before it opens", Hint: windowHint}
	}
	return w, nil
}

// DefaultWindow returns the window of a step that has none, and what happens when it is missed: a routine act has half
// its interval before and after, or half a day (common practice, no source).
func DefaultWindow(do string, every ferment.Offset) (ferment.Window, ferment.Missed) {
	switch do {
	case string(ferment.Nutrient):
		return around(12, ferment.Hour, 24, ferment.Hour), ferment.Late
	case string(ferment.Degas), string(ferment.Punch), string(ferment.Look), string(ferment.Squeeze):
		half := half(every)
		return around(half.Number, half.Unit, half.Number, half.Unit), ferment.Drop
	case ferment.DoGravity, ferment.DoPH:
		return around(1, ferment.Day, 1, ferment.Day), ferment.Drop
	case string(ferment.Rack), string(ferment.Bottle), string(ferment.Prime):
		return around(7, ferment.Day, 14, ferment.Day), ferment.Late
	case string(ferment.Open), string(ferment.Taste):
		return around(14, ferment.Day, 14, ferment.Day), ferment.Late
	}
	return around(0, ferment.Hour, 1, ferment.Day), ferment.Late
}

func around(before float64, unit ferment.OffsetUnit, after float64, afterUnit ferment.OffsetUnit) ferment.Window {
	return ferment.Window{Opens: ferment.Offset{Number: 0 - before, Unit: unit}, Closes: ferment.Offset{Number: after, Unit: afterUnit}}
}

// half returns half an interval; half a month is fifteen days.
func half(o ferment.Offset) ferment.Offset {
	switch {
	case o.IsZero():
		return ferment.Offset{Number: 12, Unit: ferment.Hour}
	case o.Unit == ferment.Month:
		return ferment.Offset{Number: o.Number * 15, Unit: ferment.Day}
	}
	return ferment.Offset{Number: o.Number / 2, Unit: o.Unit}
}
