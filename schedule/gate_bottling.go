package schedule

import (
	"fmt"
	"math"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// How near the dry finish a ferment must stand (common practice, no source).
const (
	atDryFinish   = 0.002 // to be bottled
	nearDryFinish = 0.004 // to be bottled once it has been steady for long
	longSteady    = 60    // days
	sweetSteady   = 14    // days, after honey
)

func hasCondition(k ferment.ConditionKind) ferment.Condition {
	return ferment.Condition{Kind: k, Text: string(k)}
}

// stillChecks are the conditions of a still bottling.
func (p *planner) stillChecks() []check {
	return []check{p.steadyCheck(), p.clearCheck(), p.rackedCheck(), p.nothingGrows(), p.restCheck()}
}

func (p *planner) steadyCheck() check {
	s := p.steadiness()
	if s.Open {
		return met
	}
	u := course.Unmet{What: "steady", Frees: "three readings within 0.0010", Act: ferment.DoGravity}
	if len(s.Unmet) > 0 {
		u = s.Unmet[0]
	}
	return check{&u}
}

func (p *planner) clearCheck() check {
	if p.holds(hasCondition(ferment.IsClear)) {
		return met
	}
	return unmet("clear", "look at it and write down: clear", string(ferment.Look))
}

func (p *planner) rackedCheck() check {
	if _, ok := p.c.First(ferment.Rack); ok {
		return met
	}
	return unmet("racked", "rack it off its lees", string(ferment.Rack))
}

func (p *planner) nothingGrows() check {
	if p.anyHolds([]ferment.Condition{hasCondition(ferment.HasFilm), hasCondition(ferment.HasMould)}) {
		return unmet("nothing growing on it", "a film or mould was seen: find out what grows", string(ferment.Look))
	}
	return met
}

// restCheck: the sugar is gone, or nothing is left that could ferment it.
func (p *planner) restCheck() check {
	above, known := p.aboveDry()
	switch {
	case known && above <= atDryFinish, known && above <= nearDryFinish && p.longSteadiness().Open:
		return met
	case p.forcedTest().passed:
		return met
	case p.holds(hasCondition(ferment.Stabilised)):
		return p.sweetCheck()
	case !known:
		return unmet("at the dry finish", "the gravity and the original gravity must be known", ferment.DoGravity)
	}
	what := fmt.Sprintf("at most %s, now %s", (p.c.DryFinish.Value + atDryFinish).Rounded(4), p.c.Gravity.Value.Gravity.Rounded(4))
	return unmet(what, "a forced test within 0.001: 100 mL, dry yeast, 25 °C, five to seven days", string(ferment.ForcedTest))
}

// sweetCheck: what was sweetened after stabilising has stood long enough.
func (p *planner) sweetCheck() check {
	last, sweetened := p.c.Last(ferment.Honey)
	if !sweetened {
		return met
	}
	ready := last.At.Latest().AddDate(0, 0, sweetSteady)
	if p.passed(ready) && p.c.Steady.Open {
		return met
	}
	return unmet("14 days steady after the honey", "not before "+dated(ready.In(p.zone)), ferment.DoGravity)
}

// aboveDry is how far gravity stands above the dry finish, to 0.0001.
func (p *planner) aboveDry() (float64, bool) {
	if !p.c.Gravity.IsKnown() || !p.c.DryFinish.IsKnown() {
		return 0, false
	}
	d := float64(p.c.Gravity.Value.Gravity.Rounded(4) - p.c.DryFinish.Value.Rounded(4))
	return math.Round(d*1e4) / 1e4, true
}

// steadiness is the gate steady. Where a plan has shortened it, that counts only
// together with a forced test.
func (p *planner) steadiness() course.Steadiness {
	whole := ferment.DefaultLimits()
	if p.c.Limits.SteadyDays >= whole.SteadyDays || p.forcedTest().passed {
		return p.c.Steady
	}
	return p.steadyOver(whole.SteadyDays, whole.SteadyTemperature)
}

// steadyOver is the gate steady over other days than the limits say.
func (p *planner) steadyOver(days int, warmth measure.Temperature) course.Steadiness {
	limits := p.c.Limits
	limits.SteadyDays, limits.SteadyDaysWild = days, max(days, limits.SteadyDaysWild)
	limits.SteadyTemperature = warmth
	return course.Of(p.c.Ferment, p.c.Settings, limits, p.now).Steady
}

// longSteadiness is the gate steady over sixty days.
func (p *planner) longSteadiness() course.Steadiness {
	if !p.c.Steady.Open {
		return p.c.Steady
	}
	return p.steadyOver(longSteady, p.c.Limits.SteadyTemperature)
}

// A test is what a glass with a strong yeast in a warm place has shown.
type test struct {
	begun   time.Time
	result  measure.Gravity
	done    bool
	running bool // begun, and no result yet
	passed  bool // within 0.001 of the vessel
}

const (
	testAgrees = 0.001
	testWeeks  = 14 * 24 * time.Hour // a result belongs to the test begun within it
)

// forcedTest is the latest test with a result.
func (p *planner) forcedTest() test {
	var begun time.Time
	var t test
	for _, e := range p.entries {
		if e.Did != ferment.ForcedTest {
			continue
		}
		at := p.momentOf(e)
		if !e.Gravity.Known() {
			begun, t.running = at, true
			continue
		}
		t = test{begun: at, result: e.Gravity.Value, done: true}
		if !begun.IsZero() && at.Sub(begun) <= testWeeks {
			t.begun = begun
		}
	}
	if t.done && p.c.Gravity.IsKnown() {
		apart := math.Abs(float64(t.result.Rounded(4) - p.c.Gravity.Value.Gravity.Rounded(4)))
		t.passed = math.Round(apart*1e4)/1e4 <= testAgrees
	}
	return t
}
