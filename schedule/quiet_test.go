package schedule_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

// resting is near its finish by day 13, so that it is quiet for sixty days from 18:30 of day 14.
const resting = "0d 18:30 pitch|1d 12:00 started|5d 18:30 1.045@20|10d 18:30 1.012@20|13d 18:30 1.000@20"

func TestQuietPeriod(t *testing.T) {
	for _, c := range []struct {
		what, more, now string
		quiet           bool
	}{
		{"a second before it", "", "14d 18:29", false},
		{"its first second", "", "14d 18:30", true},
		{"its last minute", "", "74d 18:29", true},
		{"its end", "", "74d 18:30", false},
		{"a film breaks it", "|30d 08:00 look seen=film", "30d 09:00", false},
		{"a dry airlock breaks it", "|30d 08:00 look airlock=dry", "30d 09:00", false},
		{"and filled again does not", "|30d 08:00 look airlock=dry|30d 08:10 look airlock=still", "30d 09:00", true},
	} {
		d := jug{plan: "small-jug", gravity: "1.084", log: resting + c.more}.day(c.now)
		assert.Equal(t, c.quiet, d.Quiet != nil, c.what)
	}
}

// TestQuietPeriodHidesRoutineTasks, but not looks, reminders and dangers.
func TestQuietPeriodHidesRoutineTasks(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.084", log: resting + "|14d 08:00 remind=2026-11-24 ;is the shelf level"}
	d := j.day("70d 09:00")
	require.NotNil(t, d.Quiet)
	rack, _ := task(d, "rack")
	assert.Equal(t, schedule.Waiting, rack.State, "its window opens fourteen days before the end")
	assert.Equal(t, at("74d 18:30"), rack.Opens)
	rack, _ = task(j.day("74d 18:30"), "rack")
	assert.Equal(t, schedule.Due, rack.State)
	assert.ElementsMatch(t, []string{"look"}, pressing(d))
	assert.ElementsMatch(t, []string{schedule.Reminder}, pressing(j.day("73d 09:00")), "the round is over")

	j.log += "|70d 08:00 look seen=mould"
	assert.Equal(t, "danger-mould", j.day("74d 09:00").Tasks[0].Step)
}

// TestQuietPeriodHidesLapsedTasks: also those missed during the period.
func TestQuietPeriodHidesLapsedTasks(t *testing.T) {
	p, problems := journal.ReadProtocol("protocols/own.yaml", []byte(`
format: 1
name: own
steps:
  - {step: pitch, do: pitch, due: mix}
  - {step: stir, do: degas, due: pitch + 1 d, repeat: {every: 1 d}, missed: drop}
  - step: rest
    quiet: {from: pitch + 10 d, to: quiet + 10 d}
`))
	require.Empty(t, problems)
	j := jug{plan: "small-jug", gravity: "1.084", log: "0d 18:30 pitch"}
	for _, c := range []struct{ now, want string }{
		{"2d 18:00", "lapsed due waiting waiting"}, // the next opens at 06:30
		{"12d 18:00", "lapsed lapsed lapsed lapsed lapsed lapsed lapsed lapsed lapsed lapsed waiting waiting waiting"},
	} {
		assert.Equal(t, c.want, states(schedule.Plan(p, j.course(c.now)), "stir"), c.now)
	}
}

// TestQuietPeriodNeedsNearFinish: a ferment that is not near its finish has no quiet period.
func TestQuietPeriodNeedsNearFinish(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.084", log: strings.Replace(resting, "1.000", "1.009", 1)}
	assert.Nil(t, j.day("16d 09:00").Quiet)
	tail, _ := task(j.day("19d 19:00"), "gravity-tail")
	assert.Equal(t, schedule.Due, tail.State)
}

func TestMerge(t *testing.T) {
	p := schedule.Merge(builtIn("light-sparkling"), builtIn("bottle-conditioned"), builtIn("still"))
	names := map[string]int{}
	for _, s := range p.Steps {
		names[s.Name]++
	}
	for name, n := range names {
		assert.Equal(t, 1, n, name)
	}
	forced := p.Steps[stepIndex(p, "forced-test")]
	assert.Equal(t, "near finish", forced.Due.Text, "the plan's own goes before the fragment's")
	assert.Equal(t, 7, p.Limits(ferment.DefaultLimits()).SteadyDays)
	assert.Equal(t, "light-sparkling", p.Name)
}

func stepIndex(p ferment.Protocol, name string) int {
	for i, s := range p.Steps {
		if s.Name == name {
			return i
		}
	}
	return -1
}

// TestHoneyDoesNotReopenTheNutrientGate: honey raises gravity, but the yeast is as old as before.
func TestHoneyDoesNotReopenTheNutrientGate(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.100", log: missedDose + "|5d 08:00 1.058|5d 10:00 honey 300g|5d 12:00 1.082@20 ; mixed in"}
	got, _ := task(j.day("5d 13:00"), "nutrient-2")
	assert.Equal(t, schedule.Lapsed, got.State)
	assert.False(t, gate(j.day("5d 13:00"), ferment.NutrientGate).Open)
}

// TestHoneyMovesTheBreak: readings before the honey do not count for the new breaks.
func TestHoneyMovesTheBreak(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.084", log: "0d 08:00 pitch|0d 20:00 started|1d 06:00 nutrient 1g step=nutrient-1|2d 08:00 1.058@20|2d 09:00 honey 400g|2d 20:00 1.092@20 ?|3d 08:00 1.072@20"}
	third := j.course("3d 09:00").Break(1.0 / 3).Value
	require.Greater(t, float64(third), 1.074)
	got, _ := task(j.day("3d 09:00"), "nutrient-2")
	assert.Equal(t, schedule.Due, got.State, got.Reason)
}

// TestDoubtfulReadingFiresNothing: a reading that rose neither closes nor opens anything.
func TestDoubtfulReadingFiresNothing(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.100", log: missedDose + "|4d 08:00 1.030@20 ?"}
	got, _ := task(j.day("4d 09:00"), "nutrient-2")
	assert.NotEqual(t, schedule.Lapsed, got.State)
	j.log = missedDose + "|4d 08:00 1.030@20"
	got, _ = task(j.day("4d 09:00"), "nutrient-2")
	assert.Equal(t, schedule.Lapsed, got.State)
}

// TestStrongAlcoholClosesTheNutrientGate: over 9 % vol, at any gravity.
func TestStrongAlcoholClosesTheNutrientGate(t *testing.T) {
	j := jug{plan: "by-thirds", gravity: "1.150", log: "0d 08:00 pitch|0d 20:00 started|6d 08:00 1.080@20",
		ferment: func(f *ferment.Ferment) { f.Yeast.Tolerance = measure.Give(measure.Strength(18), "18 %") }}
	got, _ := task(j.day("6d 09:00"), "nutrient-2")
	assert.Equal(t, schedule.Lapsed, got.State)
	assert.Contains(t, got.Reason, "% vol is over 9.0 % vol")
}

// TestExpectedTimeIsAsWideAsItsLatest: if the clock decides after an expected time, the width is how much later that
// may be (arithmetic).
func TestExpectedTimeIsAsWideAsItsLatest(t *testing.T) {
	clock := at("14d 18:30")
	for gravity, kind := range map[string]string{"1.070": "sure", "1.067": "open", "1.065": "late"} {
		j := jug{plan: "small-jug", gravity: "1.084", log: "0d 18:30 pitch|1d 08:00 started|4d 18:30 " + gravity + "|5d 18:30 1.060",
			settings: func(s *ferment.Settings) { s.Round = "" }}
		c := j.course("5d 19:00")
		near, ok := c.Reaches(c.Finish.Value + 0.010)
		require.True(t, ok)
		begins, latest := near.At, near.At.Add(near.Within)
		if clock.After(begins) {
			begins = clock
		}
		if clock.After(latest) {
			latest = clock
		}
		assert.Equal(t, kind, map[bool]map[bool]string{true: {true: "sure", false: "open"}, false: {false: "late"}}[begins.Equal(clock)][latest.Equal(clock)])
		got, ok := task(j.day("5d 19:00"), "look")
		require.True(t, ok)
		require.NotNil(t, got.Expected)
		assert.Equal(t, begins.AddDate(0, 0, 7), got.Expected.At, gravity)
		assert.Equal(t, latest.Sub(begins), got.Expected.Within, gravity)
	}
}
