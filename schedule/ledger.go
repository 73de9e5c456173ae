package schedule

import (
	"cmp"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/shelf"
)

// unplanned are the steps without a plan; they are settled elsewhere.
var unplanned = []string{LateNutrient, Reminder, ReadAgain, Reading, WhatNext}

// ledger is a calendar with what entries settle, and with doses that were merged.
type ledger struct {
	*calendar
	merged  map[slot]merger
	delayed map[slot]time.Time // a dose that waits for the one before it, and until when
}

type merger struct {
	into slot
	at   time.Time
}

// newLedger settles what the entries can settle, in order of time; for measurements see measuredIn.
func newLedger(k *calendar) *ledger {
	// One pass in order of time. Each entry settles at most one occurrence, and what it settles dates the steps that
	// depend on it, so a later entry is judged by a plan that the earlier ones have already moved.
	l := &ledger{calendar: k, merged: map[slot]merger{}, delayed: map[slot]time.Time{}}
	for _, e := range l.entries {
		name := cmp.Or(e.Skipped, e.Step, string(e.Did))
		if settles, is := alarmSettles(e); is {
			name = settles
		}
		if name != "" && !slices.Contains(unplanned, name) && !l.wasDrunk(e) {
			if o, ok := l.meant(name, e); ok {
				l.settle(o, e)
			}
		}
		l.settleAnswered(e)
	}
	return l
}

// settleAnswered settles acts that an entry answers without naming them: bubbles settle the look.
func (l *ledger) settleAnswered(e *ferment.Entry) {
	at := l.momentOf(e)
	for _, act := range []ferment.Act{ferment.Look, ferment.Started, ferment.Squeeze} {
		if e.Did == act || !e.AnswersTo(act) {
			continue
		}
		open := l.unsettledOf(string(act), at)
		if i := slices.IndexFunc(open, func(o occurrence) bool { return o.holds(at) }); i >= 0 {
			l.settle(open[i], e)
		}
	}
}

// settle records that an entry settles a task.
func (l *ledger) settle(o occurrence, e *ferment.Entry) {
	l.settled[o.slot] = true
	l.history[o.i] = append(l.history[o.i], settlement{o, l.momentOf(e), e.Skipped != "", e.Because})
}

// meant returns the occurrence that an entry settles: of its step, else of any step with its act.
func (l *ledger) meant(name string, e *ferment.Entry) (occurrence, bool) {
	at := l.momentOf(e)
	if e.Did == ferment.Pitch && e.Skipped == "" && e.Step == "" && len(l.upTo(string(ferment.Pitch), at)) <= 1 {
		if i := l.firstPitch(); i >= 0 {
			return l.series(i, at).occurrence(1)
		}
	}
	if i, ok := l.index[name]; ok && (e.Step != "" || e.Skipped != "") {
		o, ok := l.named(i, at)
		if ok && e.Did == ferment.Nutrient {
			l.takeOver(l.unsettledOf(string(ferment.Nutrient), at), o, at)
		}
		return o, ok
	}
	if e.Step != "" && e.Skipped == "" {
		name = string(e.Did)
	}
	open := l.unsettledOf(name, at)
	switch {
	case len(open) == 0:
		return occurrence{}, false
	case name == string(ferment.Nutrient):
		return l.dose(open, at), true
	}
	// By due time: the first whose window contains the time, else the latest.
	if i := slices.IndexFunc(open, func(o occurrence) bool { return o.holds(at) }); i >= 0 {
		return open[i], true
	}
	return open[len(open)-1], true
}

// firstPitch returns the index of the first step that pitches, -1 for none.
func (l *ledger) firstPitch() int {
	return slices.IndexFunc(l.steps, func(s ferment.Step) bool { return s.Do == string(ferment.Pitch) })
}

// named returns the occurrence of a step meant at a time: the latest open one, else the next.
func (l *ledger) named(i int, at time.Time) (occurrence, bool) {
	s := l.series(i, at)
	for n := max(s.latest(at), 1); ; n++ {
		if o, ok := s.occurrence(n); !ok || !l.settled[o.slot] {
			return o, ok
		}
	}
}

// unsettledOf returns the occurrences of an act that can be done, one for each step, by due time; not those due later,
// because an early act settles nothing, nor merged doses.
func (l *ledger) unsettledOf(do string, at time.Time) []occurrence {
	var open []occurrence
	for i, s := range l.steps {
		if s.Do != do || s.Quiet != nil {
			continue
		}
		all := l.series(i, at)
		o, ok := all.occurrence(all.latest(at))
		if _, taken := l.merged[o.slot]; ok && !taken && !l.settled[o.slot] && o.mayBeDone(at) {
			open = append(open, o)
		}
	}
	slices.SortStableFunc(open, func(a, b occurrence) int { return a.due.at.Compare(b.due.at) })
	return open
}

// dose returns the dose that an entry gives: the first open one, or the one into which it was merged.
func (l *ledger) dose(open []occurrence, at time.Time) occurrence {
	given := open[0]
	for _, next := range open[1:] {
		if at.Before(mergesAt(given, next)) {
			break
		}
		given = next
	}
	l.takeOver(open, given, at)
	return given
}

// takeOver merges the doses missed before a given one into it.
func (l *ledger) takeOver(open []occurrence, given occurrence, at time.Time) {
	i := slices.IndexFunc(open, func(o occurrence) bool { return o.slot == given.slot })
	for ; i > 0 && !at.Before(mergesAt(open[i-1], open[i])); i-- {
		l.merged[open[i-1].slot] = merger{open[i].slot, mergesAt(open[i-1], open[i])}
	}
}

// mergesAt returns when a missed dose and the next are due at once: the next is open and the window of the first is
// over, or the next is due.
func mergesAt(missed, next occurrence) time.Time {
	at := missed.closes
	if next.due.at.Before(at) {
		at = next.due.at
	}
	return ferment.Later(at, next.opens)
}

// mergeDoses merges a missed dose into the next where both are due now; otherwise the next waits for the first. Only
// for planned doses not given yet, within the day's list.
func (l *ledger) mergeDoses() {
	due := slices.DeleteFunc(l.unsettledOf(string(ferment.Nutrient), l.dayEnd), func(o occurrence) bool {
		return o.step.Option || l.anyHolds(o.step.Unless)
	})
	// Pairs in order of due time, each looked at once: a merged dose may bring its own predecessor with it.
	for i := 1; i < len(due); i++ {
		missed, next := due[i-1], due[i]
		if at := mergesAt(missed, next); l.Passed(at) {
			l.merged[missed.slot] = merger{next.slot, at}
		} else {
			l.delayed[next.slot] = at
		}
	}
}

// takesOver reports whether a missed dose was merged into an occurrence not given yet.
func (l *ledger) takesOver(o occurrence) bool {
	for missed, next := range l.merged {
		if next.into == o.slot && !l.settled[missed] {
			return true
		}
	}
	return false
}

// wasDrunk reports whether an entry opened a bottle to drink or to keep without observations, which is not an opening
// of the plan.
func (l *ledger) wasDrunk(e *ferment.Entry) bool {
	told := e.Hiss.Known() || e.Foam.Known() || e.Feel != "" || e.HasDensity() || e.Taste.Palate != ""
	if e.Did != ferment.Open || e.Bottle == "" || e.Step != "" || told {
		return false
	}
	for _, t := range shelf.Of(l.c).Taken {
		if t.Entry.Order == e.Order && t.Entry.At.Time.Equal(e.At.Time) {
			return t.Purpose == shelf.Drink || t.Purpose == shelf.Keep
		}
	}
	return false
}

// quietNow returns the present quiet period. A condition that needs attention interrupts it, and fruit ends it, because
// the mead ferments again.
func (k *calendar) quietNow() *Quiet {
	fruit, fruited := k.c.Last(ferment.FruitIn)
	for _, s := range k.steps {
		if s.Quiet == nil {
			continue
		}
		from, to := k.when(s.Quiet.From, k.now), k.when(s.Quiet.To, k.now)
		holds := from.known && to.known && k.Passed(from.at) && !k.Passed(to.at)
		if holds && !k.anyHolds(s.Quiet.BrokenBy) && !(fruited && k.momentOf(fruit).After(from.at)) {
			return &Quiet{From: from.at, To: to.at}
		}
	}
	return nil
}

// hush hides routine tasks in a quiet period: those due wait for its end, those missed are removed. Late tasks, looks
// at the airlock, gates and dangers stay.
func (k *calendar) hush(ts []Task, quiet *Quiet) []Task {
	if quiet == nil {
		return ts
	}
	out := ts[:0]
	for _, t := range ts {
		routine := t.Routine && !t.Danger
		switch {
		case routine && t.State == Lapsed && !t.Opens.IsZero() && !t.Opens.Before(quiet.From):
			continue
		case routine && (t.State == Due || t.State == Held):
			was, words := t, "quiet until "+dated(quiet.To)
			if i, ok := k.index[t.Step]; ok && k.steps[i].Missed == ferment.Drop && !t.Closes.After(quiet.To) {
				t = t.waiting(words, time.Time{})
			} else {
				t = t.waiting(words, ferment.Later(t.Opens, quiet.To))
				t.Due, t.Closes = was.Due, was.Closes
			}
		}
		out = append(out, t)
	}
	return out
}
