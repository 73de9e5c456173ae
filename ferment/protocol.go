package ferment

import (
	"math"
	"time"
)

// Protocol is a plan: steps, each with a trigger. One for an ending is a
// fragment that follows a ferment's own protocol.
type Protocol struct {
	Name    string
	Title   string
	For     string
	Ending  Ending              // of a fragment
	Limits  func(Limits) Limits // what it changes; nil for nothing
	Steps   []Step
	File    string // where a person's own stands; empty for a built-in
	Source  string // the YAML it was read from, to be printed
	Problem bool   // a step could not be read and was left out
}

// Step is one line of a protocol.
type Step struct {
	Name    string
	Title   string // what a person reads, up to MaxTitle columns; empty for the act in words
	Do      string // an act or a measurement; empty for a quiet period
	Culture bool   // planned on a culture, all others on a ferment

	Due     When
	Window  Window
	Repeat  *Repeat
	When    []Condition // all: until they hold the task waits and is not shown
	Needs   []Condition // all: unmet, the task is held
	First   []Act       // done together with it
	Unless  []Condition // any: while one holds the task is not there
	Ends    *When       // once met, the step lapses for good
	Gate    Gate
	Quiet   *Quiet
	Share   float64 // of the need, 0..1; 0 where none is given
	Amount  string  // a quantity, "by figure", or words
	Of      string
	Kind    string // of nutrient
	Medium  string
	Missed  Missed
	Option  bool
	Say     string
	Caution string
}

// MaxTitle is the longest title of a step, in characters: a line of the day has
// room for no more.
const MaxTitle = 28

// Gate is a checklist before something that cannot be undone.
type Gate string

// The gates.
const (
	NoGate           Gate = ""
	NutrientGate     Gate = "nutrient"
	SteadyGate       Gate = "steady"
	StillGate        Gate = "still bottling"
	ConditioningGate Gate = "bottle-conditioning"
)

// Missed is what becomes of a task whose window has closed.
type Missed string

// What may become of a missed task.
const (
	Drop Missed = "drop" // it lapses
	Late Missed = "late" // it may still be done
	Ask  Missed = "ask"  // it asks once whether it was done, then lapses
)

// Window is when a task may be done around its due time: opens ≤ t < closes.
type Window struct{ Opens, Closes Offset }

// Repeat is how often a step comes again.
type Repeat struct {
	Every  Offset
	Until  *When // inclusive
	AtMost int   // occurrences in all; 0 for no limit
	At     []Offset
	From   *When
}

// Quiet is a period in which the routine steps are hidden.
type Quiet struct {
	From, To When
	BrokenBy []Condition
}

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
