package schedule

import (
	"cmp"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

// extra returns a task without a step in the plan: due at its due time, late once it closes, after a week by default.
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

// lateNutrient offers one dose of yeast-derived nutrient if gravity has closed a planned one.
func (p *planner) lateNutrient(tasks []Task) []Task {
	n := p.nutrient
	kind, has := ferment.FirstWhere(p.c.Settings.Nutrients, ferment.NutrientKind.Organic)
	last := -1 // the last planned dose that has lapsed
	for _, t := range tasks {
		if i, is := p.index[t.Step]; is && t.State == Lapsed && t.Do == string(ferment.Nutrient) && p.steps[i].Share > 0 {
			last = i
		}
	}
	given := slices.ContainsFunc(p.entries, func(e *ferment.Entry) bool {
		return e.Step == LateNutrient || e.Skipped == LateNutrient || e.Did == ferment.Nutrient && p.momentOf(e).After(n.past.At)
	})
	if !has || n.zone != late || given || last < 0 {
		return nil
	}
	t := Task{Subject: p.c.Ferment.ID, Step: LateNutrient, Occurrence: 1, Do: string(ferment.Nutrient), State: Due, Open: true,
		Opens: n.past.At, Due: n.past.At, Option: true, Routine: true, Also: []ferment.Act{ferment.Degas},
		Until: n.until(n.last), Caution: p.caution(ferment.Step{Do: string(ferment.Nutrient)}), Amount: p.doses.inKind(last, course.NutrientOf(kind), p.c.Settings.Weighs),
		Reason: "yeast-derived nutrient, once, down to " + n.last.String() + ", the " + p.c.Limits.OrganicUntil.Sign() + " break"}
	t.Amount.How = "the nitrogen of " + ferment.Spaced(p.steps[last].Name)
	if h, held := p.tooSoon(t.Do); held {
		t.heldBy(h, p.now)
	} else if h, held := n.unsure(n.last); held {
		t.heldBy(h, p.now)
	}
	return []Task{t}
}

// reminders returns the reminders that a person asked for, in order of their day. An entry that settles one settles the
// earliest.
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

// readAgain returns the reading that is needed to tell the state of the ferment.
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

// passedOver returns when a task without a step in the plan was skipped, on or after a day.
func (r *record) passedOver(step string, since time.Time) (time.Time, bool) {
	for _, e := range r.entries {
		if at := r.momentOf(e); e.Skipped == step && !at.Before(since) {
			return at, true
		}
	}
	return time.Time{}, false
}

// How long a jug may be without a reading, or a question postponed (common practice, no source).
const (
	mayFall      = 4.0 // points that may fall between readings
	firstMonth   = 28 * aDay
	mostAtFirst  = 7 * aDay
	mostLater    = 21 * aDay
	nextQuestion = 60 * aDay
)

// forgotten returns what a ferment needs that its plan does not ask for: a reading once the last is too old, and always
// something once the plan has ended.
func (p *planner) forgotten(ts []Task) []Task {
	if p.isCulture() || p.c.Stage == course.Bottled || p.quiet != nil || !p.c.Pitch.Known {
		return nil
	}
	next := slices.ContainsFunc(ts, func(t Task) bool {
		return !t.Option && (t.isAsked() || t.State == Waiting && (t.Due.After(p.now) || t.Opens.After(p.now)))
	})
	if p.wasSteady() {
		if next {
			return nil
		}
		return []Task{p.whatNext()}
	}
	soon := func(t Task) bool {
		return t.Do == ferment.DoGravity && (t.isAsked() || t.State == Waiting && t.Due.After(p.now) && t.Due.Sub(p.now) <= apart)
	}
	t := p.overdueReading()
	if slices.ContainsFunc(ts, soon) || next && (t.State == Waiting || !p.c.Started.Known) {
		return nil
	}
	return []Task{t}
}

// wasSteady reports whether the gravity was steady and has not changed since.
func (r *record) wasSteady() bool {
	return !r.c.Steady.Met.IsZero() && !r.is(ferment.Restarted)
}

// overdueReading returns the reading that is due once 4 points may have fallen since the last: after a day at least,
// and at most a week in the first month, three weeks later.
func (r *record) overdueReading() Task {
	since := r.c.Pitch.At
	if r.c.Gravity.IsKnown() {
		since = ferment.Later(since, r.c.Gravity.Value.At)
	}
	allowed := mostLater
	if r.now.Sub(r.c.Pitch.At) < firstMonth {
		allowed = mostAtFirst
	}
	if r.c.Pace.IsKnown() && r.c.Pace.Value > 0 {
		allowed = min(max(time.Duration(mayFall/r.c.Pace.Value*float64(aDay)), aDay), allowed)
	}
	why := "no reading for " + r.age(since)
	due := since.In(r.zone).Add(allowed)
	if at, skipped := r.passedOver(Reading, since); skipped {
		due = at.Add(allowed)
	}
	if r.c.Pace.IsKnown() && r.c.Pace.Value*r.now.Sub(since).Hours()/24 >= mayFall {
		why += ": at its pace it may have fallen 4 points or more"
	}
	return r.extra(Task{Step: Reading, Do: ferment.DoGravity, Title: "take gravity", Due: due, Reason: why})
}

// whatNext asks what to do with a mead that is steady.
func (r *record) whatNext() Task {
	due := r.c.Steady.Met.In(r.zone)
	for _, e := range r.entries {
		if at := r.momentOf(e); (e.Skipped != "" || e.Did == ferment.Choose || e.Did == ferment.Bottle) && at.After(r.c.Steady.Met) {
			due = at.Add(nextQuestion)
		}
	}
	return r.extra(Task{Step: WhatNext, Do: string(ferment.Choose), Title: "bottle it, or say what next", Due: due,
		Reason: "gravity is steady, and the plan has no further step"})
}
