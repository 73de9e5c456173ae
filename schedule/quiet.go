package schedule

import (
	"time"

	"cellar/jugkeeper/ferment"
)

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
