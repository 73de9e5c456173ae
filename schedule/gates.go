package schedule

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/shelf"
)

// all returns all gates. A culture has none.
func (g *gates) all() []Gate {
	if g.isCulture() {
		return nil
	}
	return []Gate{g.gate(ferment.StillGate), g.gate(ferment.ConditioningGate), g.gate(ferment.SteadyGate), g.gate(ferment.NutrientGate)}
}

// gate returns a gate, checked once for each plan.
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
		made = gateFrom(name, g.stillChecks())
	default:
		made = gateFrom(name, g.conditioningChecks())
	}
	g.made[name] = made
	return made
}

// gateFrom returns a gate from its checks: nil is one that is passed.
func gateFrom(name ferment.Gate, checks []*course.Unmet) Gate {
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
		g.Says = fmt.Sprintf("%d of %d things are missing, first: %s", n, of, unmet[0].What)
	}
	return g
}

func (g *gates) shut(name ferment.Gate) (Hold, bool) {
	made := g.gate(name)
	h := Hold{Gate: name, name: string(name), verdict: "shut", reason: string(name) + " is not ready: " + made.Says}
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

func (g *gates) conditioningChecks() []*course.Unmet {
	return []*course.Unmet{
		g.conditioningSteady(), g.dryCheck(), g.unstabilisedCheck(), g.testCheck(), g.toleranceCheck(),
		g.volumeCheck(), g.holdsCheck(), g.standsCheck(), g.testBottleCheck(),
	}
}

// conditioningSteady: after a forced test seven days at 18 °C are enough for a bought yeast (common practice, no source).
func (g *gates) conditioningSteady() *course.Unmet {
	if !g.c.Steady.Open && g.recentTest() && !g.isWild() && g.c.SteadyOver(7, 18).Open {
		return nil
	}
	return g.steadyCheck()
}

func (g *gates) dryCheck() *course.Unmet {
	above, known := g.aboveDry()
	if known && above <= float64(g.c.Limits.DryWithin)+1e-9 || g.recentTest() {
		return nil
	}
	return g.notDry("the sugar left would ferment in the bottle: wait and read again")
}

// unstabilisedCheck: sulphite or sorbate after the pitch shuts this gate for good.
func (g *gates) unstabilisedCheck() *course.Unmet {
	for _, e := range g.entries {
		if (e.Did == ferment.Sulphite || e.Did == ferment.Sorbate) && g.c.Pitch.Known && g.momentOf(e).After(g.c.Pitch.At) {
			return unmet("not stabilised", string(e.Did)+" went in "+dated(g.momentOf(e))+"; it cannot be bottle-conditioned any more", "")
		}
	}
	return nil
}

func (g *gates) testCheck() *course.Unmet {
	if g.recentTest() {
		return nil
	}
	if _, fell := g.testFell(); fell || g.isWild() {
		return g.testMissing("")
	}
	s, says := g.longSteadiness(), fmt.Sprintf("; or %d days steady", longSteady)
	switch {
	case s.Open:
		return nil
	case g.c.Steady.Open:
		says += ": " + s.Unmet[0].What
	}
	return g.testMissing(says)
}

func (g *gates) toleranceCheck() *course.Unmet {
	const room = 2 // % vol that the alcohol must be below the tolerance (common practice, no source)
	t, a := g.c.Ferment.Yeast.Tolerance, g.c.Alcohol
	switch {
	case !t.Known():
		return unmet("the tolerance", "write the yeast's tolerance into the file, e.g. tolerance: 14 %", "")
	case !a.IsKnown():
		return unmet("the tolerance", "the alcohol is not known: "+a.Unknown, ferment.DoGravity)
	case t.Value-a.Value < room:
		return unmet(fmt.Sprintf("%d %% vol under the tolerance", room), fmt.Sprintf("it is at %s of %s; use a stronger yeast", a.Value, t.Value), "")
	}
	return nil
}

func (g *gates) volumeCheck() *course.Unmet {
	volumes, racked := g.times[ferment.DoVolume], g.times[string(ferment.Rack)]
	if len(racked) == 0 {
		return unmet("racked", "rack it off its lees", string(ferment.Rack))
	}
	met := len(volumes) > 0 && !volumes[len(volumes)-1].Before(racked[len(racked)-1])
	return need(met, "the volume after racking", "measure what is in the vessel", ferment.DoVolume)
}

func (g *gates) holdsCheck() *course.Unmet {
	for _, f := range g.bottles {
		if err := f.Bottle.CheckFizz(f.Fizz); err != nil {
			return unmet("a bottle made for "+f.Fizz.String(), err.Error(), "")
		}
	}
	fizz := g.c.Settings.Fizz
	there := g.bottles != nil || slices.ContainsFunc(shelf.Kinds(g.c.Settings), func(b carbonation.Bottle) bool { return b.CheckFizz(fizz) == nil })
	return need(there, "a bottle made for "+fizz.String(), "list one under bottles in cellar.yaml, or aim at less", "")
}

// standsCheck: the bottle is made for the pressure in the hottest place, with some sugar left.
func (g *gates) standsCheck() *course.Unmet {
	says, over, known := g.atLoad(carbonation.Over)
	switch {
	case !g.c.Alcohol.IsKnown():
		return unmet("the pressure", says, ferment.DoGravity)
	case over:
		says += "; aim at less, or a stronger bottle"
	}
	return need(known && !over, "the pressure", says, "")
}

// testBottleCheck: there is one soft bottle, which shows how hard the others are.
func (g *gates) testBottleCheck() *course.Unmet {
	if g.bottles != nil {
		return need(slices.ContainsFunc(g.bottles, func(f Filled) bool { return f.Test && strings.Contains(f.Bottle.Kind, "soft") }), "a test bottle", "one soft bottle among them, for: test", "")
	}
	soft := slices.ContainsFunc(g.c.Settings.Bottles, func(b ferment.BottleKind) bool { return strings.Contains(b.Kind, "soft") })
	kept := slices.ContainsFunc(g.entries, func(e *ferment.Entry) bool {
		return slices.ContainsFunc(e.Bottles, func(b ferment.Bottles) bool { return b.For == "test" })
	})
	return need(soft || kept, "a test bottle", "one soft bottle among them, for: test; list the soft kind under bottles in cellar.yaml", "")
}
