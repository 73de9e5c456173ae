package schedule_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

// atRest is a must of 1.084 that was racked clear and read steady for sixteen days, at its dry finish of 0.9964.
const atRest = `0d 18:30 pitch|1d 12:00 started|5d 18:30 1.045@20|10d 18:30 1.012@20|20d 18:30 1.000@20|
	60d 18:30 0.997@20 17C|62d 18:00 rack clear vol3.2L|68d 18:30 0.997@20 17C|76d 18:30 0.997@20 18C`

func gate(d schedule.Day, name ferment.Gate) schedule.Gate {
	for _, g := range d.Gates {
		if g.Name == name {
			return g
		}
	}
	return schedule.Gate{}
}

// unmet writes the unmet conditions of a gate in a line.
func unmet(g schedule.Gate) string {
	var whats []string
	for _, u := range g.Unmet {
		whats = append(whats, u.What)
	}
	return strings.Join(whats, "; ")
}

func TestStillGate(t *testing.T) {
	for _, c := range []struct {
		what, log, now, unmet string
	}{
		{"all met", atRest, "77d 09:00", ""},
		{"two readings", strings.Replace(atRest, "|68d 18:30 0.997@20 17C", "", 1), "77d 09:00", "2 of 3 readings agree"},
		{"not clear", strings.Replace(atRest, " clear", "", 1), "77d 09:00", "clear"},
		{"hazy again", atRest + "|76d 19:00 hazy", "77d 09:00", "clear"},
		{"not racked", strings.Replace(atRest, "rack clear vol3.2L", "clear", 1), "77d 09:00", "racked"},
		{"a film", atRest + "|76d 19:00 look seen=film", "77d 09:00", "nothing growing on it"},
		{"one in the middle a point off", strings.Replace(atRest, "68d 18:30 0.997", "68d 18:30 0.998", 1), "77d 09:00", ""},
		{"one in the middle off by more than 0.002", strings.Replace(atRest, "68d 18:30 0.997", "68d 18:30 0.9991", 1), "77d 09:00", "1 of 3 readings agree"},
		{"half a point lower each week", strings.Replace(strings.Replace(atRest, "60d 18:30 0.997", "60d 18:30 0.998", 1), "68d 18:30 0.997", "68d 18:30 0.9975", 1),
			"77d 09:00", "4 readings fall by 0.74 points a fortnight; 0.43 is the limit"},
		{"two points lower in a fortnight", strings.Replace(strings.Replace(atRest, "60d 18:30 0.997", "60d 18:30 0.9988", 1), "68d 18:30 0.997", "68d 18:30 0.998", 1),
			"77d 09:00", "it still falls, 1.57 points a fortnight"},
		{"the latest reading is old", atRest, "91d 09:00", "the latest reading is older than 14 days"},
	} {
		g := gate(jug{plan: "small-jug still", gravity: "1.084", log: c.log}.day(c.now), ferment.StillGate)
		assert.Equal(t, c.unmet, unmet(g), c.what)
		assert.Equal(t, c.unmet == "", g.Open, c.what)
		for _, u := range g.Unmet {
			assert.NotEmpty(t, u.Frees, "%s: %s says what would meet it", c.what, u.What)
		}
	}
}

// TestRestAtTheDryFinish: 0.002 above the dry finish is enough, 0.004 after
// sixty days, or a forced test.
func TestRestAtTheDryFinish(t *testing.T) {
	long := "|90d 18:30 G 18C|104d 18:30 G 18C|118d 18:30 G 18C|121d 18:30 G 18C"
	for _, c := range []struct {
		gravity, more, now string
		open               bool
	}{
		{"0.9984", "", "77d 09:00", true},
		{"0.9985", "", "77d 09:00", false},
		{"0.9985", long, "122d 09:00", true},
		{"1.0004", long, "122d 09:00", true},
		{"1.0005", long, "122d 09:00", false},
		{"1.0050", "|70d 18:00 forced-test|76d 18:00 forced-test 1.0040", "77d 09:00", true},
		{"1.0050", "|70d 18:00 forced-test|76d 18:00 forced-test 1.0039", "77d 09:00", false},
	} {
		log := strings.ReplaceAll(strings.ReplaceAll(atRest, "0.997@20", "G"), "G", c.gravity+"@20") + strings.ReplaceAll(c.more, "G", c.gravity+"@20")
		log = strings.Replace(log, "1.000@20", "1.007@20", 1)
		j := jug{plan: "small-jug still", gravity: "1.084", log: log}
		dry := j.course(c.now).DryFinish.Value.Rounded(4)
		require.InDelta(t, 0.9964, float64(dry), 1e-9)
		assert.Equal(t, c.open, gate(j.day(c.now), ferment.StillGate).Open, "%s%s", c.gravity, c.more)
	}
}

// TestBottlingIsHeldByItsGate: with the gate shut it is held with what is missing; with it open it is due.
func TestBottlingIsHeldByItsGate(t *testing.T) {
	j := jug{plan: "small-jug still", gravity: "1.084", log: atRest}
	got, _ := task(j.day("77d 09:00"), "bottle")
	assert.Equal(t, schedule.Due, got.State)
	j.log += "|76d 19:00 hazy"
	got, _ = task(j.day("77d 09:00"), "bottle")
	assert.Equal(t, schedule.Held, got.State)
	assert.Equal(t, "still bottling is not ready: clear", got.Reason)
	assert.Equal(t, "look", got.Frees)
}

// TestConditioningGate: nine conditions, each unmet alone.
func TestConditioningGate(t *testing.T) {
	tested := atRest + "|70d 18:00 forced-test|75d 18:00 forced-test 0.997"
	for _, c := range []struct {
		what, log, now string
		change         func(*jug)
		unmet          string
	}{
		{"all met", tested, "77d 09:00", nil, ""},
		{"no test", atRest, "77d 09:00", nil, "a forced test"},
		{"the test runs", atRest + "|75d 18:00 forced-test", "77d 09:00", nil, "the forced test's result"},
		{"the test fell further", atRest + "|70d 18:00 forced-test|75d 18:00 forced-test 0.9959", "77d 09:00", nil, "the test fell 1.1 points under the jug: sugar for about 1 bar is left"},
		{"29 days after the test", tested + "|88d 18:30 0.997@20 18C|98d 18:30 0.997@20 18C", "99d 09:00", nil, ""},
		{"30 days after the test", tested + "|88d 18:30 0.997@20 18C|98d 18:30 0.997@20 18C", "100d 18:00", nil, "a forced test"},
		{"sulphite after the pitch", tested + "|76d 19:00 sulphite 0.2g", "77d 09:00", nil, "not stabilised"},
		{"sulphite before the pitch", "0d 08:00 sulphite 0.2g|" + tested, "77d 09:00", nil, ""},
		{"no volume since the racking", strings.Replace(tested, " vol3.2L", "", 1), "77d 09:00", nil, "the volume after racking"},
		{"tolerance unknown", tested, "77d 09:00", func(j *jug) {
			j.ferment = func(f *ferment.Ferment) { f.Yeast.Tolerance = measure.Given[measure.Strength]{} }
		}, "the tolerance"},
		{"tolerance too near", tested, "77d 09:00", func(j *jug) {
			j.ferment = func(f *ferment.Ferment) { f.Yeast.Tolerance = measure.Give(measure.Strength(13.6), "13.6 %") }
		}, "2 % vol under the tolerance"},
		{"no soft bottle", tested, "77d 09:00", func(j *jug) {
			j.settings = func(s *ferment.Settings) { s.Bottles = []ferment.BottleKind{{Kind: "crown beer bottle"}} }
		}, "a test bottle"},
		{"bottles for still wine", tested, "77d 09:00", func(j *jug) {
			j.settings = func(s *ferment.Settings) {
				s.Bottles = []ferment.BottleKind{{Kind: "still-wine bottle"}, {Kind: "soft", Holds: measure.Give(measure.Content(1), "1 g/L")}}
			}
		}, "a bottle made for 5.0 g/L; the pressure"},
	} {
		j := jug{plan: "small-jug bottle-conditioned", gravity: "1.084", log: c.log, settings: softBottles}
		if c.change != nil {
			c.change(&j)
		}
		g := gate(j.day(c.now), ferment.ConditioningGate)
		assert.Equal(t, c.unmet, unmet(g), c.what)
		assert.Equal(t, c.unmet == "", g.Open, c.what)
	}
}

// TestForcedTestShortensSteadiness: a bought yeast needs three readings over seven days at 18 °C with a test, over
// fourteen days without.
func TestForcedTestShortensSteadiness(t *testing.T) {
	week := func(temperature, last string) string {
		return `0d 18:30 pitch|1d 12:00 started|5d 18:30 1.045@20|10d 18:30 1.012@20|20d 18:30 1.000@20|60d 18:00 rack clear vol3.2L|
			60d 18:30 0.997@20 T|63d 18:30 0.997@20 T|` + last + ` 0.997@20 T|60d 19:00 forced-test|66d 18:00 forced-test 0.997`
	}
	for _, c := range []struct {
		temperature, last string
		open              bool
	}{
		{"18C", "67d 18:30", true}, {"18C", "67d 07:29", true}, {"18C", "66d 18:29", false}, {"17.9C", "67d 18:30", false},
	} {
		log := strings.ReplaceAll(week(c.temperature, c.last), "T", c.temperature)
		j := jug{plan: "small-jug bottle-conditioned", gravity: "1.084", log: log, settings: softBottles}
		assert.Equal(t, c.open, gate(j.day("68d 09:00"), ferment.ConditioningGate).Open, "%s %s", c.temperature, c.last)
		assert.False(t, gate(j.day("68d 09:00"), ferment.StillGate).Open, "still bottling wants fourteen days")
	}
}

// TestDangerStopsBottling: a mead that ferments again may not be closed.
func TestDangerStopsBottling(t *testing.T) {
	j := jug{plan: "small-jug still", gravity: "1.084", log: strings.ReplaceAll(atRest, "0.997", "0.9985") + "|76d 19:00 0.9960"}
	got, _ := task(j.day("77d 09:00"), "bottle")
	assert.Equal(t, schedule.Held, got.State)
	assert.True(t, got.Danger)
	assert.Equal(t, schedule.Stop, got.Caution.Loud)
	assert.NotEmpty(t, got.Instead)
	assert.Equal(t, "bottle", j.day("77d 09:00").Tasks[0].Step, "held with danger stands first")
}

// TestPressureStops: bottles that may be filled to the target but are not made for its pressure are a danger. 5 g/L at
// 11.7 % vol and 30 °C, a point unfinished, is about 5 bar over the air (3.8 at 12 % vol without the point: Commission
// Regulation (EEC) 2676/90, and about 1 bar a point).
func TestPressureStops(t *testing.T) {
	j := jug{plan: "small-jug bottle-conditioned", gravity: "1.084", log: atRest + "|70d 18:00 forced-test|75d 18:00 forced-test 0.997"}
	for _, c := range []struct {
		stands measure.Pressure
		danger bool
	}{{4.5, true}, {5.5, false}} {
		j.settings = func(s *ferment.Settings) {
			s.Bottles = []ferment.BottleKind{{Kind: "soft-drink bottle", Holds: measure.Give(measure.Content(6), "6 g/L"), Stands: measure.Give(c.stands, c.stands.String())}}
		}
		got, _ := task(j.day("77d 09:00"), "prime")
		assert.Equal(t, c.danger, got.Danger, "%s: %s", c.stands, got.Reason)
	}
}

// TestCautionIsShownOnce: as a warning the first time, then as a note.
func TestCautionIsShownOnce(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.100", log: "0d 08:00 pitch|0d 20:00 started|1d 21:00 1.085"}
	got, _ := task(j.day("1d 22:00"), "nutrient-1")
	assert.Equal(t, schedule.Warn, got.Caution.Loud)
	j.log += "|1d 21:30 nutrient 1.4g"
	got, _ = task(j.day("2d 10:00"), "nutrient-2")
	assert.Equal(t, schedule.Note, got.Caution.Loud)
	assert.Contains(t, got.Caution.Text, "degas it until it is quiet")
}

// TestForcedTestIsCorrectedLikeTheJug: errors of the hydrometer and of temperature are corrected in both. A hydrometer
// for 20 °C reads about 0.0012 low in a dry mead at 25 °C (OIML R 22: the density falls from 0.982 to 0.981).
func TestForcedTestIsCorrectedLikeTheJug(t *testing.T) {
	two := strings.NewReplacer("0.997@20", "1.0110@20").Replace(strings.Replace(atRest, "1.000@20", "1.013@20", 1)) + "|70d 18:00 forced-test|75d 18:00 "
	for _, c := range []struct {
		what, test string
		offset     float64
		open       bool
	}{
		{"alike", "forced-test 1.011@20", 1.002, true},
		{"three points lower", "forced-test 1.008@20", 1.002, false},
		{"two points lower, as the error would hide", "forced-test 1.009@20", 1.002, false},
		{"a warm glass that reads low", "forced-test 1.0098@25", 1, true},
		{"a warm glass that reads the same", "forced-test 1.0110@25", 1, false},
	} {
		j := jug{plan: "small-jug still", gravity: "1.084", log: two + c.test, settings: func(s *ferment.Settings) {
			s.Instruments = []ferment.Instrument{{Name: "glass", Kind: "hydrometer", Water: measure.Give(measure.Gravity(c.offset), "")}}
		}}
		assert.Equal(t, c.open, gate(j.day("77d 09:00"), ferment.StillGate).Open, c.what)
	}
}

// TestFailedForcedTestShowsTheSugarLeft: a point of sugar makes 1.05 g/L of gas, about
// 0.7 bar at 20 °C (Commission Regulation (EEC) 2676/90).
func TestFailedForcedTestShowsTheSugarLeft(t *testing.T) {
	for _, plan := range []struct {
		name string
		gate ferment.Gate
	}{{"still", ferment.StillGate}, {"bottle-conditioned", ferment.ConditioningGate}} {
		log := strings.ReplaceAll(strings.Replace(atRest, "1.000@20", "1.013@20", 1), "0.997@20", "1.0110@20")
		j := jug{plan: "small-jug " + plan.name, gravity: "1.084", log: log + "|70d 18:00 forced-test|75d 18:00 forced-test 1.008@20", settings: softBottles}
		assert.Contains(t, unmet(gate(j.day("77d 09:00"), plan.gate)), "the test fell 3 points under the jug: sugar for about 2 bar is left", plan.name)
	}
}

// TestAdditionsResetTheGates: after sugar, another mead or yeast earlier readings do not count.
func TestAdditionsResetTheGates(t *testing.T) {
	tested := atRest + "|70d 18:00 forced-test|75d 18:00 forced-test 0.997|76d 19:00 "
	for _, c := range []struct {
		in    string
		reset bool
	}{
		{"blend 0.5L of=clover alcohol=12%", true}, {"fruit-in 500g", true}, {"honey 50g", true}, {"top-up 0.2L of=juice", true}, {"top-up 0.2L of=clover", true},
		{"pitch 1g", true}, {"nutrient 1g", true}, {"starter 0.1L", true},
		{"top-up 0.2L of=water", false}, {"top-up 0.2L", false}, {"water 0.1L", false}, {"top-up 0.2L of=heath", false}, {"look", false},
	} {
		j := jug{plan: "small-jug bottle-conditioned", gravity: "1.084", log: tested + c.in, settings: softBottles}
		still := unmet(gate(j.day("76d 19:30"), ferment.StillGate))
		conditioned := unmet(gate(j.day("76d 19:30"), ferment.ConditioningGate))
		if !c.reset {
			assert.Empty(t, still, c.in)
			continue
		}
		assert.Contains(t, still, "no reading since", c.in)
		assert.Contains(t, still, "clear", c.in)
		assert.Contains(t, conditioned, "a forced test", c.in)
		got, _ := task(j.day("76d 19:30"), "bottle")
		assert.NotEqual(t, schedule.Due, got.State, c.in)
	}
}
