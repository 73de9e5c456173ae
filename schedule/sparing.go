package schedule

import (
	"fmt"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/shelf"
)

// sparing removes tasks that ask for the same again: of doses that wait for a reading only the first asks for it. A
// step does not ask within three days of a measurement, unless it measures more often or something was added since.
func (p *planner) sparing(ts []Task) []Task {
	first := map[string]int{} // the task that asks for each measurement
	for i, t := range ts {
		if f, there := first[t.Do]; t.measures() && (!there || t.Due.Before(ts[f].Due)) {
			first[t.Do] = i
		}
	}
	dose := slices.IndexFunc(ts, func(t Task) bool {
		return t.State == Held && t.Do == string(ferment.Nutrient) && t.Frees == ferment.DoGravity
	})
	for i, t := range ts {
		if !t.measures() {
			continue
		}
		switch read := p.lastOf(t.Do); {
		case dose >= 0 && t.Do == ferment.DoGravity:
			ts[i] = t.waiting("one reading is enough for this and "+ts[dose].label(), time.Time{})
		case first[t.Do] != i:
			ts[i] = t.waiting("one reading is enough for this and "+ts[first[t.Do]].label(), time.Time{})
		case !p.often(t) && p.now.Sub(read) < apart:
			ts[i] = t.waiting("read "+dated(read)+": not again within three days", read.Add(apart))
		}
	}
	return ts
}

// inTime returns tasks without those that a shut gate holds for what has a line or a day of its own. A reading makes
// sense a week after the last, and at once where that is in doubt (common practice, no source).
func (p *planner) inTime(ts []Task) []Task {
	planned := func(do string) bool {
		return slices.ContainsFunc(ts, func(o Task) bool {
			return o.Do == do && !o.Option && (o.isAsked() || o.State == Waiting && o.Due.After(p.now))
		})
	}
	for i, t := range ts {
		if t.State != Held || t.Hold.verdict != "shut" || t.Frees == "" || t.Frees == string(ferment.Look) {
			continue
		}
		again := p.lastOf(t.Frees).In(p.zone).Add(7 * aDay)
		if n := len(p.c.Readings); t.Frees == ferment.DoGravity && n > 0 && p.c.Readings[n-1].Doubt == "" && !p.Passed(again) && !planned(t.Frees) {
			ts = append(ts, p.extra(Task{Step: ReadAgain, Do: t.Frees, Title: "take gravity", Due: again, Reason: t.Reason}))
		}
		if planned(t.Frees) {
			ts[i] = t.waiting(t.Reason, time.Time{})
		}
	}
	return ts
}

// measures reports whether a task asks for a measurement now.
func (t *Task) measures() bool {
	return ferment.IsMeasurement(t.Do) && (t.State == Late || t.State == Due && t.Open)
}

// sparingBottles removes openings and tastings that would take more than a third of the bottles, unless a bottle is
// reserved for them, and openings once two had the same hiss of 2 or more. A missed one merges with the next, and is
// late for at most two weeks (common practice, no source).
func (p *planner) sparingBottles(ts []Task) []Task {
	if len(p.times[string(ferment.Bottle)]) == 0 {
		return ts
	}
	left := p.samplesLeft()
	low, hissed := p.c.Holds(ferment.Condition{Kind: ferment.HissUnder, Number: 2})
	enough := hissed && !low && p.is(ferment.TwoOpeningsSame)
	var open []Task // unsettled, the next one first
	for i := range ts {
		t := &ts[i]
		if t.isSample() && t.State == Late {
			over, why := t.Closes.Add(14*aDay), "its time is over"
			if i := slices.IndexFunc(ts, func(o Task) bool { return o.Do == t.Do && o.isAsked() && o.Open && o.Due.After(t.Due) }); i >= 0 {
				over, why = ts[i].Opens, "replaced by "+ts[i].label()
			}
			if p.Passed(over) {
				t.State, t.Open, t.Settled, t.Reason = Lapsed, false, over, why
			}
		}
		if t.isSample() && (t.isAsked() || t.State == Waiting) {
			open = append(open, *t)
		}
	}
	slices.SortStableFunc(open, func(a, b Task) int { return a.SortTime().Compare(b.SortTime()) })
	spared := map[string]bool{} // step and occurrence
	for _, t := range open {
		kept := left.kept[t.Do] > 0
		left.kept[t.Do]--
		left.any--
		spared[fmt.Sprint(t.Step, t.Occurrence)] = enough && t.Do == string(ferment.Open) || left.counted && !kept && left.any < 0
	}
	return slices.DeleteFunc(ts, func(t Task) bool { return spared[fmt.Sprint(t.Step, t.Occurrence)] })
}

// isSample reports whether a task takes a bottle to check on it.
func (t *Task) isSample() bool { return t.Do == string(ferment.Open) || t.Do == string(ferment.Taste) }

// samples are the bottles that may still be opened and tasted.
type samples struct {
	any     int            // a third of them, less those taken
	kept    map[string]int // by act, those reserved for it
	counted bool           // their number is known
}

// samplesLeft counts the bottles that are kept for tests and tastings.
func (r *record) samplesLeft() samples {
	s, filled := shelf.Of(r.c), 0
	left := samples{kept: map[string]int{}, counted: true}
	for _, b := range s.Batches {
		for _, l := range b.Lines {
			filled += l.Filled.N
			left.counted = left.counted && !l.Filled.Unknown
			switch l.Purpose() {
			case shelf.Test:
				left.kept[string(ferment.Open)] += l.Left.N
			case shelf.Tasting:
				left.kept[string(ferment.Taste)] += l.Left.N
			}
		}
	}
	for _, t := range s.Taken {
		if !t.Again && (t.Entry.Bottle == "" || t.Purpose != shelf.Drink && t.Purpose != shelf.Keep) {
			left.any--
		}
	}
	left.any += max(filled/3, 1)
	left.counted = left.counted && filled > 0
	return left
}

// lastOf returns when a measurement of the vessel's present contents was last made.
func (k *calendar) lastOf(measurement string) time.Time {
	at, _ := k.Noted(measurement)
	for _, act := range []ferment.Act{ferment.Honey, ferment.FruitIn, ferment.TopUp, ferment.Blend, ferment.Buffer} {
		if in, ok := k.Noted(string(act)); ok && in.After(at) {
			return time.Time{}
		}
	}
	return at
}

// often reports whether a step measures more often than every three days, or is not of the plan.
func (k *calendar) often(t Task) bool {
	i, planned := k.index[t.Step]
	if !planned {
		return true
	}
	s := k.series(i, k.now)
	n := max(t.Occurrence-s.before, 2)
	before, _ := s.due(n - 1)
	at, repeats := s.due(n)
	return repeats && at.known && at.at.Sub(before.at) < apart
}
