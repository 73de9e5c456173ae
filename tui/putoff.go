package tui

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/tui/intent"
)

// putOffs are the tasks that are not shown until a time, in this run alone.
type putOffs map[intent.Task]time.Time

// with is the list with one task more.
func (p putOffs) with(t intent.Task, until time.Time) putOffs {
	out := putOffs{t: until}
	for task, at := range p {
		if task != t {
			out[task] = at
		}
	}
	return out
}

// without is a snapshot without the tasks that are put off at its moment. What
// has become dangerous since is shown.
func (p putOffs) without(s app.Snapshot) app.Snapshot {
	if len(p) == 0 {
		return s
	}
	s.Vessels, s.Cultures = p.from(s.Vessels, s.At), p.from(s.Cultures, s.At)
	return s
}

func (p putOffs) from(vs []app.Vessel, now time.Time) []app.Vessel {
	vs = slices.Clone(vs)
	for i, v := range vs {
		vs[i].Day.Tasks = slices.DeleteFunc(slices.Clone(v.Day.Tasks), func(t schedule.Task) bool {
			until, off := p[intent.Task{Subject: v.ID(), Step: t.Step, Occurrence: t.Occurrence}]
			return off && now.Before(until) && !t.Danger
		})
	}
	return vs
}

// tomorrow is the next morning of another day.
func tomorrow(now time.Time, s ferment.Settings) time.Time {
	y, mo, d := now.Date()
	return time.Date(y, mo, d+1, int(s.Morning/time.Hour), int(s.Morning%time.Hour/time.Minute), 0, 0, now.Location())
}
