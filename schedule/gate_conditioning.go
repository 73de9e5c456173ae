package schedule

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
)

const (
	testKeeps     = 30                      // days that a forced test counts
	toleranceRoom = 2                       // % vol between the alcohol and the tolerance
	testedDays    = 7                       // days of steadiness that are enough after a forced test
	testedWarmth  = measure.Temperature(18) // at which
)

// conditioningChecks are the conditions of conditioning in the bottle.
func (p *planner) conditioningChecks() []check {
	return []check{
		p.conditioningSteady(), p.dryCheck(), p.unstabilisedCheck(), p.testCheck(), p.toleranceCheck(),
		p.volumeCheck(), p.holdsCheck(), p.standsCheck(), p.testBottleCheck(),
	}
}

// recentTest tells whether a forced test has passed and still counts.
func (p *planner) recentTest() bool {
	t := p.c.Test
	return t.Passed && p.c.Days(t.Begun, p.now) < testKeeps
}

func (p *planner) isWild() bool { return p.c.Ferment.Yeast.IsWild() }

// conditioningSteady: after a forced test a bought yeast needs fewer days, at
// more warmth.
func (p *planner) conditioningSteady() check {
	if p.c.Steady.Open || !p.recentTest() || p.isWild() {
		return p.steadyCheck()
	}
	if p.c.SteadyOver(testedDays, testedWarmth).Open {
		return met
	}
	return p.steadyCheck()
}

func (p *planner) dryCheck() check {
	above, known := p.aboveDry()
	if known && above <= float64(p.c.Limits.DryWithin)+1e-9 || p.recentTest() {
		return met
	}
	if !known {
		return unmet("at the dry finish", "the gravity and the original gravity must be known", ferment.DoGravity)
	}
	return unmet(fmt.Sprintf("at most %s, now %s", (p.c.DryFinish.Value+p.c.Limits.DryWithin).Rounded(4), p.c.Gravity.Value.Gravity.Rounded(4)),
		"what is left would ferment in the bottle: wait and read again", ferment.DoGravity)
}

// unstabilisedCheck: sulphite or sorbate after the pitch shuts this for good.
func (p *planner) unstabilisedCheck() check {
	for _, e := range p.entries {
		if (e.Did == ferment.Sulphite || e.Did == ferment.Sorbate) && p.c.Pitch.Known && p.momentOf(e).After(p.c.Pitch.At) {
			return unmet("not stabilised", string(e.Did)+" went in "+dated(p.momentOf(e))+"; it stays shut", "")
		}
	}
	return met
}

func (p *planner) testCheck() check {
	if p.recentTest() {
		return met
	}
	if _, fell := p.testFell(); fell || p.isWild() {
		return p.testMissing("")
	}
	s := p.longSteadiness()
	if s.Open {
		return met
	}
	return p.testMissing(fmt.Sprintf("; or %d days steady, %.0f so far", longSteady, s.Days))
}

func (p *planner) toleranceCheck() check {
	t, a := p.c.Ferment.Yeast.Tolerance, p.c.Alcohol
	switch {
	case !t.Known():
		return unmet("the tolerance", "write the yeast's tolerance into the file, e.g. tolerance: 14 %", "")
	case !a.IsKnown():
		return unmet("the tolerance", "the alcohol is not known: "+a.Unknown, ferment.DoGravity)
	case t.Value-a.Value < toleranceRoom:
		return unmet(fmt.Sprintf("%d %% vol under the tolerance", toleranceRoom), fmt.Sprintf("it stands at %s of %s; a stronger yeast", a.Value, t.Value), "")
	}
	return met
}

func (p *planner) volumeCheck() check {
	volumes, racked := p.times[ferment.DoVolume], p.times[string(ferment.Rack)]
	if len(volumes) > 0 && len(racked) > 0 && !volumes[len(volumes)-1].Before(racked[len(racked)-1]) {
		return met
	}
	return unmet("the volume after racking", "measure what stands in the vessel", ferment.DoVolume)
}

func (p *planner) holdsCheck() check {
	for _, f := range p.filled {
		if err := f.Bottle.Takes(f.Fizz); err != nil {
			return unmet("a bottle that holds "+f.Fizz.String(), err.Error(), "")
		}
	}
	if p.filled != nil {
		return met
	}
	for _, b := range shelf.Kinds(p.c.Settings) {
		if b.Takes(p.c.Settings.Fizz) == nil {
			return met
		}
	}
	return unmet(fmt.Sprintf("a bottle that holds %s", p.c.Settings.Fizz), "list one under bottles in cellar.yaml, or aim at less", "")
}

// standsCheck: the bottle stands the pressure in the hottest place, with sugar
// left that nobody has seen.
func (p *planner) standsCheck() check {
	if !p.c.Alcohol.IsKnown() {
		return unmet("the pressure", "the alcohol is not known: "+p.c.Alcohol.Unknown, ferment.DoGravity)
	}
	over, stands := p.overPressure()
	if stands {
		return met
	}
	return unmet("the pressure", strings.TrimPrefix(over+"; aim at less, or a stronger bottle", "; "), "")
}

// testBottleCheck: one soft bottle shows how hard the others are.
func (p *planner) testBottleCheck() check {
	if p.filled != nil {
		if slices.ContainsFunc(p.filled, Filled.softTest) {
			return met
		}
		return unmet("a test bottle", "one soft bottle among them, for: test", "")
	}
	for _, b := range p.c.Settings.Bottles {
		if strings.Contains(b.Kind, "soft") {
			return met
		}
	}
	for _, e := range p.entries {
		for _, b := range e.Bottles {
			if b.For == "test" {
				return met
			}
		}
	}
	return unmet("a test bottle", "one soft bottle among them, for: test; list the soft kind under bottles in cellar.yaml", "")
}
