package sheet

import (
	"cmp"
	"slices"
	"time"

	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/desk"
)

// linesOf are the lines of all vessels in the order of the board.
func linesOf(vs []desk.Vessel, now time.Time, lines func(desk.Vessel) []Line) []Line {
	var first, under, after []Line
	for _, v := range vs {
		for _, l := range lines(v) {
			switch l.Word {
			case Stop, Late, Held, Due:
				first = append(first, l)
			case Lapsed, Option:
				under = append(under, l)
			default:
				after = append(after, l)
			}
		}
	}
	sortLines(first, now)
	sortLines(under, now)
	sortLines(after, now)
	return append(tuck(first, under), after...)
}

// tuck puts what has lapsed and what is offered under the last line of its own
// vessel, or after all others where that has nothing to do.
func tuck(first, under []Line) []Line {
	out := slices.Clone(first)
	for _, l := range under {
		at := len(out)
		for i := len(out) - 1; i >= 0; i-- {
			if out[i].Subject == l.Subject {
				at = i + 1
				break
			}
		}
		out = slices.Insert(out, at, l)
	}
	return out
}

var ranks = map[Word]int{Stop: 0, Late: 1, Held: 2, Due: 3, Lapsed: 4, Option: 5, Later: 6, Coming: 7, Done: 8, Skipped: 8}

func sortLines(ls []Line, now time.Time) {
	slices.SortStableFunc(ls, func(a, b Line) int {
		return cmp.Or(cmp.Compare(ranks[a.Word], ranks[b.Word]), sortTime(a, now).Compare(sortTime(b, now)))
	})
}

// sortTime is what lines of one word are ordered by: a held task goes by what
// frees it.
func sortTime(l Line, now time.Time) time.Time {
	t := l.Task
	switch l.Word {
	case Later, Coming:
		at, _ := ComesAt(t, now)
		return at
	case Lapsed, Done, Skipped:
		return t.Settled
	case Held:
		if !t.FreedBy.IsZero() {
			return t.FreedBy
		}
	}
	if t.Closes.IsZero() {
		return time.Date(9999, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	return t.Closes
}

// coming is how far ahead the board looks for what comes.
const coming = 60

// shown are the tasks of a vessel that are worth a line now, in the plan's
// order; of what comes again and again only the next.
func shown(v desk.Vessel, now time.Time) []Line {
	next := map[string]bool{}
	return slices.DeleteFunc(UpTo(coming, v, now), func(l Line) bool {
		again := l.Word == Coming && next[l.Task.Step]
		next[l.Task.Step] = next[l.Task.Step] || l.Word == Coming
		return again
	})
}

// UpTo are the tasks of a vessel that are worth a line now, with all that comes
// within some days, in the order of the board.
func UpTo(days int, v desk.Vessel, now time.Time) []Line {
	var ls []Line
	for _, t := range v.Day.Tasks {
		if worthALine(t, v, now, days) && !isFirst(t, v.Day.Tasks) {
			ls = append(ls, withFirst(LineOf(t, v, now), v.Day.Tasks, now))
		}
	}
	sortLines(ls, now)
	return ls
}

func worthALine(t schedule.Task, v desk.Vessel, now time.Time, days int) bool {
	switch WordOf(t) {
	case Done, Skipped:
		return daysApart(t.Settled, now) == 0
	case Lapsed:
		return daysApart(t.Settled, now) >= -1 && !comesAgain(t, v.Day.Tasks)
	case Held:
		return !t.Option
	case Coming:
		at, ok := ComesAt(t, now)
		return ok && !t.Option && daysApart(at, now) <= days && !hushed(t, at, v.Day.Quiet)
	case Option:
		return t.State != schedule.Waiting
	}
	return true
}

// hushed tells whether a routine task falls into the quiet period, where it is
// not asked for.
func hushed(t schedule.Task, at time.Time, q *schedule.Quiet) bool {
	return q != nil && t.Routine && at.Before(q.To)
}

// comesAgain tells whether a later occurrence of the same step stands in for
// one that has lapsed.
func comesAgain(t schedule.Task, all []schedule.Task) bool {
	return slices.ContainsFunc(all, func(o schedule.Task) bool { return o.Step == t.Step && o.Occurrence > t.Occurrence })
}
