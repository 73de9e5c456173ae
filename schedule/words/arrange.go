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
			i := item{v, t, WordAt(*t, now), t.SortTime()}
			if i.word == Later || i.word == Coming {
				i.at, _ = ComesAt(*t, now)
			}
			is = append(is, i)
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

// worthALine reports whether the day shows a task: not what is far ahead, was settled earlier or repeats another.
func worthALine(t *schedule.Task, v *app.Vessel, now time.Time, days int) bool {
	switch WordAt(*t, now) {
	case Done, Skipped:
		return daysApart(t.Settled, now) == 0
	case Lapsed:
		again := func(o schedule.Task) bool { return o.Step == t.Step && o.Occurrence > t.Occurrence }
		return !t.Ended && now.Sub(t.Settled) < day && !slices.ContainsFunc(v.Day.Tasks, again)
	case Held, Stop:
		same := func(o schedule.Task) bool {
			return o.Do == t.Do && o.Frees == t.Frees && o.Due.Before(t.Due) && WordOf(o) == WordOf(*t)
		}
		return !t.Option && !slices.ContainsFunc(v.Day.Tasks, same)
	case Coming:
		at, ok := ComesAt(*t, now)
		hushed := v.Day.Quiet != nil && t.Routine && at.Before(v.Day.Quiet.To)
		return ok && !t.Option && daysApart(at, now) <= days && !hushed
	case Option:
		return t.State != schedule.Waiting
	}
	return true
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
			done := ferment.Spaced(t.Do) + " done"
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
	groups := map[sharing][]Line{}
	for _, l := range ls {
		if s := l.sharing(); s != (sharing{}) {
			groups[s] = append(groups[s], l)
		}
	}
	out := make([]Line, 0, len(ls))
	for _, l := range ls {
		s := l.sharing()
		if s == (sharing{}) {
			out = append(out, l)
		} else if g := groups[s]; len(g) > 0 { // in the place of the first of them
			out = append(out, together(g))
			delete(groups, s)
		}
	}
	return out
}

// sharing is what lines that differ in nothing but the vessel have in common; zero for a line of its own.
type sharing struct {
	word                                                   Word
	round                                                  bool
	until, trial, stem, step, act, number, of, first, says string
}

// sharing returns what lines must have in common to become one; empty for a line of its own.
func (l Line) sharing() sharing {
	switch stem := stemOf(l.Tag); {
	case l.Task.Round:
		return sharing{word: l.Word, round: true, until: l.Until}
	case l.Task.Step == schedule.HotSpell && l.Word.Wants():
		return sharing{word: l.Word, step: l.Task.Step, until: l.Until}
	case l.Trial != "" && stem != "" && !l.Danger && l.Word != Done && l.Word != Skipped:
		return sharing{l.Word, false, l.Until, l.Trial, stem, l.Task.Step, l.Act, l.Amount.String(), l.Of, l.First, l.Reason}
	}
	return sharing{}
}

// together returns one line for several that share it.
func together(ls []Line) Line {
	l, tags := ls[0], ferment.Map(ls, func(l Line) string { return l.Tag })
	l.Others = append(l.Others, ferment.Map(ls[1:], func(o Line) string { return o.Subject })...)
	switch {
	case l.Task.Round:
		if l.Round, l.Tag, l.Act, l.Reason = tags, "quiet", roundOf(tags), ""; l.Word.Wants() {
			l.Reason = "airlocks full? nothing growing?"
		}
	case len(ls) > 1 && l.Task.Step == schedule.HotSpell:
		l.Tag, l.Reason = "bottles", strings.Join(tags, ", ")+": "+l.Reason
	case len(ls) > 1:
		l.Tag = sharedTag(tags)
		if l.Amount.Number != "" {
			l.Amount.Unit += " each"
		}
		if l.Stock != nil {
			stock := *l.Stock
			stock.Unit += " each"
			l.Stock = &stock
		}
	}
	return l
}

// roundOf names the vessels of the round, or their number where they are too many.
func roundOf(tags []string) string {
	if names := strings.Join(tags, ", "); len([]rune(names)) <= 26 { // what a row has room for
		return "weekly round: " + names
	}
	return "weekly round: " + Plural(len(tags), "vessel")
}

// IsOf reports whether a line is of a vessel, alone or shared.
func (l Line) IsOf(id string) bool { return l.Subject == id || slices.Contains(l.Others, id) }

// sharedTag returns one tag for several that differ at the end: "LIME-A,B", "LIME-A–C" for three in a row.
func sharedTag(tags []string) string {
	stem := stemOf(tags[0])
	slices.Sort(tags)
	ends := ferment.Map(tags, func(tag string) string { return strings.TrimPrefix(tag, stem) })
	first, last := ends[0], ends[len(ends)-1]
	if n := len(ends); n > 2 && int([]rune(last)[0]-[]rune(first)[0]) == n-1 {
		return stem + first + "–" + last
	}
	return stem + strings.Join(ends, ",")
}

// stemOf returns a tag up to its last hyphen, where one letter or digit is behind it.
func stemOf(tag string) string {
	if i := strings.LastIndex(tag, "-"); i > 0 && len([]rune(tag[i+1:])) == 1 {
		return tag[:i+1]
	}
	return ""
}
