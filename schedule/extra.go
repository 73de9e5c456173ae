package schedule

import (
	"cmp"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

// extra returns a task that no plan asks for: due from its due time on, late once it
// closes, a week after where it does not say.
func (r *record) extra(t Task) Task {
	t.Subject, t.Occurrence, t.Opens = r.c.Ferment.ID, max(t.Occurrence, 1), t.Due
	if t.Closes.IsZero() {
		t.Closes = t.Due.Add(7 * aDay)
	}
	switch {
	case t.State != "":
	case !r.Passed(t.Opens) && !t.Opens.Before(r.dayEnd):
		t.State = Waiting
	case r.Passed(t.Closes):
		t.State, t.Open = Late, true
	default:
		t.State, t.Open = Due, r.Passed(t.Opens)
	}
	return t
}

// lateNutrient offers one dose of yeast-derived nutrient, once, where gravity has
// closed a planned dose.
func (p *planner) lateNutrient(tasks []Task) []Task {
	n, kind := p.nutrient, p.organic()
	last := -1 // the last planned dose that has lapsed
	for _, t := range tasks {
		if i, is := p.index[t.Step]; is && t.State == Lapsed && t.Do == string(ferment.Nutrient) && p.steps[i].Share > 0 {
			last = i
		}
	}
	given := slices.ContainsFunc(p.entries, func(e *ferment.Entry) bool {
		return e.Step == LateNutrient || e.Skipped == LateNutrient || e.Did == ferment.Nutrient && p.momentOf(e).After(n.past.At)
	})
	if kind == nil || n.zone != late || given || last < 0 {
		return nil
	}
	t := Task{Subject: p.c.Ferment.ID, Step: LateNutrient, Occurrence: 1, Do: string(ferment.Nutrient), State: Due, Open: true,
		Opens: n.past.At, Due: n.past.At, Option: true, Routine: true, Also: []ferment.Act{ferment.Degas},
		Until: n.until(n.last), Caution: p.caution(ferment.Step{Do: string(ferment.Nutrient)}), Amount: p.doses.inKind(last, *kind, p.c.Settings.Weighs),
		Reason: "yeast-derived, once, down to " + n.last.String() + ", the " + p.c.Limits.OrganicUntil.Sign() + " break"}
	t.Amount.How = "the nitrogen of " + label(p.steps[last].Name)
	if h, held := p.tooSoon(t.Do); held {
		t.heldBy(h, p.now)
	} else if h, held := n.unsure(n.last); held {
		t.heldBy(h, p.now)
	}
	return []Task{t}
}

// reminders returns the tasks that a person asked to be told of on a day, in the order
// they were asked for. What settles one settles the earliest to come of those asked
// for by then.
func (r *record) reminders() []Task {
	var tasks []Task
	for _, e := range r.entries {
		if e.Step == Reminder || e.Skipped == Reminder {
			first := -1
			for i, t := range tasks {
				if t.State == "" && (first < 0 || t.Due.Before(tasks[first].Due)) {
					first = i
				}
			}
			if first >= 0 {
				tasks[first].State, tasks[first].Settled = Done, r.momentOf(e)
				if e.Skipped != "" {
					tasks[first].State = Skipped
				}
			}
		}
		if !e.Remind.IsZero() {
			due, note := e.Remind.Time.In(r.zone), ferment.Harmless(e.Note)
			_, closes := dayOf(due)
			tasks = append(tasks, Task{Step: Reminder, Occurrence: len(tasks) + 1, Do: Reminder, Due: due, Closes: closes,
				Say: note, Reason: cmp.Or(note, "asked for "+dated(e.At.Time.In(r.zone)))})
		}
	}
	for i, t := range tasks {
		tasks[i] = r.extra(t)
	}
	return tasks
}

// readAgain returns the reading without which nobody can tell how the ferment is. A
// slow one wants its temperature.
func (r *record) readAgain() []Task {
	ct := r.c.CannotTell
	if ct == nil || r.c.Stage == course.Bottled {
		return nil
	}
	due, closes := dayOf(ct.ReadAgain.In(r.zone))
	t := Task{Step: ReadAgain, Do: ferment.DoGravity, Due: due, Closes: closes, Reason: "cannot tell whether it is " + ct.What + ": " + ct.Why}
	if ct.What == string(course.Sluggish) {
		t.Do = ferment.DoTemperature
	}
	if at, skipped := r.passedOver(ReadAgain, due); skipped {
		t.State, t.Settled = Skipped, at
	}
	return []Task{r.extra(t)}
}

// passedOver returns when a task that no plan asks for was passed over on or after a
// day.
func (r *record) passedOver(step string, since time.Time) (time.Time, bool) {
	for _, e := range r.entries {
		if at := r.momentOf(e); e.Skipped == step && !at.Before(since) {
			return at, true
		}
	}
	return time.Time{}, false
}
