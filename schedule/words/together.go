package words

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
)

// isFirst tells whether a task goes together with another one that has a line:
// done first, it is not listed a second time.
func isFirst(t *schedule.Task, all []schedule.Task) bool {
	for i := range all {
		if o := &all[i]; o.Step != t.Step && slices.Contains(o.Also, ferment.Act(t.Do)) && goesFirst(t, o) {
			return true
		}
	}
	return false
}

// goesFirst tells whether t, which goes before o, needs no line of its own.
func goesFirst(t, o *schedule.Task) bool {
	switch WordOf(*t) {
	case Due, Later, Late:
		return slices.Contains([]Word{Late, Due, Held, Later}, WordOf(*o))
	case Done:
		return wentFirst(t, o)
	}
	return false
}

// wentFirst tells whether t was done within the hour before o was.
func wentFirst(t, o *schedule.Task) bool {
	apart := o.Settled.Sub(t.Settled)
	return o.State == schedule.Done && t.State == schedule.Done && apart >= 0 && apart <= time.Hour
}

// withFirst says under a task that is done what went before it.
func withFirst(l Line, all []schedule.Task, now time.Time) Line {
	if l.Word != Done {
		return l
	}
	for i := range all {
		if t := &all[i]; slices.Contains(l.Task.Also, ferment.Act(t.Do)) && wentFirst(t, &l.Task) {
			l.Reason = past(ferment.Act(t.Do)) + " first, " + When(t.Settled, now)
		}
	}
	return l
}

// counted are the words that the head of the sheet counts.
var counted = []Word{Stop, Late, Held, Due, Done}

// countsOf counts tasks under those words, with those that are told under
// another line.
func countsOf(ls []Line) []Count {
	n := map[Word]int{}
	for _, l := range ls {
		n[l.Word]++
		if l.Word == Done && l.Reason != "" {
			n[Done]++
		}
	}
	var cs []Count
	for _, w := range counted {
		if n[w] > 0 {
			cs = append(cs, Count{w, n[w]})
		}
	}
	return cs
}
