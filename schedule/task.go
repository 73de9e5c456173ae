// Package schedule calculates what a ferment or a culture needs and when. It is pure: the same plan, log and moment
// give the same day. Start at Plan.
package schedule

import (
	"cmp"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// State is the state of a task.
type State string

// The states, in order of precedence.
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
	Title      string // for a person, if the protocol has one
	Occurrence int    // from 1
	Do         string // an act or a measurement; "reminder" for one
	State      State

	Opens, Due, Closes time.Time
	Open               bool             // the window is open now; false for a due task that opens later today
	Expected           *course.Expected // if the time is from a forecast
	Until              *Limit           // the gravity that closes it, if gravity does and not the clock
	Settled            time.Time        // when it was done, skipped, or lapsed

	Amount  *Amount
	Also    []ferment.Act // done together with it, before it
	Reason  string        // one sentence
	Frees   string        // of a held task: act or measurement that frees it
	Answer  string        // the answer or word that frees it, if the act is not enough
	FreedBy time.Time     // until when that makes sense, zero for always
	Caution *Caution
	Option  bool               // offered, never late
	Say     string             // the protocol's sentence
	Instead string             // of a stop: what to do now
	Asks    bool               // asks whether it was done
	Ended   bool               // lapsed because what it is for has come: nothing was missed
	Danger  bool               // an alarm, or held with a stop caution
	Alarm   *Alarm             // a danger that needs somebody now
	Routine bool               // hidden in a quiet period
	Remedy  bool               // it follows from the record
	Round   bool               // a look of the weekly round
	Hold    *Hold              // of a held task: the reason against it
	Past    ferment.BreakLimit // of a lapsed dose: the break that gravity has passed, if that ends it
}

// The steps that are in no plan: the optional dose of yeast-derived nutrient between the two breaks after a planned
// dose has lapsed; a person's reminder; a reading that a condition needs; and, if a plan asks for too little, a
// reading, and what to do with a mead that is ready. An entry that names Reminder as its step, or skips it, settles the
// earliest open one.
const (
	LateNutrient = "nutrient-late"
	Reminder     = "reminder"
	ReadAgain    = "read-again"
	Reading      = "reading"
	WhatNext     = "what-next"
)

// Limit is the gravity at which something ends, and its expected time.
type Limit struct {
	Gravity  measure.Gravity
	Expected *course.Expected
}

// Amount is how much of what, and how it was calculated.
type Amount struct {
	Known   bool
	Number  float64
	Unit    string // "g", "mL", "g/L"
	Of      string
	Stock   *Stock // the same dose as a stock solution, if the scale is too coarse
	Words   string // if the amount is not a single quantity: "9 × 330 mL", "all the sediment"
	How     string // "half of 116 mg/L in 3.55 L"
	Assumed string
	Unknown string          // why there is no number
	Before  measure.Content // nitrogen given before it
	Reached measure.Content // nitrogen given in all with it; 0 if it is not a nutrient
	Wanted  measure.Content

	Dissolved measure.Volume // water to dissolve priming sugar in
}

// Stock is a volume of a stock solution of so many grams in 100 mL.
type Stock struct {
	Volume  measure.Volume
	Percent float64
}

// Loud is the severity of a caution: stop, warn or note.
type Loud string

// The severities.
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

// Alarm is a danger that needs somebody now: what it is, what may happen, what to do.
type Alarm struct {
	Head  string   // what it is, up to 36 columns
	Risk  string   // what may happen, one sentence; empty where the head says it
	Steps []string // what to do, in order, each up to 45 columns
	Long  string   // the same in full, for paper and for --plain
	Ends  string   // what ends it: "the crate is in the cold"
}

// In converts an alarm to a system of units.
func (a Alarm) In(s measure.System) Alarm {
	a.Long, a.Steps = measure.Fill(a.Long, s), slices.Clone(a.Steps)
	for i, step := range a.Steps {
		a.Steps[i] = measure.Fill(step, s)
	}
	return a
}

// Gate is the state of a checklist before something that cannot be undone.
type Gate struct {
	Name  ferment.Gate
	Open  bool
	Unmet []course.Unmet
	Says  string // one phrase: "over 0.005 past the 1/3 break"
}

// Day is the result of a plan at one moment.
type Day struct {
	Tasks []Task // in the order of the board: held with danger, late, held, due by closing, the rest
	Gates []Gate
	Quiet *Quiet // the quiet period that holds now
}

// Quiet is a quiet period.
type Quiet struct{ From, To time.Time }

// Hold is what a held task waits for, or why an act is refused.
type Hold struct {
	Gate ferment.Gate      // the checklist that is not ready, if it is one
	Need ferment.Condition // the condition of the plan that is not met, if it is one
	Wait *Wait             // how long to wait, if only time frees it

	name    string // the gate, stop or need
	verdict string // in one or two words
	reason  string
	frees   string // act or measurement that frees it; empty if only time does
	asks    string // answer or word that frees it, if the act is not enough
	danger  *Caution
	instead string
}

// Wait is the time that has to pass after something.
type Wait struct {
	What         string // in words: "4 g went in"
	Since, Until time.Time
}

// No is the reason why a task may not be done now. A typed reason overrides it.
type No struct {
	Name    string // the gate, stop or rule; recorded as overrode with the reason
	Verdict string // "closed", "too soon", "shut", "stop", "held", "enough"
	Why     []string
	Instead string // what to do instead, in one phrase
	Option  *Task  // the task to do instead, if the plan has one
}

func (t *Task) isAsked() bool { return t.State == Due || t.State == Late || t.State == Held }

func (t *Task) heldBy(h Hold, now time.Time) {
	t.State, t.Reason, t.Hold, t.Frees, t.Answer = Held, h.reason, &h, h.frees, h.asks
	if t.Frees != "" && now.Before(t.Closes) {
		t.FreedBy = t.Closes
	}
	if h.danger != nil {
		t.Danger, t.Routine, t.Caution, t.Instead = true, false, h.danger, h.instead
	}
}

// waiting returns the task as waiting for a reason that applies to all of its kind, until a time, or zero if unknown.
func (t Task) waiting(reason string, until time.Time) Task {
	t.State, t.Open, t.Danger, t.Asks, t.Reason = Waiting, false, false, false, reason
	t.Frees, t.FreedBy, t.Caution, t.Instead, t.Hold = "", time.Time{}, nil, "", nil
	t.Opens, t.Due, t.Closes = until, until, until
	return t
}

// pointless returns the task as one that waits without a time.
func (t Task) pointless(reason string) Task {
	t = t.waiting(reason, time.Time{})
	t.Until, t.Expected = nil, nil
	return t
}

// sortTasks orders tasks for the board: danger, late, held, due by closing time, the rest.
func sortTasks(ts []Task) {
	slices.SortStableFunc(ts, func(a, b Task) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), a.SortTime().Compare(b.SortTime()))
	})
}

// rank returns the place of a task in the day: dangers first, options last.
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

// SortTime orders tasks of one rank. What has no time comes last.
func (t *Task) SortTime() time.Time {
	at := t.Closes
	switch t.State {
	case Held:
		if !t.FreedBy.IsZero() {
			return t.FreedBy
		}
	case Waiting:
		if t.Expected != nil {
			return t.Expected.At
		}
		at = t.Opens
	case Lapsed, Done, Skipped:
		return t.Settled
	}
	if at.IsZero() {
		return time.Date(9999, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	return at
}
