package schedule

import (
	"fmt"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

// all returns the gates as they stand. A culture has none.
func (g *gates) all() []Gate {
	if g.isCulture() {
		return nil
	}
	return []Gate{g.gate(ferment.StillGate), g.gate(ferment.ConditioningGate), g.gate(ferment.SteadyGate), g.gate(ferment.NutrientGate)}
}

func (g *gates) gate(name ferment.Gate) Gate {
	made, ok := g.made[name]
	if ok {
		return made
	}
	switch {
	case g.c.Settings.Unread:
		made = gateOf(name, 0, []course.Unmet{{What: ferment.Unlimited, Frees: "fix cellar.yaml: jugkeeper check says where"}})
	case name == ferment.NutrientGate:
		made = g.nutrient.gate()
	case name == ferment.SteadyGate:
		made = gateOf(name, 0, g.c.Steady.Unmet)
	case name == ferment.StillGate:
		made = judged(name, g.stillChecks())
	default:
		made = judged(name, g.conditioningChecks())
	}
	g.made[name] = made
	return made
}

func judged(name ferment.Gate, checks []*course.Unmet) Gate {
	var open []course.Unmet
	for _, u := range checks {
		if u != nil {
			open = append(open, *u)
		}
	}
	return gateOf(name, len(checks), open)
}

func gateOf(name ferment.Gate, of int, unmet []course.Unmet) Gate {
	g := Gate{Name: name, Open: len(unmet) == 0, Unmet: unmet, Says: "nothing is missing"}
	if g.Open {
		return g
	}
	g.Says = unmet[0].What
	if n := len(unmet); n > 1 && of > 0 {
		g.Says = fmt.Sprintf("%d of %d are not met, first of them %s", n, of, unmet[0].What)
	}
	return g
}

func (g *gates) shut(name ferment.Gate) (hold, bool) {
	made := g.gate(name)
	h := hold{name: string(name), verdict: "shut", reason: string(name) + " is shut: " + made.Says}
	for _, u := range made.Unmet {
		if u.Act == "" {
			continue
		}
		h.frees = u.Act
		if u.Act == string(ferment.Look) {
			h.asks = u.Frees
		}
		break
	}
	return h, !made.Open
}
