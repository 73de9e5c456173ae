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

// atRest is a must of 1.084 that has been racked clear and read steady for
// sixteen days, at its dry finish of 0.9964.
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

// unmet are the unmet conditions of a gate, in a line.
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
		{"two readings", strings.Replace(atRest, "|68d 18:30 0.997@20 17C", "", 1), "77d 09:00", "2 of 3 readings within 0.0010"},
		{"not clear", strings.Replace(atRest, " clear", "", 1), "77d 09:00", "clear"},
		{"hazy again", atRest + "|76d 19:00 hazy", "77d 09:00", "clear"},
		{"not racked", strings.Replace(atRest, "rack clear vol3.2L", "clear", 1), "77d 09:00", "racked"},
		{"a film", atRest + "|76d 19:00 look seen=film", "77d 09:00", "nothing growing on it"},
		{"a spread of 0.0010", strings.Replace(atRest, "68d 18:30 0.997", "68d 18:30 0.998", 1), "77d 09:00", ""},
		{"a spread of 0.0011", strings.Replace(atRest, "68d 18:30 0.997", "68d 18:30 0.9981", 1), "77d 09:00", "1 of 3 readings within 0.0010"},
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

// TestBottleIsHeldByItsGate: shut, it is held with what is missing; open, due.
func TestBottleIsHeldByItsGate(t *testing.T) {
	j := jug{plan: "small-jug still", gravity: "1.084", log: atRest}
	got, _ := task(j.day("77d 09:00"), "bottle")
	assert.Equal(t, schedule.Due, got.State)
	j.log += "|76d 19:00 hazy"
	got, _ = task(j.day("77d 09:00"), "bottle")
	assert.Equal(t, schedule.Held, got.State)
	assert.Equal(t, "still bottling is shut: clear", got.Reason)
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
		{"the test fell further", atRest + "|70d 18:00 forced-test|75d 18:00 forced-test 0.9959", "77d 09:00", nil, "a forced test"},
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
		}, "a bottle that holds 5.0 g/L; the pressure"},
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

// TestForcedTestShortensSteadiness: a bought yeast with a test needs three
// readings over seven days at 18 °C, without one fourteen days.
func TestForcedTestShortensSteadiness(t *testing.T) {
	week := func(temperature, last string) string {
		return `0d 18:30 pitch|1d 12:00 started|5d 18:30 1.045@20|10d 18:30 1.012@20|20d 18:30 1.000@20|60d 18:00 rack clear vol3.2L|
			60d 18:30 0.997@20 T|63d 18:30 0.997@20 T|` + last + ` 0.997@20 T|60d 19:00 forced-test|66d 18:00 forced-test 0.997`
	}
	for _, c := range []struct {
		temperature, last string
		open              bool
	}{
		{"18C", "67d 18:30", true}, {"18C", "67d 18:29", false}, {"17.9C", "67d 18:30", false},
	} {
		log := strings.ReplaceAll(week(c.temperature, c.last), "T", c.temperature)
		j := jug{plan: "small-jug bottle-conditioned", gravity: "1.084", log: log, settings: softBottles}
		assert.Equal(t, c.open, gate(j.day("68d 09:00"), ferment.ConditioningGate).Open, "%s %s", c.temperature, c.last)
		assert.False(t, gate(j.day("68d 09:00"), ferment.StillGate).Open, "still bottling wants fourteen days")
	}
}

// TestDangerStopsBottling: what works again may not be closed.
func TestDangerStopsBottling(t *testing.T) {
	j := jug{plan: "small-jug still", gravity: "1.084", log: strings.ReplaceAll(atRest, "0.997", "0.9985") + "|76d 19:00 look seen=mould"}
	got, _ := task(j.day("77d 09:00"), "bottle")
	assert.Equal(t, schedule.Held, got.State)
	assert.True(t, got.Danger)
	assert.Equal(t, schedule.Stop, got.Caution.Loud)
	assert.NotEmpty(t, got.Instead)
	assert.Equal(t, "bottle", j.day("77d 09:00").Tasks[0].Step, "held with danger stands first")
}

// TestPressureStops: bottles that may hold the fizz and do not stand the
// pressure are a danger. 5 g/L at 11.7 % vol and 30 °C, a point unfinished, is
// about 5 bar over the air (3.8 at 12 % vol without it: Commission Regulation
// (EEC) 2676/90, and about 1 bar a point).
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

// TestCautionIsLoudOnce: the first time a warning, afterwards a note.
func TestCautionIsLoudOnce(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.100", log: "0d 08:00 pitch|0d 20:00 started|1d 21:00 1.085"}
	got, _ := task(j.day("1d 22:00"), "nutrient-1")
	assert.Equal(t, schedule.Warn, got.Caution.Loud)
	j.log += "|1d 21:30 nutrient 1.4g"
	got, _ = task(j.day("2d 10:00"), "nutrient-2")
	assert.Equal(t, schedule.Note, got.Caution.Loud)
	assert.Contains(t, got.Caution.Text, "degas until quiet")
}
