package schedule

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// occurrence is one time that a step comes up.
type occurrence struct {
	slot
	due           instant
	opens, closes time.Time // opens ≤ t < closes
	next          time.Time // when the next one opens and this one gives way; zero for never
}

// slot is what tells occurrences apart: the step, the number, and what the
// step hangs on where that moves ("last rack").
type slot struct {
	step, n int
	base    time.Time
}

// ends is when the window is over: closed, or taken over by the next.
func (o occurrence) ends() time.Time {
	if !o.next.IsZero() && o.next.Before(o.closes) {
		return o.next
	}
	return o.closes
}

// replaced tells whether the next occurrence takes over before the window
// closes or, for one that may be late, at any time.
func (o occurrence) replaced(t time.Time) bool { return !o.next.IsZero() && !t.Before(o.next) }

func (o occurrence) holds(t time.Time) bool { return !t.Before(o.opens) && t.Before(o.ends()) }

// occurrence is the nth time of a step as of a moment, n from 1. There is none
// where the repeats are over. One that hangs on something that has not
// happened has no window.
func (p *planner) occurrence(i, n int, asOf time.Time) (occurrence, bool) {
	return p.nthOf(p.series(i, asOf), i, n)
}

func (p *planner) nthOf(s series, i, n int) (occurrence, bool) {
	due, ok := s.due(n)
	if !ok {
		return occurrence{}, false
	}
	o := occurrence{slot: slot{i, n, s.moving}, due: due}
	if !due.known || due.at.IsZero() {
		return o, true
	}
	w := p.steps[i].Window
	o.opens, o.closes = w.Opens.Add(due.at), w.Closes.Add(due.at)
	if next, ok := s.due(n + 1); ok && next.known {
		o.next = later(w.Opens.Add(next.at), o.opens)
	}
	return o, true
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// lapsedBy tells whether an unsettled occurrence can no longer be done at a
// time, by its own window and its end alone.
func (p *planner) lapsedBy(o occurrence, t time.Time) bool {
	s := p.steps[o.step]
	if end := p.endOfStep(s, t); end.known {
		return true
	}
	switch {
	case o.replaced(t):
		return true
	case s.Missed == ferment.Drop || s.Option:
		return !t.Before(o.ends())
	case s.Missed == ferment.Ask:
		return !t.Before(askedUntil(o))
	}
	return false
}

// askedUntil is how long a task asks whether it was done: a day.
func askedUntil(o occurrence) time.Time { return o.ends().AddDate(0, 0, 1) }

// endOfStep is when a step lapsed for good, up to a moment.
func (p *planner) endOfStep(s ferment.Step, asOf time.Time) instant {
	if s.Ends == nil {
		return instant{}
	}
	if c := s.Ends.Point.Condition; c != nil && c.Kind == ferment.HasStarted && p.c.Started.Assumed {
		return instant{} // never by the clock alone
	}
	end := p.when(*s.Ends, asOf)
	if end.known && end.at.After(asOf) {
		return instant{}
	}
	return end
}
