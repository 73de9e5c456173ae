package course

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
)

// history is a log by time: what is up to now, and what lies later. An entry
// that gives only its day keeps its place among that day's entries; its time
// is then that of the one before it.
func history(log []ferment.Entry, now time.Time) (past, later []*ferment.Entry) {
	past = make([]*ferment.Entry, 0, len(log))
	latest := map[time.Time]time.Time{} // of each day so far, by its first instant
	for i := range log {
		e := &log[i]
		isLater := e.At.Earliest().After(now)
		at := e.At.Time
		day := time.Date(at.Year(), at.Month(), at.Day(), 0, 0, 0, 0, at.Location())
		switch before, known := latest[day]; {
		case e.At.DayOnly && known:
			moved := *e
			moved.At.Time = before
			e = &moved
		case !e.At.DayOnly && at.After(before):
			latest[day] = at
		}
		if isLater {
			later = append(later, e)
		} else {
			past = append(past, e)
		}
	}
	byTime := func(a, b *ferment.Entry) int { return a.At.Time.Compare(b.At.Time) }
	slices.SortStableFunc(past, byTime)
	slices.SortStableFunc(later, byTime)
	return past, later
}

// First is the first entry of an act, up to now.
func (c Course) First(act ferment.Act) (*ferment.Entry, bool) {
	for _, e := range c.Entries {
		if e.Did == act {
			return e, true
		}
	}
	return nil, false
}

// Last is the latest entry of an act, up to now.
func (c Course) Last(act ferment.Act) (*ferment.Entry, bool) {
	for _, e := range slices.Backward(c.Entries) {
		if e.Did == act {
			return e, true
		}
	}
	return nil, false
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
