package schedule

import (
	"cmp"
	"slices"
	"time"
)

// sortTasks puts tasks in the order of the board: held with danger, late, held,
// due by closing time, what has lapsed, options, what comes, what is done.
func sortTasks(ts []Task) {
	slices.SortStableFunc(ts, func(a, b Task) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), sortTime(a).Compare(sortTime(b)))
	})
}

func rank(t Task) int {
	switch {
	case t.Alarm != nil:
		return -1
	case t.State == Held && t.Danger:
		return 0
	case t.Option && t.State != Done && t.State != Skipped && t.State != Lapsed:
		return 5
	}
	return ranks[t.State]
}

var ranks = map[State]int{Late: 1, Held: 2, Due: 3, Lapsed: 4, Waiting: 6, Done: 7, Skipped: 7}

// sortTime is what tasks of one rank are ordered by. What has no time comes
// last among what waits.
func sortTime(t Task) time.Time {
	switch t.State {
	case Held:
		if !t.FreedBy.IsZero() {
			return t.FreedBy
		}
	case Waiting:
		return comes(t)
	case Lapsed, Done, Skipped:
		return t.Settled
	}
	return t.Closes
}

func comes(t Task) time.Time {
	switch {
	case t.Expected != nil:
		return t.Expected.At
	case t.Due.IsZero():
		return time.Date(9999, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	return t.Opens
}
