package schedule

import (
	"cmp"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

// Reminder is what a task of a person's own reminder is called, as its step
// and as what is to be done. An entry that names it as its step, or passes it
// over, settles the earliest that is open.
const Reminder = "reminder"

// ReadAgain is the step of a reading that a condition waits for.
const ReadAgain = "read-again"

// unasked are the tasks that no step of the plan asks for.
func (p *planner) unasked() []Task {
	tasks := p.reminders()
	if t, ok := p.readAgain(); ok {
		tasks = append(tasks, t)
	}
	return tasks
}

func (p *planner) reminders() []Task {
	var tasks []Task
	for i, r := range p.asked() {
		t := Task{Subject: p.c.Ferment.ID, Step: Reminder, Occurrence: i + 1, Do: Reminder,
			Opens: r.due, Due: r.due, Closes: endOf(r.due), Say: r.note, Reason: r.why}
		switch {
		case r.skipped:
			t.State, t.Settled = Skipped, r.settled
		case !r.settled.IsZero():
			t.State, t.Settled = Done, r.settled
		default:
			t.State, t.Open = p.onItsDay(r.due)
		}
		tasks = append(tasks, t)
	}
	return tasks
}

// reminder is what a person asked to be told of on a day.
type reminder struct {
	due       time.Time
	note, why string
	settled   time.Time // zero while it is not
	skipped   bool
}

// asked are the reminders in the order they were asked for. What settles one
// settles the earliest to come of those asked for by then.
func (p *planner) asked() []reminder {
	var rs []reminder
	for _, e := range p.entries {
		if e.Step == Reminder || e.Skipped == Reminder {
			if i := earliestOpen(rs); i >= 0 {
				rs[i].settled, rs[i].skipped = p.momentOf(e), e.Skipped != ""
			}
		}
		if !e.Remind.IsZero() {
			rs = append(rs, reminder{due: e.Remind.Time.In(p.zone), note: ferment.Harmless(e.Note), why: cmp.Or(ferment.Harmless(e.Note), "asked for "+dated(e.At.Time.In(p.zone)))})
		}
	}
	return rs
}

func earliestOpen(rs []reminder) int {
	found := -1
	for i, r := range rs {
		if r.settled.IsZero() && (found < 0 || r.due.Before(rs[found].due)) {
			found = i
		}
	}
	return found
}

// onItsDay is the state of what is meant for a day: due from then on, late once
// the day is over.
func (p *planner) onItsDay(due time.Time) (s State, open bool) {
	switch {
	case !p.passed(due) && !due.Before(p.dayEnd):
		return Waiting, false
	case p.passed(endOf(due)):
		return Late, true
	}
	return Due, p.passed(due)
}

func startOf(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, t.Location())
}

func endOf(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d+1, 0, 0, 0, 0, t.Location())
}

// readAgain is the reading without which nobody can tell how the ferment is. A
// slow one wants its temperature.
func (p *planner) readAgain() (Task, bool) {
	ct := p.c.CannotTell
	if ct == nil || p.c.Stage == course.Bottled {
		return Task{}, false
	}
	due := startOf(ct.ReadAgain.In(p.zone))
	t := Task{Subject: p.c.Ferment.ID, Step: ReadAgain, Occurrence: 1, Do: ferment.DoGravity,
		Opens: due, Due: due, Closes: endOf(due), Reason: "cannot tell whether it is " + ct.What + ": " + ct.Why}
	if ct.What == string(course.Sluggish) {
		t.Do = ferment.DoTemperature
	}
	if at, skipped := p.passedOver(ReadAgain, due); skipped {
		t.State, t.Settled = Skipped, at
		return t, true
	}
	t.State, t.Open = p.onItsDay(due)
	return t, true
}

// passedOver is when a task that no plan asks for was passed over on or after a
// day.
func (p *planner) passedOver(step string, since time.Time) (time.Time, bool) {
	for _, e := range p.entries {
		if at := p.momentOf(e); e.Skipped == step && !at.Before(since) {
			return at, true
		}
	}
	return time.Time{}, false
}
