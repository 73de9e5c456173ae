package schedule

import (
	"cmp"
	"fmt"
	"math"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// gates are the checklists before what cannot be undone; a check returns nil if it is met.
type gates struct {
	filling
	nutrient *nutrition
	made     map[ferment.Gate]Gate
}

func newGates(f filling, n *nutrition) *gates {
	return &gates{filling: f, nutrient: n, made: map[ferment.Gate]Gate{}}
}

func unmet(what, frees, act string) *course.Unmet {
	return &course.Unmet{What: what, Frees: frees, Act: act}
}

// need returns a check that is passed or failed.
func need(met bool, what, frees, act string) *course.Unmet {
	if met {
		return nil
	}
	return unmet(what, frees, act)
}

// How near the dry finish a ferment must be (common practice, no source).
const (
	nearDryFinish = 0.004 // for bottling after a long steady time
	longSteady    = 60    // days
	sweetSteady   = 14    // days, after honey
)

func (g *gates) stillChecks() []*course.Unmet {
	look := string(ferment.Look)
	return []*course.Unmet{
		g.steadyCheck(),
		need(g.is(ferment.IsClear), "clear", "look at it and write down: clear", look),
		need(len(g.times[string(ferment.Rack)]) > 0, "racked", "rack it off its lees", string(ferment.Rack)),
		need(!g.is(ferment.HasFilm) && !g.is(ferment.HasMould), "nothing growing on it", "a film or mould was seen: find out what grows", look),
		g.restCheck(),
	}
}

func (g *gates) steadyCheck() *course.Unmet {
	s := g.steadiness()
	if s.Open {
		return nil
	}
	u := course.Unmet{What: "steady", Frees: "three readings that agree", Act: ferment.DoGravity}
	if len(s.Unmet) > 0 {
		u = s.Unmet[0]
	}
	return &u
}

// restCheck: the sugar is gone, or nothing that could ferment it is left.
func (g *gates) restCheck() *course.Unmet {
	above, known := g.aboveDry()
	within := float64(g.c.Limits.DryWithin) + 1e-9
	_, fell := g.testFell()
	switch {
	case fell && !g.is(ferment.Stabilised):
		return g.testMissing("")
	case known && above <= within, known && above <= max(nearDryFinish, within) && g.longSteadiness().Open, g.c.Test.Passed:
		return nil
	case g.is(ferment.Stabilised):
		return g.sweetCheck()
	case !known:
		return g.notDry("")
	}
	u := g.testMissing("")
	u.What = g.notDry("").What + ", or " + u.What
	return u
}

// notDry is the check that sugar has gone, failed, with what to do.
func (g *gates) notDry(frees string) *course.Unmet {
	if _, known := g.aboveDry(); !known {
		return unmet("at the dry finish", "the gravity and the original gravity must be known", ferment.DoGravity)
	}
	return unmet(fmt.Sprintf("gravity at most %s, now %s", (g.c.DryFinish.Value+g.c.Limits.DryWithin).Rounded(4), g.c.Gravity.Value.Gravity.Rounded(4)), frees, ferment.DoGravity)
}

// sweetCheck: what was sweetened after stabilising has rested long enough.
func (g *gates) sweetCheck() *course.Unmet {
	last, sweetened := g.c.Last(ferment.Honey)
	if !sweetened {
		return nil
	}
	ready := last.At.Latest().AddDate(0, 0, sweetSteady)
	return need(g.Passed(ready) && g.c.Steady.Open, "14 days steady after the honey", "not before "+dated(ready.In(g.zone)), ferment.DoGravity)
}

// aboveDry returns how far the gravity is above the dry finish, to 0.0001.
func (g *gates) aboveDry() (float64, bool) {
	if !g.c.Gravity.IsKnown() || !g.c.DryFinish.IsKnown() {
		return 0, false
	}
	d := float64(g.c.Gravity.Value.Gravity.Rounded(4) - g.c.DryFinish.Value.Rounded(4))
	return math.Round(d*1e4) / 1e4, true
}

// steadiness returns the steadiness of the gate; a shorter one of the plan counts only with a forced test.
func (g *gates) steadiness() course.Steadiness {
	whole := ferment.DefaultLimits()
	if g.c.Limits.SteadyDays >= whole.SteadyDays || g.c.Test.Passed {
		return g.c.Steady
	}
	return g.c.SteadyOver(whole.SteadyDays, whole.SteadyTemperature)
}

// longSteadiness returns how steady it is over the time that stands in for a forced test.
func (g *gates) longSteadiness() course.Steadiness {
	if !g.c.Steady.Open {
		return g.c.Steady
	}
	return g.c.SteadyOver(longSteady, g.c.Limits.SteadyTemperature)
}

// roomy is the temperature at which the pressure of a failed test is stated.
const roomy measure.Temperature = 20

// testFell says how much sugar a forced test has shown to be left, if any.
func (g *gates) testFell() (string, bool) {
	points := g.c.Test.Points()
	if points == 0 {
		return "", false
	}
	words := fmt.Sprintf("the test fell %s under the jug: ", carbonation.PointsWords(math.Round(points*10)/10))
	l := carbonation.Liquid{Alcohol: min(g.c.Alcohol.Value, 20)}
	with, err := carbonation.Usual.InBottle(0, l, roomy, min(points, 20))
	without, err2 := carbonation.Usual.InBottle(0, l, roomy, 0)
	if cmp.Or(err, err2) != nil {
		return words + "sugar is left", true
	}
	return words + measure.Fill(fmt.Sprintf("sugar for about {%s bar} is left", decimal(math.Round(float64(with.Gauge-without.Gauge)))), g.units()), true
}

// testMissing returns which half of the forced test is missing, and what would meet it.
func (g *gates) testMissing(instead string) *course.Unmet {
	t := g.c.Test
	if fell, ok := g.testFell(); ok {
		return unmet(fell, "let it ferment further, and test again"+instead, ferment.DoGravity)
	}
	fifth := dated(t.Begun.AddDate(0, 0, 5).In(g.zone))
	switch {
	case t.Early:
		return unmet("the forced test's result", "its glass was read before the fifth day: read it again from "+fifth, string(ferment.ForcedTest))
	case t.Running:
		return unmet("the forced test's result", "read its glass from "+fifth+" on and log it, e.g. forced-test 0.997", string(ferment.ForcedTest))
	}
	return unmet("a forced test", measure.Fill("keep {100 mL} with dry yeast at {25 °C} for five to seven days", g.units())+instead, string(ferment.ForcedTest))
}
