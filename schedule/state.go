package schedule

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// verdict is what has become of an occurrence, and why.
type verdict struct {
	state   State // empty: there is no such task
	reason  string
	at      time.Time // when it lapsed
	hold    hold
	undated bool // its times mean nothing yet
}

// tasksOf are the tasks of one step: what was settled, what has lapsed, what is
// open, and what comes next.
func (p *planner) tasksOf(i int) []Task {
	if p.steps[i].Quiet != nil {
		return nil
	}
	if t, asks := p.assumedPitch(i); asks {
		return []Task{t}
	}
	s := p.series(i, p.now)
	out, openYet := p.settledTasks(i, s), false
	for n := 1; ; n++ {
		o, ok := p.nthOf(s, i, n)
		if !ok {
			break
		}
		if p.isSettled(o) {
			continue
		}
		if t, there := p.taskOf(o); there {
			t.Occurrence += s.before
			if openYet && t.State == Due {
				t.State, t.Reason = Waiting, p.waitsFor(o)
			}
			openYet = openYet || t.Open
			out = append(out, t)
		}
		if p.beyond(s, o) {
			break
		}
	}
	return out
}

// settledTasks are what entries have settled of a step. Where what it hangs on
// has moved since, those of before are numbered first.
func (p *planner) settledTasks(i int, s series) []Task {
	var out []Task
	earlier := 0
	for _, h := range p.history[i] {
		t := p.settledTask(h)
		if h.slot.base.Equal(s.moving) {
			t.Occurrence += s.before
		} else {
			earlier++
			t.Occurrence = earlier
		}
		out = append(out, t)
	}
	return out
}

// beyond tells whether an occurrence is the last to be shown: of a step that
// repeats at an interval only the next to come is.
func (p *planner) beyond(s series, o occurrence) bool {
	if s.repeat == nil || len(s.repeat.At) > 0 {
		return false
	}
	return !o.due.known || o.opens.IsZero() || !o.opens.Before(p.dayEnd)
}

// settledTask is what an entry has settled.
func (p *planner) settledTask(h settlement) Task {
	t := p.bare(h.occurrence)
	t.State, t.Settled, t.Reason = Done, h.at, "done "+dated(h.at)
	if h.skipped {
		t.State, t.Reason = Skipped, "passed over "+dated(h.at)
		if h.because != "" {
			t.Reason = "passed over: " + h.because
		}
	}
	return t
}

// bare is a task with what its step says, in no state yet.
func (p *planner) bare(o occurrence) Task {
	s := p.steps[o.step]
	return Task{
		Subject: p.c.Ferment.ID, Step: s.Name, Title: s.Title, Occurrence: o.n, Do: s.Do,
		Opens: o.opens, Due: o.due.at, Closes: o.ends(), Expected: o.due.expected,
		Also: s.First, Option: s.Option, Say: s.Say, Routine: !staysInQuiet(s),
	}
}

// taskOf is the task that an unsettled occurrence is now.
func (p *planner) taskOf(o occurrence) (Task, bool) {
	t := p.bare(o)
	if at, ok := p.measuredIn(o, p.now); ok {
		t.State, t.Settled, t.Reason = Done, at, "read "+dated(at)
		return t, true
	}
	v := p.judge(o)
	if v.state == "" {
		return Task{}, false
	}
	t.State, t.Reason = v.state, v.reason
	switch v.state {
	case Lapsed:
		t.Settled = v.at
	case Waiting:
		t.Amount = p.amount(o)
	default:
		p.open(&t, o, v)
	}
	if v.undated {
		t.Opens, t.Due, t.Closes = time.Time{}, time.Time{}, time.Time{}
	} else if at, delayed := p.delayed[o.slot]; delayed {
		t.Opens = at
	}
	return t, true
}

// open fills in what a task that stands in the day's list carries.
func (p *planner) open(t *Task, o occurrence, v verdict) {
	s := p.steps[o.step]
	t.Open = o.opens.IsZero() || !o.opens.After(p.now)
	t.Amount = p.amount(o)
	t.Caution = p.caution(s)
	t.Asks = s.Missed == ferment.Ask && v.state == Late
	if s.Gate == ferment.NutrientGate {
		t.Until = p.nutrientUntil()
	}
	if v.state != Held {
		return
	}
	t.hold, t.Frees, t.Answer = &v.hold, v.hold.frees, v.hold.asks
	if t.Frees != "" && p.now.Before(t.Closes) {
		t.FreedBy = t.Closes
	}
	if v.hold.danger != nil {
		t.Danger, t.Routine, t.Caution, t.Instead = true, false, v.hold.danger, v.hold.instead
	}
}
