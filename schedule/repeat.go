package schedule

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// series is all the times of one step.
type series struct {
	repeat *ferment.Repeat
	first  instant
	from   instant // of set times
	until  instant // inclusive; unknown is no limit
	moving time.Time
	before int // occurrences spent before a moving anchor came to stand here
}

// series is a step's times by what had happened as of a moment.
func (p *planner) series(i int, asOf time.Time) series {
	step := p.steps[i]
	s := series{repeat: step.Repeat, first: p.when(step.Due, asOf)}
	if name, moves := movingAnchor(step.Due); moves {
		s.moving = p.anchor(name, true, asOf).at
		s.before = p.spent(i, s.moving)
	}
	if r := step.Repeat; r != nil {
		if r.From != nil {
			s.from = p.when(*r.From, asOf)
		}
		if r.Until != nil {
			s.until = p.when(*r.Until, asOf)
		}
	}
	return s
}

// due is the nth of the times, if there are so many.
func (s series) due(n int) (instant, bool) {
	at, ok := s.nth(n)
	if !ok || s.until.known && at.known && at.at.After(s.until.at) {
		return instant{}, false
	}
	return at, true
}

func (s series) nth(n int) (instant, bool) {
	r := s.repeat
	switch {
	case n == 1:
		return s.first, true
	case n < 1, r == nil, r.AtMost > 0 && n+s.before > r.AtMost:
		return instant{}, false
	case len(r.At) > 0:
		if n-2 >= len(r.At) {
			return instant{}, false
		}
		return s.from.moved(r.At[n-2]), true
	case !s.first.known, r.Every.Number <= 0:
		return instant{}, false
	}
	if s.first.at.IsZero() {
		return instant{}, false
	}
	return known(r.Every.Times(n-1, s.first.at)), true
}

// latest is the number of the last occurrence whose window had opened by t, 0
// for none.
func (p *planner) latest(s series, i int, t time.Time) int {
	opened := func(n int) bool {
		due, ok := s.due(n)
		return ok && due.known && !due.at.IsZero() && !p.steps[i].Window.Opens.Add(due.at).After(t)
	}
	n := s.near(t)
	for n > 0 && !opened(n) {
		n--
	}
	for opened(n + 1) {
		n++
	}
	return n
}

// near is about the number of the occurrence at t.
func (s series) near(t time.Time) int {
	if s.repeat == nil || len(s.repeat.At) > 0 || !s.first.known || s.first.at.IsZero() || t.Before(s.first.at) {
		return 1
	}
	n := 1 + int(t.Sub(s.first.at)/interval(s.repeat.Every))
	if s.repeat.AtMost > 0 {
		n = min(n, s.repeat.AtMost)
	}
	if s.until.known && s.until.at.Before(t) {
		n = min(n, 1+int(s.until.at.Sub(s.first.at)/interval(s.repeat.Every)))
	}
	return max(n, 1)
}

// interval is about how long an offset is.
func interval(o ferment.Offset) time.Duration {
	return max(time.Duration(o.Number*float64(units[o.Unit])), time.Minute)
}

var units = map[ferment.OffsetUnit]time.Duration{
	ferment.Minute: time.Minute, ferment.Hour: time.Hour,
	ferment.Day: 24 * time.Hour, ferment.Week: 7 * 24 * time.Hour, ferment.Month: 30 * 24 * time.Hour,
}

// movingAnchor is the act of a "last ACT" that a step hangs on, so that every
// such act begins the step anew.
func movingAnchor(w ferment.When) (string, bool) {
	if w.Point.Last {
		return w.Point.Anchor, true
	}
	for _, group := range [][]ferment.When{w.First, w.Last} {
		for _, one := range group {
			if name, ok := movingAnchor(one); ok {
				return name, true
			}
		}
	}
	return "", false
}

// spent is how many occurrences of a step were settled while it hung on an
// earlier act than the one at base.
func (p *planner) spent(i int, base time.Time) int {
	n := 0
	for _, s := range p.history[i] {
		if !s.slot.base.Equal(base) {
			n++
		}
	}
	return n
}

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
