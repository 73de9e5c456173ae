package schedule

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
)

// sparing are tasks without those that ask again for what another of them asks for:
// a dose that waits for a reading asks for it alone, and of several the first. A step of
// the plan does not ask within three days of a measurement either, unless it measures
// more often than that, or something went into the vessel since.
func (p *planner) sparing(ts []Task) []Task {
	first := map[string]int{} // measurement → the task that asks for it
	for i, t := range ts {
		if f, there := first[t.Do]; t.measures() && (!there || t.Due.Before(ts[f].Due)) {
			first[t.Do] = i
		}
	}
	dose := slices.IndexFunc(ts, func(t Task) bool {
		return t.State == Held && t.Do == string(ferment.Nutrient) && t.Frees == ferment.DoGravity
	})
	for i, t := range ts {
		read := p.lastOf(t.Do)
		switch _, planned := p.index[t.Step]; {
		case !t.measures():
		case dose >= 0 && t.Do == ferment.DoGravity:
			ts[i] = t.waiting("one reading does for it and for "+label(ts[dose].Step), time.Time{})
		case first[t.Do] != i:
			ts[i] = t.waiting("one reading does for it and for "+label(ts[first[t.Do]].Step), time.Time{})
		case planned && !p.often(t.Step) && p.now.Sub(read) < apart:
			ts[i] = t.waiting("read "+dated(read)+": not again within three days", read.Add(apart))
		}
	}
	return ts
}

// measures tells whether a task asks for a measurement now.
func (t *Task) measures() bool {
	return ferment.IsMeasurement(t.Do) && (t.State == Late || t.State == Due && t.Open)
}

// lastOf is when a measurement was last made in what is in the vessel now.
func (r *record) lastOf(measurement string) time.Time {
	ts := r.times[measurement]
	if len(ts) == 0 {
		return time.Time{}
	}
	for _, act := range []ferment.Act{ferment.Honey, ferment.FruitIn, ferment.TopUp, ferment.Blend, ferment.Buffer} {
		if e, ok := r.c.Last(act); ok && r.momentOf(e).After(ts[len(ts)-1]) {
			return time.Time{}
		}
	}
	return ts[len(ts)-1]
}

// often tells whether a step measures more often than every three days.
func (k *calendar) often(step string) bool {
	i, ok := k.index[step]
	if !ok || k.steps[i].Repeat == nil {
		return false
	}
	r, from := k.steps[i].Repeat, time.Time{}
	for n, at := range r.At {
		if n > 0 && at.Add(from).Sub(r.At[n-1].Add(from)) < apart {
			return true
		}
	}
	return !r.Every.IsZero() && r.Every.Add(from).Sub(from) < apart
}
