package schedule

import (
	"math"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

// How long a jug may go without a reading, and how long a question that was set aside
// stays away (common practice, no source).
const (
	mayFall       = 4.0 // points that may fall unseen
	firstMonth    = 28 * aDay
	mostAtFirst   = 7 * aDay
	mostLater     = 21 * aDay
	nextQuestion  = 60 * aDay
	apartReadings = 3 * aDay // between two requests for the same measurement
)

// forgotten is what a ferment needs that its plan does not ask for: a reading where
// the last one is too old for how fast it goes, and where the plan has run out always
// something.
func (p *planner) forgotten(ts []Task) []Task {
	if p.isCulture() || p.c.Stage == course.Bottled || p.quiet != nil || !p.c.Pitch.Known {
		return nil
	}
	next := hasNext(ts, p.now)
	if p.wasSteady() {
		if next {
			return nil
		}
		return []Task{p.whatNext()}
	}
	t := p.overdueReading()
	switch {
	case p.asksForGravity(ts):
		return nil
	case next && (t.State == Waiting || !p.c.Started.Known):
		return nil
	}
	return []Task{t}
}

// hasNext tells whether there is anything to do, or a day on which there will be.
func hasNext(ts []Task, now time.Time) bool {
	for _, t := range ts {
		switch t.State {
		case Due, Late, Held:
			if !t.Option {
				return true
			}
		case Waiting:
			if !t.Option && (t.Due.After(now) || t.Opens.After(now)) {
				return true
			}
		}
	}
	return false
}

// asksForGravity tells whether gravity is asked for already, or will be within three
// days.
func (p *planner) asksForGravity(ts []Task) bool {
	for _, t := range ts {
		if t.Do != ferment.DoGravity {
			continue
		}
		switch t.State {
		case Due, Late, Held:
			return true
		case Waiting:
			if t.Due.After(p.now) && t.Due.Sub(p.now) <= apartReadings {
				return true
			}
		}
	}
	return false
}

// wasSteady tells whether the gravity has come to rest and has not moved since.
func (p *planner) wasSteady() bool {
	return !p.c.Steady.Met.IsZero() && !p.is(ferment.Restarted)
}

// overdueReading is the reading that is due once a jug has gone without one for longer
// than its pace allows.
func (p *planner) overdueReading() Task {
	since := p.c.Pitch.At
	if p.c.Gravity.IsKnown() {
		since = later(since, p.c.Gravity.Value.At)
	}
	allowed := p.unread()
	why := "no reading for " + p.age(since)
	due := since.In(p.zone).Add(allowed)
	if at, skipped := p.passedOver(Reading, since); skipped {
		due = at.Add(allowed)
	}
	if p.c.Pace.IsKnown() && p.c.Pace.Value*p.now.Sub(since).Hours()/24 >= mayFall {
		why += ": at its pace 4 points and more may have fallen"
	}
	return p.extra(Task{Step: Reading, Do: ferment.DoGravity, Title: "take gravity", Due: due, Reason: why})
}

// unread is how long a jug may go without a reading: until 4 points may have fallen,
// at least a day, at most a week in the first month and three weeks later.
func (p *planner) unread() time.Duration {
	most := mostLater
	if p.now.Sub(p.c.Pitch.At) < firstMonth {
		most = mostAtFirst
	}
	if !p.c.Pace.IsKnown() || p.c.Pace.Value <= 0 {
		return most
	}
	days := math.Min(mayFall/p.c.Pace.Value, most.Hours()/24)
	return max(time.Duration(days*float64(aDay)), aDay)
}

// whatNext asks what is to become of a mead that has come to rest.
func (p *planner) whatNext() Task {
	due := p.c.Steady.Met.In(p.zone)
	for _, e := range p.entries {
		if at := p.momentOf(e); (e.Skipped != "" || e.Did == ferment.Choose || e.Did == ferment.Bottle) && at.After(p.c.Steady.Met) {
			due = at.Add(nextQuestion)
		}
	}
	return p.extra(Task{Step: WhatNext, Do: string(ferment.Choose), Title: "bottle it, or say what next", Due: due,
		Reason: "it has come to rest, and the plan says nothing more"})
}
