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

// hold is why a task that would be due may not be done.
type hold struct {
	name    string // the gate, the stop or the need
	verdict string // in one or two words
	reason  string
	frees   string // the act or measurement that frees it; empty where only time does
	asks    string // the word or the answer that frees it, where the act alone says too little
	danger  *Caution
	instead string
}

// heldBy is what stands against doing a step now: a danger, a need, a gate, or
// what went in too shortly before.
func (p *planner) heldBy(s ferment.Step, o occurrence) (hold, bool) {
	if h, held := p.stopped(s.Do); held {
		return h, true
	}
	if c, unmet := p.firstUnmet(s.Needs); unmet {
		return p.needs(c), true
	}
	if h, held := p.tooSoon(s.Do); held {
		return h, true
	}
	if h, held := p.sweetening(s.Do); held {
		return h, true
	}
	switch s.Gate {
	case ferment.NoGate:
		return hold{}, false
	case ferment.NutrientGate:
		if p.withTheYeast(s) {
			return hold{}, false
		}
		return p.nutrientHold()
	}
	return p.shutGate(s.Gate)
}

// needs is the hold of an unmet need.
func (p *planner) needs(c ferment.Condition) hold {
	return hold{name: c.Text, verdict: "held", frees: p.c.FreedBy(inPlan{p}, c), asks: p.c.AskedBy(inPlan{p}, c), reason: p.c.Unmet(inPlan{p}, c)}
}

// shutGate is the hold of a gate that is not open.
func (p *planner) shutGate(name ferment.Gate) (hold, bool) {
	g := p.gate(name)
	if g.Open {
		return hold{}, false
	}
	h := hold{name: string(name), verdict: "shut", reason: string(name) + " is shut: " + g.Says}
	for _, u := range g.Unmet {
		if u.Act != "" {
			h.frees = u.Act
			if u.Act == string(ferment.Look) {
				h.asks = u.Frees
			}
			break
		}
	}
	return h, true
}

// mergedAway: a missed dose that the next one has taken over.
func mergedAway(p *planner, o occurrence) (verdict, bool) {
	next, merged := p.merged[o.slot]
	if !merged {
		return verdict{}, false
	}
	label := p.label(p.steps[next.step])
	return verdict{state: Lapsed, reason: p.label(p.steps[o.step]) + ": merged into " + label, at: p.mergedAt[o.slot]}, true
}

// quietNow is the quiet period that holds now. It is broken while one of the
// conditions holds that want hands, and for good by fruit, on which a mead works
// again.
func (p *planner) quietNow() *Quiet {
	for i, s := range p.steps {
		if s.Quiet == nil {
			continue
		}
		from, to := p.quietStart(i, p.now), p.quietEnd(s.Name, p.now)
		if !from.known || !to.known || !p.passed(from.at) || p.passed(to.at) || p.anyHolds(s.Quiet.BrokenBy) || p.fruitedSince(from.at) {
			continue
		}
		return &Quiet{From: from.at, To: to.at}
	}
	return nil
}

func (p *planner) fruitedSince(from time.Time) bool {
	e, in := p.c.Last(ferment.FruitIn)
	return in && p.momentOf(e).After(from)
}

// anyQuietStart is when the plan's quiet period begins.
func (p *planner) anyQuietStart(asOf time.Time) instant {
	for i, s := range p.steps {
		if s.Quiet != nil {
			return p.quietStart(i, asOf)
		}
	}
	return instant{}
}

// quietStart is when a quiet period begins.
func (p *planner) quietStart(i int, asOf time.Time) instant {
	return p.when(p.steps[i].Quiet.From, asOf)
}

// quietEnd is when a quiet period ends; "quiet" in its own end is its
// beginning.
func (p *planner) quietEnd(step string, asOf time.Time) instant {
	i, ok := p.index[step]
	if !ok || p.steps[i].Quiet == nil {
		return instant{}
	}
	return p.when(p.steps[i].Quiet.To, asOf)
}

// staysInQuiet tells whether a task is shown in a quiet period too: looks at
// the airlock, what has a gate, and what is dangerous.
func staysInQuiet(s ferment.Step) bool {
	return s.Do == string(ferment.Look) || s.Gate != ferment.NoGate && s.Gate != ferment.NutrientGate
}

// hush hides the routine steps while it is quiet: what would be due waits for
// the end, what lapses unseen is not there. What was late before stays.
func (p *planner) hush(ts []Task) []Task {
	if p.quiet == nil {
		return ts
	}
	out := ts[:0]
	for _, t := range ts {
		routine := t.Routine && !t.Danger
		switch {
		case routine && t.State == Lapsed && !t.Opens.IsZero() && !t.Opens.Before(p.quiet.From):
			continue
		case routine && (t.State == Due || t.State == Held):
			t = p.hushed(t)
		}
		out = append(out, t)
	}
	return out
}

func (p *planner) hushed(t Task) Task {
	if i, ok := p.index[t.Step]; ok && p.steps[i].Missed == ferment.Drop && !t.Closes.After(p.quiet.To) {
		t.Opens, t.Due, t.Closes = time.Time{}, time.Time{}, time.Time{}
	} else {
		t.Opens = later(t.Opens, p.quiet.To)
	}
	t.State, t.Open, t.Reason = Waiting, false, "quiet until "+dated(p.quiet.To)
	t.Frees, t.FreedBy, t.Caution, t.hold = "", time.Time{}, nil, nil
	return t
}
