package schedule

import (
	"cmp"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/shelf"
)

// unplanned settle themselves.
var unplanned = []string{LateNutrient, Reminder, ReadAgain, Reading, WhatNext}

// ledger is a calendar with what entries settle, and which doses take over others.
type ledger struct {
	*calendar
	merged  map[slot]merger
	delayed map[slot]time.Time // a dose that waits for the one before it → until when
}

type merger struct {
	into slot
	at   time.Time
}

// newLedger lets the entries settle what they can, in the order of time; see measuredIn.
func newLedger(k *calendar) *ledger {
	// One pass in the order of time. Each entry settles at most one occurrence, and
	// what it settles dates the steps that hang on it, so a later entry is judged
	// by a plan that the earlier ones have already moved.
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

// settleAnswered settles what an entry answers by other words: bubbles settle the look.
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

func (l *ledger) settle(o occurrence, e *ferment.Entry) {
	l.settled[o.slot] = true
	l.history[o.i] = append(l.history[o.i], settlement{o, l.momentOf(e), e.Skipped != "", e.Because})
}

// meant returns the occurrence that an entry settles: of its step, else of any with its act.
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
	// By due time: the first whose window holds the time, else the latest.
	if i := slices.IndexFunc(open, func(o occurrence) bool { return o.holds(at) }); i >= 0 {
		return open[i], true
	}
	return open[len(open)-1], true
}

// firstPitch returns the place of the first step that pitches, -1 for none.
func (l *ledger) firstPitch() int {
	return slices.IndexFunc(l.steps, func(s ferment.Step) bool { return s.Do == string(ferment.Pitch) })
}

// named returns the occurrence of a step meant at a time: the latest open, else the next.
func (l *ledger) named(i int, at time.Time) (occurrence, bool) {
	s := l.series(i, at)
	for n := max(s.latest(at), 1); ; n++ {
		if o, ok := s.occurrence(n); !ok || !l.settled[o.slot] {
			return o, ok
		}
	}
}

// unsettledOf returns the occurrences of an act that may still be done, one a step, by due time; not what is due later,
// since who is early settles nothing, nor a dose taken over since.
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

// dose returns the dose that is given at a time: the first open one, or what took it over.
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

// takeOver lets a dose that is given at a time take over those missed before it.
func (l *ledger) takeOver(open []occurrence, given occurrence, at time.Time) {
	i := slices.IndexFunc(open, func(o occurrence) bool { return o.slot == given.slot })
	for ; i > 0 && !at.Before(mergesAt(open[i-1], open[i])); i-- {
		l.merged[open[i-1].slot] = merger{open[i].slot, mergesAt(open[i-1], open[i])}
	}
}

// mergesAt returns when a missed dose and the next are due at once: the next is open and the first past its window,
// or the next has come to its due time.
func mergesAt(missed, next occurrence) time.Time {
	at := missed.closes
	if next.due.at.Before(at) {
		at = next.due.at
	}
	return ferment.Later(at, next.opens)
}

// mergeDoses lets a missed dose go over to the next where both are due now, and else the next wait for the first,
// among planned doses not given yet and within the day's list.
func (l *ledger) mergeDoses() {
	due := slices.DeleteFunc(l.unsettledOf(string(ferment.Nutrient), l.dayEnd), func(o occurrence) bool {
		return o.step.Option || l.anyHolds(o.step.Unless)
	})
	// Pairs in the order of due time: a dose that is taken over may take its own
	// predecessor with it, because each pair is looked at once, the earlier first.
	for i := 1; i < len(due); i++ {
		missed, next := due[i-1], due[i]
		if at := mergesAt(missed, next); l.Passed(at) {
			l.merged[missed.slot] = merger{next.slot, at}
		} else {
			l.delayed[next.slot] = at
		}
	}
}

// takesOver reports whether an occurrence has taken over a missed dose not given yet.
func (l *ledger) takesOver(o occurrence) bool {
	for missed, next := range l.merged {
		if next.into == o.slot && !l.settled[missed] {
			return true
		}
	}
	return false
}

// wasDrunk reports whether an opened bottle was one to drink or to keep of which
// nothing is told: that is no opening of the plan, and settles none.
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

// quietNow returns the quiet period that holds now, broken while a condition wants hands, and for good by fruit,
// on which a mead works again.
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

// hush hides routine steps in a quiet period: what would be due waits for its end, what lapses unseen is not there.
// What was late, looks at the airlock, gates and dangers stay.
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
