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
	settled := p.reminded()
	var tasks []Task
	for _, e := range p.entries {
		if e.Remind.IsZero() {
			continue
		}
		due := e.Remind.Time.In(p.zone)
		t := Task{Subject: p.c.Ferment.ID, Step: Reminder, Occurrence: len(tasks) + 1, Do: Reminder,
			Opens: due, Due: due, Closes: endOf(due), Say: e.Note, Reason: cmp.Or(e.Note, "asked for "+dated(e.At.Time.In(p.zone)))}
		i := firstSince(settled, due)
		switch {
		case i >= 0:
			t.State, t.Settled = Done, settled[i]
			settled = append(settled[:i:i], settled[i+1:]...)
		case !p.passed(due):
			t.State = Waiting
			if due.Before(p.dayEnd) {
				t.State = Due
			}
		case p.passed(t.Closes):
			t.State, t.Open = Late, true
		default:
			t.State, t.Open = Due, true
		}
		tasks = append(tasks, t)
	}
	return tasks
}

// reminded are the times at which reminders were settled.
func (p *planner) reminded() []time.Time {
	var ts []time.Time
	for _, e := range p.entries {
		if e.Step == Reminder || e.Skipped == Reminder {
			ts = append(ts, p.momentOf(e))
		}
	}
	return ts
}

func firstSince(ts []time.Time, t time.Time) int {
	for i, one := range ts {
		if !one.Before(t) {
			return i
		}
	}
	return -1
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
	switch {
	case !p.passed(t.Opens) && !t.Opens.Before(p.dayEnd):
		t.State = Waiting
	case p.passed(t.Closes):
		t.State, t.Open = Late, true
	default:
		t.State, t.Open = Due, p.passed(t.Opens)
	}
	return t, true
}
