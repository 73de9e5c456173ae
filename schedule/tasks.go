package schedule

import (
	"cmp"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
)

// tasksOf appends the tasks of one step: settled, lapsed, open, and the next.
func (p *planner) tasksOf(i int, out []Task) []Task {
	if p.steps[i].Quiet != nil {
		return out
	}
	if t, asks := p.assumedPitch(i); asks {
		return append(out, t)
	}
	s, openYet := p.series(i, p.now), false
	until := p.lastTime(s)
	out = p.settledTasks(i, s, out)
	// The occurrences are visited from the first: those whose time is over get their states, an open one keeps the
	// later ones waiting, and of a step with an interval only the next one is shown.
	for n := 1; ; n++ {
		o, ok := s.occurrence(n)
		if !ok {
			return out
		}
		if p.settled[o.slot] {
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
		if r := s.step.Repeat; r != nil && len(r.At) == 0 && (o.opens.IsZero() || !o.opens.Before(until)) {
			return out
		}
	}
}

// lastTime returns how far a repeated step is followed: to the horizon, or to where its end is expected or planned.
func (p *planner) lastTime(s series) time.Time {
	if s.step.Repeat == nil || !p.horizon.After(p.dayEnd) {
		return p.dayEnd
	}
	ends := []instant{known(p.horizon)}
	if end := cmp.Or(s.step.Ends, s.step.Repeat.Until); end != nil {
		at := p.when(*end, p.horizon)
		if i, is := p.index[end.Point.Anchor]; is && !at.known {
			at = p.when(p.steps[i].Due, p.horizon)
		}
		ends = append(ends, at)
	}
	last := firstOf(ends)
	return ferment.Later(cmp.Or(last.expected, &course.Expected{At: last.at}).At, p.dayEnd)
}

// settledTasks appends the settled tasks of a step, those before a moved anchor first.
func (p *planner) settledTasks(i int, s series, out []Task) []Task {
	earlier := 0
	for _, h := range p.history[i] {
		t := p.bare(h.occurrence)
		t.State, t.Settled, t.Reason = Done, h.at, "done "+dated(h.at)
		switch {
		case h.skipped && h.because != "":
			t.State, t.Reason = Skipped, "skipped: "+h.because
		case h.skipped:
			t.State, t.Reason = Skipped, "skipped "+dated(h.at)
		}
		if h.base.Equal(s.moving) {
			t.Occurrence += s.before
		} else {
			earlier++
			t.Occurrence = earlier
		}
		out = append(out, t)
	}
	return out
}

// bare returns a task with the values of its step, and no state yet.
func (p *planner) bare(o occurrence) Task {
	s := o.step
	stays := s.Do == string(ferment.Look) || s.Gate != ferment.NoGate && s.Gate != ferment.NutrientGate // shown even in a quiet period
	return Task{
		Subject: p.c.Ferment.ID, Step: s.Name, Title: s.Title, Occurrence: o.n, Do: s.Do,
		Opens: o.opens, Due: o.due.at, Closes: o.ends(), Expected: o.due.expected,
		Also: s.First, Option: s.Option, Say: s.Say, Routine: !stays, Round: p.inRound(s),
	}
}

// taskOf returns the task of one occurrence: the first rule that decides gives its state. Not ok if there is none to
// show.
func (p *planner) taskOf(o occurrence) (Task, bool) {
	t := p.bare(o)
	if at, ok := p.measuredIn(o, p.now); ok {
		t.State, t.Settled, t.Reason = Done, at, "read "+dated(at)
		return t, true
	}
	var v verdict
	for i, decided := 0, false; !decided; i++ {
		v, decided = rules[i](p, o)
	}
	t.State, t.Reason = v.state, v.reason
	switch v.state {
	case "":
		return Task{}, false
	case Lapsed:
		t.Settled, t.Ended, t.Past = v.at, v.ended, v.past
	case Waiting:
		t.Amount = p.amount(o)
	default:
		t.Open, t.Amount, t.Caution = !o.opens.After(p.now), p.amount(o), p.caution(*o.step)
		t.Asks = o.step.Missed == ferment.Ask && v.state == Late
		if o.step.Gate == ferment.NutrientGate {
			t.Until = p.nutrient.until(p.nutrient.grace)
		}
		if v.state == Held {
			t.heldBy(v.hold, p.now)
		}
	}
	if v.undated {
		t.Opens, t.Due, t.Closes = time.Time{}, time.Time{}, time.Time{}
	} else if at, delayed := p.delayed[o.slot]; delayed {
		t.Opens = at
	}
	return t, true
}

func (p *planner) amount(o occurrence) *Amount {
	const merged = 1.5 // factor when two doses are due at once (common practice, no source)
	switch s := o.step; {
	case s.Do == string(ferment.Nutrient) && s.Share > 0:
		times := 1.0
		if p.takesOver(o) {
			times = merged
		}
		return p.doses.amount(o.i, times, p.c.Settings.Weighs)
	case s.Amount == byFigure:
		return p.figure(ferment.Act(s.Do))
	case s.Amount != "":
		return p.written(*s)
	}
	return nil
}

// caution returns the caution of a step: a warning the first time, then a note.
func (p *planner) caution(s ferment.Step) *Caution {
	var still *Caution
	if s.Do == string(ferment.Bottle) {
		still = StillCaution(p.c)
	}
	c := CautionOfStep(s, p.units())
	if c.Text == "" {
		return still
	}
	c.Loud = Warn
	for i, other := range p.steps {
		if cautionOf(other) == c.Name && len(p.history[i]) > 0 {
			c.Loud = Note
		}
	}
	if c.Name == "bottle-pressure" {
		if near, is, _ := p.gates.atLoad(carbonation.Watch); is {
			c.Loud, c.Text = Warn, near+"; "+c.Text
		}
	} else if still != nil && still.Loud == Warn {
		c.Loud, c.Text = Warn, still.Text+"; "+c.Text
	}
	return &c
}

// assumedPitch asks when the yeast was pitched, if gravity fell without a pitch.
func (p *planner) assumedPitch(i int) (Task, bool) {
	if i != p.firstPitch() || !p.c.Pitch.Known || !p.c.Pitch.Assumed || p.c.Stage == course.Bottled {
		return Task{}, false
	}
	at := p.c.Pitch.At.In(p.zone)
	return Task{Subject: p.c.Ferment.ID, Step: p.steps[i].Name, Title: p.steps[i].Title, Occurrence: 1, Do: string(ferment.Pitch),
		State: Due, Open: true, Opens: at, Due: at, Asks: true, Say: "when was it pitched?",
		Reason: "gravity has fallen and no pitch is recorded; it is taken as " + dated(at)}, true
}
