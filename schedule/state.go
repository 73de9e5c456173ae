package schedule

import (
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
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
		Subject: p.c.Ferment.ID, Step: s.Name, Occurrence: o.n, Do: s.Do,
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
	t.hold, t.Frees = &v.hold, v.hold.frees
	if t.Frees != "" && p.now.Before(t.Closes) {
		t.FreedBy = t.Closes
	}
	if v.hold.danger != nil {
		t.Danger, t.Routine, t.Caution, t.Instead = true, false, v.hold.danger, v.hold.instead
	}
}

// rule decides an occurrence, or leaves it to the next.
type rule func(*planner, occurrence) (verdict, bool)

// rules in their order; the last one always decides.
var rules = []rule{notThere, inBottles, ended, undated, unready, mergedAway, shutForGood, missed, comesLater, standing}

func (p *planner) judge(o occurrence) verdict {
	for _, r := range rules {
		if v, decided := r(p, o); decided {
			return v
		}
	}
	return verdict{}
}

// notThere: while one of its exceptions holds there is no such task.
func notThere(p *planner, o occurrence) (verdict, bool) {
	return verdict{}, p.anyHolds(p.steps[o.step].Unless)
}

// inBottles: with everything in bottles, what is done to a vessel is over.
func inBottles(p *planner, o occurrence) (verdict, bool) {
	if p.c.Stage != course.Bottled || afterBottling[p.steps[o.step].Do] {
		return verdict{}, false
	}
	bottled, ok := p.c.Last(ferment.Bottle)
	if !ok || o.opens.IsZero() || o.opens.After(bottled.At.Time) {
		return verdict{}, true
	}
	return verdict{state: Lapsed, reason: "everything is in bottles", at: bottled.At.Time.In(p.zone)}, true
}

var afterBottling = map[string]bool{
	string(ferment.Open): true, string(ferment.Taste): true, string(ferment.Squeeze): true,
	string(ferment.Chill): true, string(ferment.Move): true, string(ferment.Choose): true,
}

// ended: what ends the step has come. Occurrences that had not opened by then
// are not there, the first is shown as lapsed all the same.
func ended(p *planner, o occurrence) (verdict, bool) {
	s := p.steps[o.step]
	end := p.endOfStep(s, p.now)
	if !end.known {
		return verdict{}, false
	}
	if o.n > 1 && !o.opens.Before(end.at) {
		return verdict{}, true
	}
	if o.due.known && !o.opens.IsZero() && o.ends().Before(end.at) && p.passed(o.ends()) {
		return verdict{}, false
	}
	return verdict{state: Lapsed, reason: p.label(s) + ": " + endReason(*s.Ends), at: end.at}, true
}

// undated: it hangs on something that has not happened.
func undated(p *planner, o occurrence) (verdict, bool) {
	return verdict{state: Waiting, reason: p.waitsFor(o), undated: true}, !o.due.known
}

// unready: until its conditions hold it waits, without a date; one that needs
// the ferment to be young does not come again.
func unready(p *planner, o occurrence) (verdict, bool) {
	c, unmet := p.firstUnmet(p.steps[o.step].When)
	if !unmet {
		return verdict{}, false
	}
	s := p.steps[o.step]
	if c.Kind == ferment.ActUnderAgo && p.anchor(c.Word, true, p.now).known && p.passed(o.opens) {
		return verdict{state: Lapsed, reason: p.label(s) + ": it is not " + c.Text + " any more", at: o.ends()}, true
	}
	if p.passed(o.ends()) && (s.Missed == ferment.Drop || o.replaced(p.now)) {
		return verdict{}, true
	}
	return verdict{state: Waiting, reason: "waits until it is " + c.Text, undated: true}, true
}

// missed: its window is over, and it is not one that may be done late.
func missed(p *planner, o occurrence) (verdict, bool) {
	s := p.steps[o.step]
	if o.opens.IsZero() || !p.passed(o.ends()) {
		return verdict{}, false
	}
	if !o.next.IsZero() && p.passed(o.next) {
		return verdict{state: Lapsed, reason: p.label(s) + ": replaced by the next", at: o.next}, true
	}
	switch {
	case s.Option:
		return verdict{state: Lapsed, reason: p.label(s) + ": its time is over", at: o.ends()}, true
	case s.Missed == ferment.Drop:
		return verdict{state: Lapsed, reason: p.label(s) + ": its window closed, and it is not made up", at: o.ends()}, true
	case s.Missed == ferment.Ask && p.passed(askedUntil(o)):
		return verdict{state: Lapsed, reason: p.label(s) + ": nobody said whether it was done", at: askedUntil(o)}, true
	}
	return verdict{}, false
}

// comesLater: its window opens after the day's list, or after a dose that goes
// before it.
func comesLater(p *planner, o occurrence) (verdict, bool) {
	opens := o.opens
	if at, delayed := p.delayed[o.slot]; delayed {
		opens = at
	}
	if p.passed(opens) || opens.Before(p.dayEnd) && opens.Equal(o.opens) {
		return verdict{}, false
	}
	return verdict{state: Waiting, reason: p.waitsFor(o)}, true
}

// standing: it is in the day's list: held, late or due.
func standing(p *planner, o occurrence) (verdict, bool) {
	s := p.steps[o.step]
	if h, held := p.heldBy(s, o); held {
		return verdict{state: Held, reason: h.reason, hold: h}, true
	}
	if !o.opens.IsZero() && p.passed(o.ends()) {
		return verdict{state: Late, reason: p.lateReason(s, o)}, true
	}
	return verdict{state: Due, reason: p.dueReason(s, o)}, true
}
