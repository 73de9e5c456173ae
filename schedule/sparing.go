package schedule

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/shelf"
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
		switch read := p.lastOf(t.Do); {
		case !t.measures():
		case dose >= 0 && t.Do == ferment.DoGravity:
			ts[i] = t.waiting("one reading does for it and for "+label(ts[dose].Step), time.Time{})
		case first[t.Do] != i:
			ts[i] = t.waiting("one reading does for it and for "+label(ts[first[t.Do]].Step), time.Time{})
		case !p.often(t.Step) && p.now.Sub(read) < apart:
			ts[i] = t.waiting("read "+dated(read)+": not again within three days", read.Add(apart))
		}
	}
	return ts
}

// measures tells whether a task asks for a measurement now.
func (t *Task) measures() bool {
	return ferment.IsMeasurement(t.Do) && (t.State == Late || t.State == Due && t.Open)
}

// sparingBottles are tasks without the openings and tastings that would take more than a
// third of the bottles, and without openings once two have hissed alike, at 2 or more. A
// missed one passes into the next, and is late for two weeks at most (common practice, no
// source).
func (p *planner) sparingBottles(ts []Task) []Task {
	if len(p.times[string(ferment.Bottle)]) == 0 {
		return ts
	}
	left, counted := p.samplesLeft()
	low, hissed := p.c.Holds(ferment.Condition{Kind: ferment.HissUnder, Number: 2})
	enough := hissed && !low && p.is(ferment.TwoOpeningsSame)
	var open []Task // unsettled, the next one first
	for i := range ts {
		t := &ts[i]
		if t.isSample() && t.State == Late {
			over, why := t.Closes.Add(14*aDay), "its time is over"
			if i := slices.IndexFunc(ts, func(o Task) bool { return o.Do == t.Do && o.isAsked() && o.Open && o.Due.After(t.Due) }); i >= 0 {
				over, why = ts[i].Opens, "passed into "+label(ts[i].Step)
			}
			if p.Passed(over) {
				t.State, t.Open, t.Settled, t.Reason = Lapsed, false, over, label(t.Step)+": "+why
			}
		}
		if t.isSample() && (t.isAsked() || t.State == Waiting) {
			open = append(open, *t)
		}
	}
	slices.SortStableFunc(open, func(a, b Task) int { return later(a.Due, a.Opens).Compare(later(b.Due, b.Opens)) })
	return slices.DeleteFunc(ts, func(t Task) bool {
		n := slices.IndexFunc(open, func(o Task) bool { return o.Step == t.Step && o.Occurrence == t.Occurrence })
		return n >= 0 && (enough && t.Do == string(ferment.Open) || counted && n >= left)
	})
}

// isSample tells whether a task takes a bottle to see how it has become.
func (t *Task) isSample() bool { return t.Do == string(ferment.Open) || t.Do == string(ferment.Taste) }

// samplesLeft is how many bottles may still be opened and tasted of a third of them; not
// counted where nobody wrote how many there were.
func (r *record) samplesLeft() (left int, counted bool) {
	s, filled := shelf.Of(r.c), 0
	for _, b := range s.Batches {
		for _, l := range b.Lines {
			if l.Filled.Unknown {
				return 0, false
			}
			filled += l.Filled.N
		}
	}
	for _, t := range s.Taken {
		if !t.Again && (t.Entry.Bottle == "" || t.Purpose != shelf.Drink && t.Purpose != shelf.Keep) {
			left--
		}
	}
	return left + max(filled/3, 1), filled > 0
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

// often tells whether a step measures more often than every three days, or is none of
// the plan's and has its own reasons.
func (k *calendar) often(step string) bool {
	i, planned := k.index[step]
	if !planned {
		return true
	}
	s := k.series(i, k.now)
	second, repeats := s.due(2)
	return repeats && s.first.known && second.at.Sub(s.first.at) < apart
}
