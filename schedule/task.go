// Package schedule says what a ferment or a culture needs and when. It is
// pure: the same plan, log and moment give the same day.
package schedule

import (
	"cmp"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// State is what has become of a task.
type State string

// The states exclude each other in this order.
const (
	Done    State = "done"
	Skipped State = "skipped"
	Lapsed  State = "lapsed"
	Held    State = "held"
	Late    State = "late"
	Due     State = "due"
	Waiting State = "waiting"
)

// Task is a step applied to one ferment or culture at one time.
type Task struct {
	Subject    string // the ferment's or culture's id
	Step       string
	Title      string // what a person reads, where the protocol says it
	Occurrence int    // from 1
	Do         string // an act or a measurement; "reminder" for one
	State      State

	Opens, Due, Closes time.Time
	Open               bool             // the window is open now; a due task that opens later today is not
	Expected           *course.Expected // where the time comes from a forecast
	Until              *Limit           // the gravity that closes it, where gravity and not the clock does
	Settled            time.Time        // when it was done, skipped, or lapsed

	Amount  *Amount
	Also    []ferment.Act // done together with it, first
	Reason  string        // one sentence
	Frees   string        // of a held task: the act or measurement that frees it
	Answer  string        // the word or the answer that does, where the act says too little
	FreedBy time.Time     // and until when that makes sense, zero where it does not matter
	Caution *Caution
	Option  bool   // offered, never late
	Say     string // the protocol's sentence
	Instead string // of a stop: what to do now
	Asks    bool   // asks whether it was done
	Danger  bool   // an alarm, or held with a stop caution
	Alarm   *Alarm // a danger that wants somebody now
	Routine bool   // hidden in a quiet period
	Remedy  bool   // asked for because of what the record says
	Round   bool   // a look of the weekly round of all quiet vessels

	hold *hold // of a held task: what stands against it
}

// The steps that no plan has: the one dose of yeast-derived nutrient that may be
// chosen between the two breaks, where a planned dose has lapsed; a person's own
// reminder; a reading that a condition waits for; and, where a plan asks for too
// little, a reading, and what is to become of a mead that is ready. An entry that
// names Reminder as its step, or passes it over, settles the earliest that is open.
const (
	LateNutrient = "nutrient-late"
	Reminder     = "reminder"
	ReadAgain    = "read-again"
	Reading      = "reading"
	WhatNext     = "what-next"
)

// Limit is the gravity at which something ends, and when that is expected.
type Limit struct {
	Gravity  measure.Gravity
	Expected *course.Expected
}

// Amount is how much of what, and how that was worked out.
type Amount struct {
	Known   bool
	Number  float64
	Unit    string // "g", "mL", "g/L"
	Of      string
	Stock   *Stock // the same dose as a stock solution, where the scale is too coarse
	Words   string // where the amount is no single quantity: "9 × 330 mL", "all the sediment"
	How     string // "half of 116 mg/L in 3.55 L"
	Assumed string
	Unknown string          // why there is no number
	Before  measure.Content // nitrogen given before it
	Reached measure.Content // nitrogen given in all once this is in; 0 where it is no nutrient
	Wanted  measure.Content
}

// Stock is a volume of a stock solution of so many grams in 100 mL.
type Stock struct {
	Volume  measure.Volume
	Percent float64
}

// Loud is how much a caution wants to be seen.
type Loud string

// The loudness of cautions.
const (
	Stop Loud = "stop"
	Warn Loud = "warn"
	Note Loud = "note"
)

// Caution is what can happen and what to do about it.
type Caution struct {
	Name string
	Loud Loud
	Text string
}

// Alarm is a danger that wants somebody now: what it is, what may happen, what to do.
type Alarm struct {
	Head  string   // what it is, up to 36 columns
	Risk  string   // what may happen, one sentence; empty where the head says it
	Steps []string // what to do, in order, each up to 45 columns
	Long  string   // the same in full, for paper and for reading aloud
	Ends  string   // what ends it: "the crate is in the cold"
}

// In returns an alarm in the units of a person.
func (a Alarm) In(s measure.System) Alarm {
	a.Long, a.Steps = measure.Fill(a.Long, s), slices.Clone(a.Steps)
	for i, step := range a.Steps {
		a.Steps[i] = measure.Fill(step, s)
	}
	return a
}

// Gate is a checklist before something that cannot be undone, as it stands.
type Gate struct {
	Name  ferment.Gate
	Open  bool
	Unmet []course.Unmet
	Says  string // one phrase: "over 0.005 past the 1/3 break"
}

// Day is everything that a plan says at one moment.
type Day struct {
	Tasks []Task // in the order of the board: held with danger, late, held, due by closing, the rest
	Gates []Gate
	Quiet *Quiet // the quiet period that holds now
}

// Quiet is a quiet period.
type Quiet struct{ From, To time.Time }

type hold struct {
	name    string // the gate, the stop or the need
	verdict string // in one or two words
	reason  string
	frees   string // the act or measurement that frees it; empty where only time does
	asks    string // the word or the answer that frees it, where the act alone says too little
	danger  *Caution
	instead string
}

// No is why a task may not be done now. A typed reason passes it.
type No struct {
	Name    string // the gate, stop or rule; recorded as overrode with the reason
	Verdict string // "closed", "too soon", "shut", "stop", "held", "enough"
	Why     []string
	Instead string // what to do instead, in one phrase
	Option  *Task  // the task to do instead, where the plan has one
}

// isAsked reports whether a task is in the day's list and not settled.
func (t *Task) isAsked() bool { return t.State == Due || t.State == Late || t.State == Held }

func (t *Task) heldBy(h hold, now time.Time) {
	t.State, t.Reason, t.hold, t.Frees, t.Answer = Held, h.reason, &h, h.frees, h.asks
	if t.Frees != "" && now.Before(t.Closes) {
		t.FreedBy = t.Closes
	}
	if h.danger != nil {
		t.Danger, t.Routine, t.Caution, t.Instead = true, false, h.danger, h.instead
	}
}

// waiting returns a task that waits for something that stands against all of its kind,
// until a time or, where that is zero, until nobody knows when.
func (t Task) waiting(reason string, until time.Time) Task {
	t.State, t.Open, t.Danger, t.Asks, t.Reason = Waiting, false, false, false, reason
	t.Frees, t.FreedBy, t.Caution, t.Instead, t.hold = "", time.Time{}, nil, "", nil
	t.Opens, t.Due, t.Closes = until, until, until
	return t
}

// sortTasks orders tasks for the board: danger, late, held, due by closing time, the rest.
func sortTasks(ts []Task) {
	slices.SortStableFunc(ts, func(a, b Task) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), sortTime(a).Compare(sortTime(b)))
	})
}

func rank(t Task) int {
	switch {
	case t.Alarm != nil:
		return -1
	case t.State == Held && t.Danger:
		return 0
	case t.Option && t.State != Done && t.State != Skipped && t.State != Lapsed:
		return 5
	}
	return ranks[t.State]
}

var ranks = map[State]int{Late: 1, Held: 2, Due: 3, Lapsed: 4, Waiting: 6, Done: 7, Skipped: 7}

// sortTime orders tasks of one rank. What has no time comes last among what waits.
func sortTime(t Task) time.Time {
	switch t.State {
	case Held:
		if !t.FreedBy.IsZero() {
			return t.FreedBy
		}
	case Waiting:
		switch {
		case t.Expected != nil:
			return t.Expected.At
		case t.Due.IsZero():
			return time.Date(9999, 1, 1, 0, 0, 0, 0, time.UTC)
		}
		return t.Opens
	case Lapsed, Done, Skipped:
		return t.Settled
	}
	return t.Closes
}
