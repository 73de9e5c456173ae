package schedule

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
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

// How near the dry finish a ferment must stand (common practice, no source).
const (
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
	u := course.Unmet{What: "steady", Frees: "three readings on one level", Act: ferment.DoGravity}
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
	_, fell := p.testFell()
	switch {
	case fell && !p.holds(hasCondition(ferment.Stabilised)):
		return p.testMissing("")
	case known && above <= float64(p.c.Limits.DryWithin)+1e-9, known && above <= max(nearDryFinish, float64(p.c.Limits.DryWithin)+1e-9) && p.longSteadiness().Open:
		return met
	case p.c.Test.Passed:
		return met
	case p.holds(hasCondition(ferment.Stabilised)):
		return p.sweetCheck()
	case !known:
		return unmet("at the dry finish", "the gravity and the original gravity must be known", ferment.DoGravity)
	}
	c := p.testMissing("")
	c.unmet.What = fmt.Sprintf("at most %s, now %s, or ", (p.c.DryFinish.Value+p.c.Limits.DryWithin).Rounded(4), p.c.Gravity.Value.Gravity.Rounded(4)) + c.unmet.What
	return c
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
	if p.c.Limits.SteadyDays >= whole.SteadyDays || p.c.Test.Passed {
		return p.c.Steady
	}
	return p.c.SteadyOver(whole.SteadyDays, whole.SteadyTemperature)
}

// longSteadiness is the gate steady over sixty days.
func (p *planner) longSteadiness() course.Steadiness {
	if !p.c.Steady.Open {
		return p.c.Steady
	}
	return p.c.SteadyOver(longSteady, p.c.Limits.SteadyTemperature)
}

// testFell says what a forced test has shown to be left, where it has.
func (p *planner) testFell() (string, bool) {
	points := p.c.Test.Points()
	if points == 0 {
		return "", false
	}
	words := fmt.Sprintf("the test fell %s under the jug: ", pointsWords(math.Round(points*10)/10))
	l := carbonation.Liquid{Alcohol: min(p.c.Alcohol.Value, 20)}
	with, err := carbonation.InBottle(0, l, roomy, min(points, 20))
	without, err2 := carbonation.InBottle(0, l, roomy, 0)
	if cmp.Or(err, err2) != nil {
		return words + "sugar is left", true
	}
	return words + measure.Fill(fmt.Sprintf("sugar for about {%s bar} is left", decimal(math.Round(float64(with.Gauge-without.Gauge)))), p.units()), true
}

// roomy is the temperature at which the pressure of a failed test is told.
const roomy measure.Temperature = 20

// testMissing is which half of the forced test is missing, and what meets it.
func (p *planner) testMissing(instead string) check {
	t := p.c.Test
	if fell, ok := p.testFell(); ok {
		return unmet(fell, "let it ferment on, and test again"+instead, ferment.DoGravity)
	}
	switch {
	case t.Early:
		return unmet("the forced test's result", "its glass was read before the fifth day: read it again from "+dated(t.Begun.AddDate(0, 0, 5).In(p.zone)), string(ferment.ForcedTest))
	case t.Running:
		return unmet("the forced test's result", "read its glass from "+dated(t.Begun.AddDate(0, 0, 5).In(p.zone))+" on and log it, e.g. forced-test 0.997", string(ferment.ForcedTest))
	}
	return unmet("a forced test", measure.Fill("{100 mL}, dry yeast, {25 °C}, five to seven days", p.units())+instead, string(ferment.ForcedTest))
}

// Filled is a kind of bottle with the gas that is aimed at; none is a still one.
type Filled struct {
	Bottle carbonation.Bottle
	Fizz   measure.Content
	Brings measure.Strength // alcohol that its sugar makes
	Test   bool             // kept for a test
}

func (f Filled) still() bool { return f.Fizz <= 0 }

// Bottling is what the record says to filling some bottles.
type Bottling struct {
	Gates []Gate   // those that the bottles have to pass: still, conditioning, or both
	Stop  *No      // a danger in the record, or a pressure over what a bottle stands; nil for none
	Near  string   // over four fifths of what a bottle stands, in words; empty for less
	Still *Caution // of bottles without fizz
}

// BottlingOf is what stands against filling these bottles now: a danger in the
// record, a pressure over what one of them stands, a gate that is shut. The gate
// of conditioning looks at these bottles and no others.
func BottlingOf(c course.Course, bottles []Filled) Bottling {
	p := newPlanner(ferment.Protocol{}, c)
	p.filled = []Filled{}
	var b Bottling
	for _, f := range bottles {
		if f.still() {
			b.Still = StillCaution(c)
			continue
		}
		p.filled = append(p.filled, f)
	}
	if b.Still != nil || len(p.filled) < len(bottles) {
		b.Gates = append(b.Gates, p.gate(ferment.StillGate))
	}
	if len(p.filled) > 0 {
		b.Gates = append(b.Gates, p.gate(ferment.ConditioningGate))
		if c.Alcohol.IsKnown() {
			b.Near, _ = p.nearPressure()
		}
	}
	if h, stops := p.stopped(string(ferment.Bottle)); stops {
		b.Stop = refusalOf(h, Day{})
	}
	return b
}

// fizzes tells whether some of it is to be conditioned: of the bottles to be
// filled, else by the ending.
func (p *planner) fizzes() bool {
	if p.filled != nil {
		return len(p.filled) > 0
	}
	return p.c.Ferment.EndsAs(ferment.BottleConditioned)
}

// softTest tells whether a bottle is the soft one that shows how hard the others
// are.
func (f Filled) softTest() bool { return f.Test && strings.Contains(f.Bottle.Kind, "soft") }
