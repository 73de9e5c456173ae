package ferment

import (
	"math"
	"strings"
	"time"

	"cellar/jugkeeper/ferment/measure"
)

// Protocol is a plan: steps with their times and conditions. That of an ending is added to a ferment's own.
type Protocol struct {
	Name    string
	Title   string
	For     string
	Ending  Ending              // for which ending it is, if for one
	Limits  func(Limits) Limits // changes limits; nil for none
	Steps   []Step
	File    string // file of a person's own; empty for a built-in
	Source  string // the YAML text, for printing
	Problem bool   // a step could not be read and was left out

	Complete bool // its steps have their defaults
}

// Step is one line of a protocol.
type Step struct {
	Name    string
	Title   string // for a person, up to MaxTitle columns; empty for the act in words
	Do      string // an act or a measurement; empty for a quiet period
	Culture bool   // for a culture, else for a ferment

	Due     When
	Window  Window
	Repeat  *Repeat
	When    []Condition // all must hold, or the task waits and is not shown
	Needs   []Condition // all must hold, or the task is held
	First   []Act       // done together with it
	Unless  []Condition // if any holds there is no task
	Ends    *When       // once reached, the step is over for good
	Gate    Gate
	Quiet   *Quiet
	Share   float64 // share of the need, 0 to 1; 0 for none
	Amount  string  // a quantity, "by figure", or words
	Of      string
	Kind    string // of nutrient
	Medium  string
	Missed  Missed
	Option  bool
	Say     string
	Caution string
}

// MaxTitle is the most characters of a step's title, so that it fits a line of the day.
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

// Missed is what happens to a task whose window has closed.
type Missed string

// The values of Missed.
const (
	Drop Missed = "drop" // it lapses
	Late Missed = "late" // it can still be done
	Ask  Missed = "ask"  // the person is asked once whether it was done, then it lapses
)

// Window is when a task may be done around its due time: opens ≤ t < closes.
type Window struct{ Opens, Closes Offset }

// IsNever reports whether the window is never open.
func (w Window) IsNever() bool { return !w.Opens.before(w.Closes) }

// Repeat is how often a step is repeated.
type Repeat struct {
	Every  Offset
	Until  *When // inclusive
	AtMost int   // occurrences in all; 0 for no limit
	At     []Offset
	From   *When
}

// Quiet is a period in which routine steps are hidden.
type Quiet struct {
	From, To When
	BrokenBy []Condition
}

// When is a time in a plan: one point with an offset, or the first or last of several.
type When struct {
	Point  Point
	Offset Offset
	First  []When // the earliest of these that is known
	Last   []When // the latest of these, once all are known
	Text   string // as typed
}

// Point is an anchor, or the time at which a condition was first met.
type Point struct {
	Anchor    string // an act, a step's name, "quiet", "planned pitch"
	Last      bool   // the latest such entry instead of the first
	EndOf     string // the end of this step (of a quiet period)
	Condition *Condition
}

// ConditionKind is what a condition asks about.
type ConditionKind string

// The conditions of plans.
const (
	AtBreak         ConditionKind = "break"       // N/M
	Below           ConditionKind = "below"       // SG
	Above           ConditionKind = "above"       // SG
	NearFinish      ConditionKind = "near finish" // within 0.010 of the expected finish
	Steady          ConditionKind = "steady"
	Dry             ConditionKind = "dry"
	Stuck           ConditionKind = "stuck"
	Sluggish        ConditionKind = "sluggish"
	Restarted       ConditionKind = "restarted"
	Stabilised      ConditionKind = "stabilised"
	IsClear         ConditionKind = "clear"
	HasStarted      ConditionKind = "started"
	NotStarted      ConditionKind = "not started"
	IsWild          ConditionKind = "wild"
	EndingUndecided ConditionKind = "ending undecided"
	PaceOver        ConditionKind = "pace over"
	PaceUnder       ConditionKind = "pace under"
	PHOver          ConditionKind = "ph over"
	PHUnder         ConditionKind = "ph under"
	LeesOver        ConditionKind = "lees over" // cm
	HissOver        ConditionKind = "hiss over"
	HissUnder       ConditionKind = "hiss under"
	Feels           ConditionKind = "feel"
	Saw             ConditionKind = "seen"
	Smells          ConditionKind = "smell"
	HasFilm         ConditionKind = "film"
	HasMould        ConditionKind = "mould"
	DryAirlock      ConditionKind = "dry airlock"
	HasVerdict      ConditionKind = "verdict"
	StarterAtBreak  ConditionKind = "starter at break" // N/M
	ToleranceOver   ConditionKind = "tolerance over by"
	BacteriaWorked  ConditionKind = "bacteria worked"
	MustRead        ConditionKind = "must read"
	IsPrimed        ConditionKind = "primed"
	IsDiscarded     ConditionKind = "discarded"
	TwoOpeningsSame ConditionKind = "two openings equal"
	ActAtLeastAgo   ConditionKind = "at least ago" // ACT at least N h ago
	ActUnderAgo     ConditionKind = "under ago"    // ACT under N d ago
	KeySince        ConditionKind = "since"        // KEY since STEP
	StepDone        ConditionKind = "step"         // a step's name: it has been settled
)

// Condition is one yes-or-no question about a ferment.
type Condition struct {
	Kind   ConditionKind
	Number float64
	Break  BreakLimit
	Offset Offset
	Word   string // a word, an act, a key, or a step
	Step   string // of "KEY since STEP"
	Text   string // as typed
}

// PlannedPitch is the anchor for preparations before the yeast is pitched.
const PlannedPitch = "planned pitch"

// Offset is a distance in time. Hours and minutes are absolute; days, weeks and months are calendar steps that keep the
// time of day.
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

// IsZero reports whether the offset is none.
func (o Offset) IsZero() bool { return o.Number == 0 }

// Add moves a time by the offset in its zone; a month without the day uses its last day.
func (o Offset) Add(t time.Time) time.Time { return o.Times(1, t) }

// Times moves a time by n offsets at once, so that ends of months do not drift.
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

func span(n float64, unit time.Duration) time.Duration {
	return time.Duration(math.Round(n*unit.Seconds())) * time.Second
}

// addDays moves by calendar days; a remaining part of a day is absolute.
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

// Absolute returns the offset as a duration; not ok for days, weeks and months.
func (o Offset) Absolute() (d time.Duration, ok bool) {
	switch o.Unit {
	case Minute:
		return span(o.Number, time.Minute), true
	case Hour:
		return span(o.Number, time.Hour), true
	}
	return 0, false
}

func (o Offset) before(p Offset) bool {
	start := time.Date(2023, 1, 1, 0, 0, 0, 0, time.UTC)
	return o.Add(start).Before(p.Add(start))
}

const offsetHint = "a number and min, h, d, wk or mo, e.g. +12 h"

// longestOffset is the largest number of each unit: some fifty years, within a duration.
var longestOffset = map[OffsetUnit]float64{Minute: 25e6, Hour: 4.3e5, Day: 18e3, Week: 2600, Month: 600}

// ParseOffset reads an offset: "-12 h", "+24 h", "0 d", "2 mo".
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

// signed removes the space between a sign and its number.
func signed(number string) string {
	for _, sign := range []string{"+", "-", "−"} {
		if rest, found := strings.CutPrefix(number, sign); found {
			return sign + strings.TrimSpace(rest)
		}
	}
	return number
}
