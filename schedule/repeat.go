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
