package schedule

import (
	"cmp"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
)

// settlement is an occurrence that an entry has settled.
type settlement struct {
	occurrence
	at      time.Time
	skipped bool
	because string
}

// settleAll lets the entries, in the order of time, settle what they can. What
// was measured settles by itself, see measuredIn.
func (p *planner) settleAll() {
	// One pass in the order of time. Each entry settles at most one occurrence, and
	// what it settles dates the steps that hang on it, so a later entry is judged
	// by a plan that the earlier ones have already moved.
	for _, e := range p.entries {
		name := cmp.Or(e.Skipped, e.Step, string(e.Did))
		if settles, is := alarmSettles(e); is {
			name = settles
		}
		if name != "" && !unplanned[name] && !p.wasDrunk(e) {
			if o, ok := p.meant(name, e); ok {
				p.settle(o, e)
			}
		}
		p.settleAnswered(e)
	}
	p.quiet = p.quietNow()
}

// settleAnswered settles what asks for something that the entry says, whatever act
// it names: an airlock that works settles the look.
func (p *planner) settleAnswered(e *ferment.Entry) {
	for _, act := range []ferment.Act{ferment.Look, ferment.Started, ferment.Squeeze} {
		if e.Did == act || !e.AnswersTo(act) {
			continue
		}
		at := p.momentOf(e)
		for _, o := range p.unsettledOf(string(act), at) {
			if o.holds(at) {
				p.settle(o, e)
				break
			}
		}
	}
}

// unplanned are the steps that no plan has, which settle themselves.
var unplanned = map[string]bool{LateNutrient: true, Reminder: true, ReadAgain: true, Reading: true, WhatNext: true}

func (p *planner) settle(o occurrence, e *ferment.Entry) {
	s := settlement{o, p.momentOf(e), e.Skipped != "", e.Because}
	p.settled[o.slot] = s
	p.history[o.step] = append(p.history[o.step], s)
	if _, had := p.first[o.step]; !had {
		p.first[o.step] = s.at
	}
}

// meant is the occurrence that an entry settles: of the step it names, else
// among all steps with its act.
func (p *planner) meant(name string, e *ferment.Entry) (occurrence, bool) {
	at := p.momentOf(e)
	if e.Did == ferment.Pitch && e.Skipped == "" && len(p.upTo(string(ferment.Pitch), at)) <= 1 {
		if i, ok := p.firstStepOf(string(ferment.Pitch)); ok && e.Step == "" {
			return p.occurrence(i, 1, at)
		}
	}
	if i, ok := p.index[name]; ok && (e.Step != "" || e.Skipped != "") {
		o, ok := p.named(i, at)
		if ok && e.Did == ferment.Nutrient {
			p.takeOver(p.unsettledOf(string(ferment.Nutrient), at), o, at)
		}
		return o, ok
	}
	if e.Step != "" && e.Skipped == "" {
		name = string(e.Did)
	}
	open := p.unsettledOf(name, at)
	if len(open) == 0 {
		return occurrence{}, false
	}
	if name == string(ferment.Nutrient) {
		return p.dose(open, at), true
	}
	return nearest(open, at), true
}

func (p *planner) firstStepOf(do string) (int, bool) {
	for i, s := range p.steps {
		if s.Do == do {
			return i, true
		}
	}
	return 0, false
}

// named is the occurrence of a step that is meant at a time: the latest that
// has opened, else the next one, early.
func (p *planner) named(i int, at time.Time) (occurrence, bool) {
	s := p.series(i, at)
	for n := max(p.latest(s, i, at), 1); ; n++ {
		o, ok := p.nthOf(s, i, n)
		if _, done := p.settled[o.slot]; !ok || !done {
			return o, ok
		}
	}
}

// unsettledOf are the occurrences of an act that may still be done at a time,
// one a step, by due time. What is due later is not among them, since who is
// early settles nothing, nor a dose that one given since has taken over.
func (p *planner) unsettledOf(do string, at time.Time) []occurrence {
	var open []occurrence
	for i, s := range p.steps {
		if s.Do != do || s.Quiet != nil {
			continue
		}
		all := p.series(i, at)
		o, ok := p.nthOf(all, i, p.latest(all, i, at))
		if _, taken := p.merged[o.slot]; !ok || taken || p.isSettled(o) || !p.mayBeDone(o, at) {
			continue
		}
		open = append(open, o)
	}
	slices.SortStableFunc(open, func(a, b occurrence) int { return a.due.at.Compare(b.due.at) })
	return open
}

func (p *planner) isSettled(o occurrence) bool {
	_, done := p.settled[o.slot]
	return done
}

// mayBeDone tells whether the window holds a time, or has closed on what may be
// done late.
func (p *planner) mayBeDone(o occurrence, at time.Time) bool {
	s := p.steps[o.step]
	return o.holds(at) || s.Missed != ferment.Drop && !s.Option && !o.replaced(at)
}

// nearest is, of occurrences by due time, the first whose window holds a time,
// else the latest.
func nearest(open []occurrence, at time.Time) occurrence {
	for _, o := range open {
		if o.holds(at) {
			return o
		}
	}
	return open[len(open)-1]
}

// dose is the dose that nutrient at a time is: the first that is open, or the
// one that has taken it over.
func (p *planner) dose(open []occurrence, at time.Time) occurrence {
	given := open[0]
	for _, next := range open[1:] {
		if at.Before(mergesAt(given, next)) {
			break
		}
		given = next
	}
	p.takeOver(open, given, at)
	return given
}

// takeOver lets a dose that is given at a time take over those missed before it.
func (p *planner) takeOver(open []occurrence, given occurrence, at time.Time) {
	i := slices.IndexFunc(open, func(o occurrence) bool { return o.slot == given.slot })
	for ; i > 0 && !at.Before(mergesAt(open[i-1], open[i])); i-- {
		missed, next := open[i-1], open[i]
		p.merged[missed.slot], p.mergedAt[missed.slot] = next.slot, mergesAt(missed, next)
	}
}

// mergesAt is when a missed dose and the next are due at once, so that the next
// takes the missed one over: the next is open and the first is past its window,
// or the next has come to its due time.
func mergesAt(missed, next occurrence) time.Time {
	at := missed.closes
	if next.due.at.Before(at) {
		at = next.due.at
	}
	return later(at, next.opens)
}

// measuredIn is when a measurement settled an occurrence: the first one made in
// its window, or afterwards where it may be late.
func (p *planner) measuredIn(o occurrence, asOf time.Time) (time.Time, bool) {
	s := p.steps[o.step]
	if !ferment.IsMeasurement(s.Do) || o.opens.IsZero() {
		return time.Time{}, false
	}
	ts := p.upTo(s.Do, asOf)
	n, _ := slices.BinarySearchFunc(ts, o.opens, time.Time.Compare)
	if n == len(ts) || !p.mayBeDone(o, ts[n]) {
		return time.Time{}, false
	}
	return ts[n], true
}
