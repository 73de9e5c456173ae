package words

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

type item struct {
	vessel *app.Vessel
	task   *schedule.Task
	word   Word
	at     time.Time
}

func (i item) until(now time.Time) string { return until(*i.task, i.vessel.Course.Settings, now) }

// itemsOf returns the tasks with a line within some days, in the order of the board.
func itemsOf(v *app.Vessel, now time.Time, days int) []item {
	var is []item
	for i := range v.Day.Tasks {
		if t := &v.Day.Tasks[i]; worthALine(t, v, now, days) && !isFirst(t, v.Day.Tasks) {
			is = append(is, item{v, t, WordAt(*t, now), sortTime(t, now)})
		}
	}
	slices.SortStableFunc(is, byRank)
	return is
}

// shown returns the tasks with a line within 60 days; of a repeated step only the next.
func shown(v *app.Vessel, now time.Time) []item {
	next := map[string]bool{}
	return slices.DeleteFunc(itemsOf(v, now, 60), func(i item) bool {
		again := i.word == Coming && next[i.task.Step]
		next[i.task.Step] = next[i.task.Step] || i.word == Coming
		return again
	})
}

// ahead returns the items still to come, in their order.
func ahead(is []item) []item {
	return slices.DeleteFunc(slices.Clone(is), func(i item) bool { return i.word != Later && i.word != Coming })
}

// UpTo returns the lines of a vessel's tasks for now and the coming days, in the order of the board. Only this decides
// what belongs to a day: board, printed day, JSON and calendar use it.
func UpTo(days int, v app.Vessel, now time.Time) []Line {
	return linesOf(itemsOf(&v, now, days), now)
}

func linesOf(is []item, now time.Time) []Line {
	return ferment.Map(is, func(i item) Line { return withFirst(LineOf(*i.task, *i.vessel, now), i.vessel.Day.Tasks, now) })
}

// arranged sorts the items of all vessels in the order of the board; an option is below the last line of its vessel
// that needs something, else after all such lines.
func arranged(is []item) []item {
	slices.SortStableFunc(is, byRank)
	var out, offered []item
	wants := 0
	for _, i := range is {
		if i.word == Option {
			offered = append(offered, i)
			continue
		}
		out = append(out, i)
		if i.word.Wants() && i.word != AnyDay {
			wants++
		}
	}
	for _, o := range offered {
		at := wants
		for i := wants - 1; i >= 0; i-- {
			if out[i].vessel == o.vessel {
				at = i + 1
				break
			}
		}
		out = slices.Insert(out, at, o)
		wants++
	}
	return out
}

var ranks = map[Word]int{Danger: -1, Stop: 0, Late: 1, Held: 2, Due: 3, Option: 4, AnyDay: 5, Later: 6, Coming: 7, Lapsed: 8, Done: 9, Skipped: 9}

func byRank(a, b item) int {
	return cmp.Or(cmp.Compare(ranks[a.word], ranks[b.word]), a.at.Compare(b.at))
}

// sortTime orders tasks of one state; a held one by what frees it.
func sortTime(t *schedule.Task, now time.Time) time.Time {
	switch WordOf(*t) {
	case Danger:
		return t.Due
	case Later, Coming:
		at, _ := ComesAt(*t, now)
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

func worthALine(t *schedule.Task, v *app.Vessel, now time.Time, days int) bool {
	switch WordAt(*t, now) {
	case Done, Skipped:
		return daysApart(t.Settled, now) == 0
	case Lapsed:
		again := func(o schedule.Task) bool { return o.Step == t.Step && o.Occurrence > t.Occurrence }
		return now.Sub(t.Settled) < day && !slices.ContainsFunc(v.Day.Tasks, again)
	case Held:
		return !t.Option && !slices.ContainsFunc(v.Day.Tasks, func(o schedule.Task) bool { return waitsToo(*t, o) })
	case Coming:
		at, ok := ComesAt(*t, now)
		hushed := v.Day.Quiet != nil && t.Routine && at.Before(v.Day.Quiet.To)
		return ok && !t.Option && daysApart(at, now) <= days && !hushed
	case Option:
		return t.State != schedule.Waiting
	}
	return true
}

// waitsToo reports whether an act waits for the same as an earlier one, so that it is not repeated.
func waitsToo(t, earlier schedule.Task) bool {
	return WordOf(earlier) == Held && earlier.Do == t.Do && earlier.Frees == t.Frees && earlier.Due.Before(t.Due)
}

// isFirst reports whether a task is named on another's line as to be done first.
func isFirst(t *schedule.Task, all []schedule.Task) bool {
	return slices.ContainsFunc(all, func(o schedule.Task) bool {
		if o.Step == t.Step || t.Remedy || !slices.Contains(o.Also, ferment.Act(t.Do)) {
			return false
		}
		switch WordOf(*t) {
		case Due, Later, Late:
			return slices.Contains([]Word{Late, Due, Held, Later}, WordOf(o))
		case Done:
			return wentFirst(t, &o)
		}
		return false
	})
}

// wentFirst reports whether t was done in the hour before o.
func wentFirst(t, o *schedule.Task) bool {
	apart := o.Settled.Sub(t.Settled)
	return o.State == schedule.Done && t.State == schedule.Done && apart >= 0 && apart <= time.Hour
}

// withFirst adds to a done task what was done before it.
func withFirst(l Line, all []schedule.Task, now time.Time) Line {
	if l.Word != Done {
		return l
	}
	for i := range all {
		if t := &all[i]; slices.Contains(l.Task.Also, ferment.Act(t.Do)) && wentFirst(t, &l.Task) {
			done := spaced(t.Do) + " done"
			if t.Do == string(ferment.Degas) {
				done = "degassed"
			}
			l.Reason = done + " first, " + When(t.Settled, now)
		}
	}
	return l
}

func countsOf(ls []Line) []Count {
	n := map[Word]int{}
	for _, l := range ls {
		n[l.Word]++
	}
	var cs []Count
	for _, w := range []Word{Danger, Stop, Late, Held, Due, AnyDay} {
		if n[w] > 0 {
			cs = append(cs, Count{w, n[w]})
		}
	}
	return cs
}

// Shared joins the same task of several vessels of a trial in one line.
func Shared(ls []Line) []Line {
	out := make([]Line, 0, len(ls))
	for _, l := range ls {
		if l.Trial == "" && !l.Task.Round {
			out = append(out, l)
			continue
		}
		i := slices.IndexFunc(out, func(o Line) bool {
			_, named := SharedTag(o.Tag, l.Tag)
			return named && l.Trial != "" && l.Trial == o.Trial && l.sameAs(o) || l.Task.Round && o.Task.Round && l.Word == o.Word && l.Word.Wants()
		})
		if i < 0 {
			out = append(out, l)
			continue
		}
		o := &out[i]
		if l.Task.Round {
			if len(o.Others) == 0 {
				o.Tag, o.Reason = "round", o.Tag
			}
			o.Others, o.Reason = append(o.Others, l.Subject), o.Reason+", "+l.Tag
			continue
		}
		o.Tag, _ = SharedTag(o.Tag, l.Tag)
		o.Others = append(o.Others, l.Subject)
		if o.Amount.Number != "" && len(o.Others) == 1 {
			o.Amount.Unit += " each"
			if o.Stock != nil {
				stock := *o.Stock
				stock.Unit += " each"
				o.Stock = &stock
			}
		}
	}
	return out
}

// IsOf reports whether a line is of a vessel, alone or shared.
func (l Line) IsOf(id string) bool { return l.Subject == id || slices.Contains(l.Others, id) }

// sameAs reports whether two lines only differ in the vessel.
func (l Line) sameAs(o Line) bool {
	each := o.Amount
	if len(o.Others) > 0 {
		each.Unit = strings.TrimSuffix(each.Unit, " each")
	}
	return l.Task.Step == o.Task.Step && l.Word == o.Word && l.Act == o.Act && l.Amount == each && l.Of == o.Of && l.First == o.First &&
		l.Until == o.Until && l.Reason == o.Reason && !l.Danger && l.Word != Done && l.Word != Skipped
}

// SharedTag joins tags that differ at the end: "LIME-A,B", "LIME-A–C" for three.
func SharedTag(so, next string) (tag string, ok bool) {
	stem, end := cutTag(next)
	first, rest := cutTag(so)
	if stem == "" || stem != first || end == "" {
		return "", false
	}
	switch rs := []rune(rest); {
	case len(rs) == 1 && end < rest:
		return stem + end + "," + rest, true
	case len(rs) == 1:
		return so + "," + end, true
	case len(rs) == 3 && rs[1] == ',' && []rune(end)[0] == rs[2]+1 && rs[2] == rs[0]+1,
		len(rs) == 3 && rs[1] == '–' && []rune(end)[0] == rs[2]+1:
		return stem + string(rs[0]) + "–" + end, true
	}
	return so + "," + end, true
}

// cutTag splits a tag at its last hyphen before one letter or digit, or a list of such.
func cutTag(tag string) (stem, end string) {
	i := strings.LastIndex(tag, "-")
	if i < 1 || i == len(tag)-1 {
		return "", ""
	}
	end = tag[i+1:]
	for n, r := range []rune(end) {
		if n%2 == 1 && r != ',' && r != '–' {
			return "", ""
		}
	}
	return tag[:i+1], end
}
