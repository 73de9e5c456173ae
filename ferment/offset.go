package ferment

import (
	"math"
	"strings"
	"time"

	"cellar/jugkeeper/ferment/measure"
)

// Offset is a step in time. Hours and minutes are absolute; days, weeks and
// months are calendar steps that keep the time of day.
type Offset struct {
	Number float64 // signed
	Unit   OffsetUnit
}

// OffsetUnit is the unit of an offset.
type OffsetUnit string

// The units of offsets.
const (
	Minute OffsetUnit = "min"
	Hour   OffsetUnit = "h"
	Day    OffsetUnit = "d"
	Week   OffsetUnit = "wk"
	Month  OffsetUnit = "mo"
)

// IsZero tells whether the offset moves nothing.
func (o Offset) IsZero() bool { return o.Number == 0 }

// Add moves a time by the offset, in the zone of the time. A month that lacks
// the day takes its last day.
func (o Offset) Add(t time.Time) time.Time { return o.Times(1, t) }

// Times moves a time n offsets on, counted in one go so that month ends do not
// wander.
func (o Offset) Times(n int, t time.Time) time.Time {
	k := o.Number * float64(n)
	switch o.Unit {
	case Minute:
		return t.Add(span(k, time.Minute))
	case Hour:
		return t.Add(span(k, time.Hour))
	case Week:
		return addDays(t, 7*k)
	case Month:
		return addMonths(t, int(k))
	}
	return addDays(t, k)
}

// span is so many units of time, to the full second: a third of a day in
// decimals is not to leave a stray nanosecond.
func span(n float64, unit time.Duration) time.Duration {
	return time.Duration(math.Round(n*unit.Seconds())) * time.Second
}

// addDays moves by calendar days; the part of a day that is left over is
// absolute.
func addDays(t time.Time, days float64) time.Time {
	whole := int(days)
	return t.AddDate(0, 0, whole).Add(span(days-float64(whole), 24*time.Hour))
}

func addMonths(t time.Time, n int) time.Time {
	y, m, d := t.Date()
	first := time.Date(y, m+time.Month(n), 1, t.Hour(), t.Minute(), t.Second(), t.Nanosecond(), t.Location())
	last := first.AddDate(0, 1, -1).Day()
	return time.Date(first.Year(), first.Month(), min(d, last), t.Hour(), t.Minute(), t.Second(), t.Nanosecond(), t.Location())
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
