package ferment

import (
	"math"
	"strings"
	"time"

	"cellar/jugkeeper/ferment/measure"
)

const offsetHint = "a number and min, h, d, wk or mo, e.g. +12 h"

// longestOffset is how far each unit may reach: some fifty years, far beyond
// any jug and well inside what a duration can hold.
var longestOffset = map[OffsetUnit]float64{Minute: 25e6, Hour: 4.3e5, Day: 18e3, Week: 2600, Month: 600}

// ParseOffset reads a step in time: "-12 h", "+24 h", "0 d", "2 mo".
func ParseOffset(text string) (Offset, error) {
	text = strings.TrimSpace(text)
	fail := func(problem string) (Offset, error) {
		return Offset{}, &measure.Error{Text: text, Problem: problem, Hint: offsetHint}
	}
	digits := strings.LastIndexAny(text, "0123456789.,") + 1
	unit := OffsetUnit(strings.ToLower(strings.TrimSpace(text[digits:])))
	longest, known := longestOffset[unit]
	switch {
	case digits == 0:
		return fail("is not a step in time")
	case unit == "":
		return fail("needs its unit")
	case !known:
		return fail("is not a step in time")
	}
	n, err := measure.ParseNumber(signed(text[:digits]))
	switch {
	case err != nil:
		return fail("is not a step in time")
	case math.Abs(n) > longest:
		return fail("is more than fifty years")
	case unit == Month && n != math.Trunc(n):
		return Offset{}, &measure.Error{Text: text, Problem: "is not a whole number of months", Hint: "whole months, or weeks and days, e.g. 6 wk"}
	}
	return Offset{n, unit}, nil
}

// signed takes the space out between a sign and its number.
func signed(number string) string {
	for _, sign := range []string{"+", "-", "−"} {
		if rest, found := strings.CutPrefix(number, sign); found {
			return sign + strings.TrimSpace(rest)
		}
	}
	return number
}

// Absolute is the offset as a duration. It is not ok for days, weeks and
// months, which are no fixed number of hours.
func (o Offset) Absolute() (d time.Duration, ok bool) {
	switch o.Unit {
	case Minute:
		return span(o.Number, time.Minute), true
	case Hour:
		return span(o.Number, time.Hour), true
	}
	return 0, false
}

// before tells whether one offset ends ahead of another, months counted as in
// a common January.
func (o Offset) before(p Offset) bool {
	start := time.Date(2023, 1, 1, 0, 0, 0, 0, time.UTC)
	return o.Add(start).Before(p.Add(start))
}
