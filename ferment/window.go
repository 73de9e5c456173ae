package ferment

import (
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

const windowHint = "opens .. closes, around the due time, e.g. -12 h .. +24 h"

// ParseWindow reads when a window opens and closes around its due time:
// "-12 h .. +24 h".
func ParseWindow(text string) (Window, error) {
	opens, closes, both := strings.Cut(text, "..")
	if !both {
		return Window{}, &measure.Error{Text: text, Problem: "is not a window", Hint: windowHint}
	}
	from, err := ParseOffset(opens)
	if err != nil {
		return Window{}, err
	}
	to, err := ParseOffset(closes)
	if err != nil {
		return Window{}, err
	}
	w := Window{from, to}
	if w.never() {
		return Window{}, &measure.Error{Text: text, Problem: "closes before it opens", Hint: windowHint}
	}
	return w, nil
}

// never tells whether the window is open at no time at all.
func (w Window) never() bool { return !w.Opens.before(w.Closes) }

// DefaultWindow is the window of a step that says nothing of its own, and what
// becomes of it when it is missed. A routine act may be done half its interval
// early or late, half a day where it has no interval (common practice, no
// source).
func DefaultWindow(do string, every Offset) (Window, Missed) {
	switch do {
	case string(Nutrient):
		return around(12, Hour, 24, Hour), Late
	case string(Degas), string(Punch), string(Look), string(Squeeze):
		half := every.half()
		return Window{Offset{-half.Number, half.Unit}, half}, Drop
	case DoGravity, DoPH:
		return around(1, Day, 1, Day), Drop
	case string(Rack), string(Bottle), string(Prime):
		return around(7, Day, 14, Day), Late
	case string(Open), string(Taste):
		return around(14, Day, 14, Day), Late
	}
	return around(0, Hour, 1, Day), Late
}

func around(before float64, unit OffsetUnit, after float64, afterUnit OffsetUnit) Window {
	return Window{Offset{0 - before, unit}, Offset{after, afterUnit}}
}

// half is half of an interval; half a month is counted as fifteen days.
func (o Offset) half() Offset {
	switch {
	case o.IsZero():
		return Offset{12, Hour}
	case o.Unit == Month:
		return Offset{o.Number * 15, Day}
	}
	return Offset{o.Number / 2, o.Unit}
}
