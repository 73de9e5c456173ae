package schedule

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
)

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
