package schedule

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

// How long a jug may go without a reading, and how long a question that was set aside
// stays away (common practice, no source).
const (
	mayFall      = 4.0 // points that may fall unseen
	firstMonth   = 28 * aDay
	mostAtFirst  = 7 * aDay
	mostLater    = 21 * aDay
	nextQuestion = 60 * aDay
)

// forgotten returns what a ferment needs that its plan does not ask for: a reading where
// the last one is too old for how fast it goes, and where the plan has run out always
// something.
func (p *planner) forgotten(ts []Task) []Task {
	if p.isCulture() || p.c.Stage == course.Bottled || p.quiet != nil || !p.c.Pitch.Known {
		return nil
	}
	next := slices.ContainsFunc(ts, func(t Task) bool {
		return !t.Option && (t.isAsked() || t.State == Waiting && (t.Due.After(p.now) || t.Opens.After(p.now)))
	})
	if p.wasSteady() {
		if next {
			return nil
		}
		return []Task{p.whatNext()}
	}
	soon := func(t Task) bool {
		return t.Do == ferment.DoGravity && (t.isAsked() || t.State == Waiting && t.Due.After(p.now) && t.Due.Sub(p.now) <= apart)
	}
	t := p.overdueReading()
	if slices.ContainsFunc(ts, soon) || next && (t.State == Waiting || !p.c.Started.Known) {
		return nil
	}
	return []Task{t}
}

// wasSteady tells whether the gravity has come to rest and has not moved since.
func (r *record) wasSteady() bool {
	return !r.c.Steady.Met.IsZero() && !r.is(ferment.Restarted)
}

// overdueReading returns the reading that is due once a jug has gone without one for
// longer than its pace allows: until 4 points may have fallen, at least a day, at most a
// week in the first month and three weeks later.
func (r *record) overdueReading() Task {
	since := r.c.Pitch.At
	if r.c.Gravity.IsKnown() {
		since = later(since, r.c.Gravity.Value.At)
	}
	allowed := mostLater
	if r.now.Sub(r.c.Pitch.At) < firstMonth {
		allowed = mostAtFirst
	}
	if r.c.Pace.IsKnown() && r.c.Pace.Value > 0 {
		allowed = min(max(time.Duration(mayFall/r.c.Pace.Value*float64(aDay)), aDay), allowed)
	}
	why := "no reading for " + r.age(since)
	due := since.In(r.zone).Add(allowed)
	if at, skipped := r.passedOver(Reading, since); skipped {
		due = at.Add(allowed)
	}
	if r.c.Pace.IsKnown() && r.c.Pace.Value*r.now.Sub(since).Hours()/24 >= mayFall {
		why += ": at its pace it may have fallen 4 points or more"
	}
	return r.extra(Task{Step: Reading, Do: ferment.DoGravity, Title: "take gravity", Due: due, Reason: why})
}

// whatNext asks what is to become of a mead that has come to rest.
func (r *record) whatNext() Task {
	due := r.c.Steady.Met.In(r.zone)
	for _, e := range r.entries {
		if at := r.momentOf(e); (e.Skipped != "" || e.Did == ferment.Choose || e.Did == ferment.Bottle) && at.After(r.c.Steady.Met) {
			due = at.Add(nextQuestion)
		}
	}
	return r.extra(Task{Step: WhatNext, Do: string(ferment.Choose), Title: "bottle it, or say what next", Due: due,
		Reason: "gravity is steady, and the plan has no further step"})
}
