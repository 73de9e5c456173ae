package schedule

import (
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// in is a day whose sentences name temperatures, volumes and pressures in the
// units of the settings. A reminder stays as the person wrote it.
func (d Day) in(s measure.System) Day {
	if s != measure.US {
		return d
	}
	for i := range d.Tasks {
		if d.Tasks[i].Do != Reminder {
			d.Tasks[i] = d.Tasks[i].in(s)
		}
	}
	for i, g := range d.Gates {
		d.Gates[i].Says = measure.Prose(g.Says, s)
		d.Gates[i].Unmet = unmetIn(g.Unmet, s)
	}
	return d
}

func (t Task) in(s measure.System) Task {
	if t.State != Skipped { // the reason of a skip is the person's own words
		t.Reason = measure.Prose(t.Reason, s)
	}
	t.Say, t.Instead = measure.Prose(t.Say, s), measure.Prose(t.Instead, s)
	if t.Caution != nil {
		c := *t.Caution
		c.Text = measure.Prose(c.Text, s)
		t.Caution = &c
	}
	if t.Amount != nil {
		a := *t.Amount
		a.Words, a.How = measure.Prose(a.Words, s), measure.Prose(a.How, s)
		t.Amount = &a
	}
	return t
}

func unmetIn(unmet []course.Unmet, s measure.System) []course.Unmet {
	out := make([]course.Unmet, len(unmet))
	for i, u := range unmet {
		out[i] = course.Unmet{What: measure.Prose(u.What, s), Frees: measure.Prose(u.Frees, s), Act: u.Act}
	}
	return out
}
