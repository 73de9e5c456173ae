package schedule

import (
	"cellar/jugkeeper/ferment"
)

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
