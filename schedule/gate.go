package schedule

import (
	"fmt"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

// allGates are the gates as they stand. A culture has none.
func (p *planner) allGates() []Gate {
	if p.c.Culture != nil {
		return nil
	}
	names := []ferment.Gate{ferment.StillGate, ferment.ConditioningGate, ferment.SteadyGate, ferment.NutrientGate}
	gates := make([]Gate, len(names))
	for i, name := range names {
		gates[i] = p.gate(name)
	}
	return gates
}

// gate is one gate, worked out once.
func (p *planner) gate(name ferment.Gate) Gate {
	if g, ok := p.gates[name]; ok {
		return g
	}
	var g Gate
	switch name {
	case ferment.NutrientGate:
		g = p.nutrientGate()
	case ferment.SteadyGate:
		g = gateOf(name, 0, p.c.Steady.Unmet)
	case ferment.StillGate:
		g = judged(name, p.stillChecks())
	default:
		g = judged(name, p.conditioningChecks())
	}
	p.gates[name] = g
	return g
}

// check is one condition of a gate: met where nothing is unmet.
type check struct{ unmet *course.Unmet }

var met = check{}

func unmet(what, frees, act string) check {
	return check{&course.Unmet{What: what, Frees: frees, Act: act}}
}

// judged is a gate that is open when all its checks are met.
func judged(name ferment.Gate, checks []check) Gate {
	var open []course.Unmet
	for _, c := range checks {
		if c.unmet != nil {
			open = append(open, *c.unmet)
		}
	}
	return gateOf(name, len(checks), open)
}

func gateOf(name ferment.Gate, of int, unmet []course.Unmet) Gate {
	g := Gate{Name: name, Open: len(unmet) == 0, Unmet: unmet, Says: "all conditions are met"}
	if g.Open {
		return g
	}
	g.Says = unmet[0].What
	if n := len(unmet); n > 1 && of > 0 {
		g.Says = fmt.Sprintf("%d of %d are not met, first of them %s", n, of, unmet[0].What)
	}
	return g
}
