package schedule

import (
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

// instant is a point in time, known or only expected.
type instant struct {
	at       time.Time
	known    bool
	expected *course.Expected
}

func known(t time.Time) instant { return instant{at: t, known: true} }

// moved returns the instant after an offset, the expected one too.
func (i instant) moved(o ferment.Offset) instant {
	if o.IsZero() {
		return i
	}
	if i.known && !i.at.IsZero() {
		i.at = o.Add(i.at)
	}
	if i.expected != nil {
		i.expected = &course.Expected{At: o.Add(i.expected.At), Within: i.expected.Within}
	}
	return i
}

// firstOf returns the earliest known one; an earlier expected one is kept too.
func firstOf(is []instant) instant {
	var first instant
	for _, i := range is {
		if i.known && (!first.known || i.at.Before(first.at)) {
			first.at, first.known = i.at, true
		}
	}
	for _, i := range is {
		e := i.expected
		sooner := e != nil && (!first.known || e.At.Before(first.at))
		if sooner && (first.expected == nil || e.At.Before(first.expected.At)) {
			first.expected = e
		}
	}
	return first
}

// lastOf returns the latest, once all are known; expected once all are known or expected.
func lastOf(is []instant) instant {
	var last, latest time.Time // latest is the latest end of what is expected
	all := true
	for _, i := range is {
		at, within := i.at, time.Duration(0)
		if !i.known {
			if i.expected == nil {
				return instant{}
			}
			all, at, within = false, i.expected.At, i.expected.Within
		}
		last, latest = ferment.Later(last, at), ferment.Later(latest, at.Add(within))
	}
	if all {
		return known(last)
	}
	return instant{expected: &course.Expected{At: last, Within: latest.Sub(last)}}
}

type series struct {
	i      int // its index in the plan
	step   *ferment.Step
	first  instant
	from   instant // for set times
	until  instant // inclusive; unknown for no limit
	moving time.Time
	round  bool
	before int // occurrences used before the moving anchor changed
}

// due returns the nth of the times, if there is one.
func (s series) due(n int) (at instant, ok bool) {
	switch r := s.step.Repeat; {
	case n == 1:
		at = s.first
	case n < 1, r == nil, r.AtMost > 0 && n+s.before > r.AtMost, len(r.At) > 0 && n-2 >= len(r.At):
		return instant{}, false
	case len(r.At) > 0:
		at = s.from.moved(r.At[n-2])
	case !s.first.known, s.first.at.IsZero(), r.Every.Number <= 0:
		return instant{}, false
	default:
		at = known(r.Every.Times(n-1, s.first.at))
	}
	return at, !(s.until.known && at.known && at.at.After(s.until.at))
}

// occurrence returns the nth time of the step; not ok after the last repeat. One whose anchor has not happened has no
// window.
func (s series) occurrence(n int) (occurrence, bool) {
	due, ok := s.due(n)
	o := occurrence{slot: slot{s.i, n, s.moving}, step: s.step, due: due}
	if !ok || !due.known || due.at.IsZero() {
		return o, ok
	}
	o.opens, o.closes = s.opens(due.at), s.step.Window.Closes.Add(due.at)
	if next, ok := s.due(n + 1); ok && next.known {
		o.next = ferment.Later(s.opens(next.at), o.opens)
	}
	return o, true
}

// opens returns when the window of a time opens; for a step of the weekly round on its day.
func (s series) opens(due time.Time) time.Time {
	if s.round {
		return due
	}
	return s.step.Window.Opens.Add(due)
}

// latest returns the number of the last occurrence whose window had opened by t, or 0.
func (s series) latest(t time.Time) int {
	opened := func(n int) bool {
		due, ok := s.due(n)
		return ok && due.known && !due.at.IsZero() && !s.opens(due.at).After(t)
	}
	n := s.near(t) // a guess, as months differ in length
	for n > 0 && !opened(n) {
		n--
	}
	for opened(n + 1) {
		n++
	}
	return n
}

// near returns the number of an occurrence at a time or shortly before it, without going through all.
func (s series) near(t time.Time) int {
	r := s.step.Repeat
	if r == nil || len(r.At) > 0 || !s.first.known || s.first.at.IsZero() || t.Before(s.first.at) {
		return 1
	}
	if s.until.known && s.until.at.Before(t) {
		t = s.until.at
	}
	n := 1 + int(t.Sub(s.first.at)/max(r.Every.Add(s.first.at).Sub(s.first.at), time.Minute))
	if r.AtMost > 0 {
		n = min(n, r.AtMost)
	}
	return max(n, 1)
}

// movingAnchor returns the act of a "last ACT" in a step's time; each new act starts the step again.
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

type occurrence struct {
	slot
	step          *ferment.Step
	due           instant
	opens, closes time.Time // opens ≤ t < closes
	next          time.Time // when the next one opens and replaces this one; zero for never
}

// slot identifies an occurrence: the step, the number, and a moving anchor ("last rack").
type slot struct {
	i, n int
	base time.Time
}

// ends returns when the window is over: closed, or replaced by the next.
func (o occurrence) ends() time.Time {
	if !o.next.IsZero() && o.next.Before(o.closes) {
		return o.next
	}
	return o.closes
}

// replaced reports whether the next occurrence has replaced it by then, see mayBeDone.
func (o occurrence) replaced(t time.Time) bool { return !o.next.IsZero() && !t.Before(o.next) }

func (o occurrence) holds(t time.Time) bool { return !t.Before(o.opens) && t.Before(o.ends()) }

// mayBeDone reports whether the window contains a time, or is over but the step may be late.
func (o occurrence) mayBeDone(t time.Time) bool {
	return o.holds(t) || o.step.Missed != ferment.Drop && !o.step.Option && !o.replaced(t)
}

// missed reports whether an unsettled occurrence can no longer be done, by its window alone.
func (o occurrence) missed(t time.Time) bool {
	switch {
	case o.replaced(t):
		return true
	case o.step.Missed == ferment.Drop || o.step.Option:
		return !t.Before(o.ends())
	}
	return o.step.Missed == ferment.Ask && !t.Before(o.askedUntil())
}

// askedUntil returns until when a task asks whether it was done: for a day.
func (o occurrence) askedUntil() time.Time { return o.ends().AddDate(0, 0, 1) }

type settlement struct {
	occurrence
	at      time.Time
	skipped bool
	because string
}
