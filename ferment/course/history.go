package course

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
)

// history is a log by time: what is up to now, and what lies later. An entry
// that gives only its day keeps its place among that day's entries; its time
// is then that of the one before it.
func history(log []ferment.Entry, now time.Time) (past, later []ferment.Entry) {
	type dated struct {
		entry *ferment.Entry // entries are large: only what comes out is copied
		at    time.Time
	}
	ds := make([]dated, len(log))
	latest := map[time.Time]time.Time{} // of each day so far, by its first instant
	for i := range log {
		e := &log[i]
		at := e.At.Time
		day := time.Date(at.Year(), at.Month(), at.Day(), 0, 0, 0, 0, at.Location())
		if e.At.DayOnly {
			if before, ok := latest[day]; ok {
				at = before
			}
		} else if at.After(latest[day]) {
			latest[day] = at
		}
		ds[i] = dated{e, at}
	}
	slices.SortStableFunc(ds, func(a, b dated) int { return a.at.Compare(b.at) })
	past = make([]ferment.Entry, 0, len(log))
	for _, d := range ds {
		if d.entry.At.Earliest().After(now) {
			later = append(later, *d.entry)
			continue
		}
		past = append(past, *d.entry)
		past[len(past)-1].At.Time = d.at
	}
	return past, later
}

// First is the first entry of an act, up to now.
func (c Course) First(act ferment.Act) (ferment.Entry, bool) {
	for _, e := range c.Entries {
		if e.Did == act {
			return e, true
		}
	}
	return ferment.Entry{}, false
}

// Last is the latest entry of an act, up to now.
func (c Course) Last(act ferment.Act) (ferment.Entry, bool) {
	for _, e := range slices.Backward(c.Entries) {
		if e.Did == act {
			return e, true
		}
	}
	return ferment.Entry{}, false
}

// Over tells whether the ferment has ended in a way that leaves nothing to be
// done: dumped, blended away, closed, or a culture discarded. A blend that the
// ferment took something in from goes on; one that says nothing is left is over.
// What is poured away of a vessel that was bottled in part leaves its bottles.
func (c Course) Over() bool {
	rest := false // the vessel holds what was not bottled
	for _, e := range c.Entries {
		switch {
		case e.Did == ferment.Close:
			return true
		case e.Did == ferment.Bottle:
			rest = e.Left.Known() && e.Left.Value > 0
		case e.Did == ferment.Dump && e.Bottle == "" && rest:
			rest = false
		case e.Did == ferment.Dump && e.Bottle == "":
			return true
		case e.Did == ferment.Blend && e.Left.Known() && e.Left.Value <= 0:
			return true
		case c.Culture != nil && e.Did == ferment.Discard:
			return true
		}
	}
	return c.Culture != nil && c.Culture.Verdict == "discarded"
}
