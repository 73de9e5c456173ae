package app

import (
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/remark"
)

// UnlikelyChange returns the questions about a change before it is written: about
// each of its entries, one after the other, and what check would remark on once
// it is there.
func UnlikelyChange(s Snapshot, change ferment.Change) []Ask {
	change = gathered(change)
	var asks []Ask
	for _, l := range change.Entries {
		v, is := s.Find(l.Subject)
		for _, e := range l.Entries {
			if e.At = orNow(e.At, s.At); is && e.Overrode == "" {
				after := withEntry(s, v, e)
				asks = append(asks, unlikely(s, v, after, e)...)
				v = after
			}
		}
	}
	return append(asks, newRemarks(s, change)...)
}

// newRemarks returns what check would say of a cellar only after a change.
func newRemarks(s Snapshot, change ferment.Change) []Ask {
	before := remark.Of(s.Cellar, s.At)
	after := ferment.Where(remark.Of(s.Cellar.With(change), s.At), func(p ferment.Problem) bool {
		return !slices.ContainsFunc(before, func(had ferment.Problem) bool { return had.File == p.File && had.Message == p.Message })
	})
	return ferment.Map(after, func(p ferment.Problem) Ask { return Ask{Says: p.Message} })
}
