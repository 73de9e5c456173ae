package schedule

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

// instant is a point in time as far as it is known: met, or only expected.
type instant struct {
	at       time.Time
	known    bool
	expected *course.Expected
}

func known(t time.Time) instant { return instant{at: t, known: true} }

// moved is the instant an offset later.
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

// deepest bounds how many steps may hang on one another, so that a plan that
// goes in a circle ends as one that nobody can date.
const deepest = 24

// when is the instant that a plan's words mean, by what had happened as of a
// time.
func (p *planner) when(w ferment.When, asOf time.Time) instant {
	// A step may be dated by another step: when asks anchor, anchor asks
	// stepTime, stepTime asks for the first occurrence, and that asks for the
	// step's series, which calls when again. Every call carries the same asOf, so
	// that an entry is judged by what was known at its time. A circle of steps
	// ends at the depth limit as "not known".
	if p.depth >= deepest {
		return instant{}
	}
	p.depth++
	defer func() { p.depth-- }()
	switch {
	case len(w.First) > 0:
		return firstOf(p.each(w.First, asOf))
	case len(w.Last) > 0:
		return lastOf(p.each(w.Last, asOf))
	}
	return p.point(w.Point, asOf).moved(w.Offset)
}

func (p *planner) each(ws []ferment.When, asOf time.Time) []instant {
	out := make([]instant, len(ws))
	for i, w := range ws {
		out[i] = p.when(w, asOf)
	}
	return out
}

// firstOf is the earliest that is known; what is expected earlier is kept
// beside it.
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

// lastOf is the latest, once all are known; it is expected once all are known
// or expected.
func lastOf(is []instant) instant {
	var last, latest time.Time // latest: what is expected may come so late
	all := true
	for _, i := range is {
		at, within := i.at, time.Duration(0)
		if !i.known {
			if i.expected == nil {
				return instant{}
			}
			all, at, within = false, i.expected.At, i.expected.Within
		}
		last, latest = later(last, at), later(latest, at.Add(within))
	}
	if all {
		return known(last)
	}
	return instant{expected: &course.Expected{At: last, Within: latest.Sub(last)}}
}

func (p *planner) point(pt ferment.Point, asOf time.Time) instant {
	switch {
	case pt.Condition != nil:
		return p.conditionMet(*pt.Condition, asOf)
	case pt.EndOf != "":
		return p.quietEnd(pt.EndOf, asOf)
	}
	return p.anchor(pt.Anchor, pt.Last, asOf)
}

// conditionMet is when a condition was first met, or when the readings let it
// be expected.
func (p *planner) conditionMet(cond ferment.Condition, asOf time.Time) instant {
	switch cond.Kind {
	case ferment.StepDone:
		return p.anchor(cond.Word, false, asOf)
	case ferment.HasStarted:
		return p.startedMet(asOf)
	}
	i, ok := p.met[cond]
	if !ok {
		i = p.firstMet(cond)
		p.met[cond] = i
	}
	if i.known && i.at.After(asOf) {
		return instant{}
	}
	return i
}

func (p *planner) startedMet(asOf time.Time) instant {
	s := p.c.Started
	if !s.Known || !s.Assumed && s.At.After(asOf) {
		return instant{}
	}
	return known(s.At.In(p.zone))
}

func (p *planner) firstMet(cond ferment.Condition) instant {
	if t, ok := p.c.FirstMet(cond); ok {
		return known(t.In(p.zone))
	}
	if g, ok := p.c.LevelOf(cond); ok {
		if e, ok := p.c.Reaches(g); ok {
			return instant{expected: &e}
		}
	}
	return instant{}
}

// anchor is when an act, a measurement or a step was done. The record of an
// act goes before a step of that name.
func (p *planner) anchor(name string, last bool, asOf time.Time) instant {
	switch name {
	case "planned pitch":
		return p.plannedPitch()
	case "quiet":
		return p.anyQuietStart(asOf)
	case string(ferment.Pitch):
		if p.c.Pitch.Known && !last {
			return p.asOf(p.c.Pitch.At, asOf)
		}
	case string(ferment.Mix):
		if i := p.mixed(); i.known {
			return i
		}
	}
	if ts := p.upTo(name, asOf); len(ts) > 0 {
		if last {
			return known(ts[len(ts)-1])
		}
		return known(ts[0])
	}
	if i, is := p.index[name]; is {
		return p.stepTime(i, asOf)
	}
	return instant{}
}

// upTo are the times of an act or a measurement up to a moment.
func (p *planner) upTo(name string, asOf time.Time) []time.Time {
	ts := p.times[name]
	n, _ := slices.BinarySearchFunc(ts, asOf, func(t, limit time.Time) int {
		if t.After(limit) {
			return 1
		}
		return -1
	})
	return ts[:n]
}

func (p *planner) asOf(t, asOf time.Time) instant {
	if t.After(asOf) {
		return instant{}
	}
	return known(t.In(p.zone))
}

// mixed is when the must was made: the record of it, else the first entry of
// the log. Without an entry nothing dates it, and it has been made all the
// same: the zero time.
func (p *planner) mixed() instant {
	if ts := p.times[string(ferment.Mix)]; len(ts) > 0 {
		return known(ts[0])
	}
	if len(p.entries) > 0 {
		return known(p.entries[0].At.Time.In(p.zone))
	}
	return known(time.Time{})
}

// plannedPitch is a pitch that is written down for a day to come, or the pitch
// there was; else a must that is made waits three days for its starter.
func (p *planner) plannedPitch() instant {
	for _, e := range p.c.Later {
		if e.Did == ferment.Pitch {
			return known(e.At.Time.In(p.zone))
		}
	}
	if p.c.Pitch.Known {
		return known(p.c.Pitch.At.In(p.zone))
	}
	return p.mixed().moved(ferment.Offset{Number: 3, Unit: ferment.Day})
}

// stepTime is when a step was settled; one that has lapsed counts from its due
// time.
func (p *planner) stepTime(i int, asOf time.Time) instant {
	if t, ok := p.first[i]; ok && !t.After(asOf) {
		return known(t)
	}
	if p.steps[i].Quiet != nil {
		return p.quietStart(i, asOf)
	}
	o, ok := p.occurrence(i, 1, asOf)
	if !ok || !o.due.known {
		return instant{}
	}
	if t, ok := p.measuredIn(o, asOf); ok {
		return known(t)
	}
	if p.lapsedBy(o, asOf) {
		return known(o.due.at)
	}
	return instant{}
}
