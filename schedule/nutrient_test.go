package schedule_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

// missedDose is a must of 1.100 whose second dose was not given, on the evening of day 3: the ⅓ break is at 1.0657,
// grace ends 0.005 below it, and the ½ break is at 1.0485.
const missedDose = "0d 08:00 pitch|0d 20:00 started|1d 06:00 nutrient 1.4g step=nutrient-1|2d 08:00 1.080|3d 08:00 1.073"

func yeastDerived(s *ferment.Settings) {
	s.Nutrients = []ferment.NutrientKind{
		{Name: "ammonium phosphate", Kind: "ammonium", Nitrogen: measure.Give(measure.Yield(212), "212 mg/g")},
		{Name: "yeast-derived nutrient", Kind: "organic", Nitrogen: measure.Give(measure.Yield(40), "40 mg/g")},
	}
}

// TestNutrientGate is the rule of the missed dose on both sides of every limit: gravity decides, not the clock (common
// practice, no source).
func TestNutrientGate(t *testing.T) {
	for _, c := range []struct {
		reading, now string
		state        schedule.State
		reason       string
	}{
		{"4d 08:00 1.068", "4d 09:00", schedule.Late, "13 h late; may be given down to 1.0607"},
		{"4d 08:00 1.0657", "4d 09:00", schedule.Late, "13 h late; may be given down to 1.0607"},
		{"5d 08:00 1.062", "5d 09:00", schedule.Late, "37 h late; may be given down to 1.0607"},
		{"5d 08:00 1.0607", "5d 09:00", schedule.Late, "37 h late; may be given down to 1.0607"},
		{"5d 08:00 1.0606", "5d 09:00", schedule.Lapsed, "1.0606 is more than 0.005 past the ⅓ break"},
		{"5d 08:00 1.058", "5d 09:00", schedule.Lapsed, "1.0580 is more than 0.005 past the ⅓ break"},
		{"7d 08:00 1.0485", "7d 09:00", schedule.Lapsed, "1.0485 is more than 0.005 past the ⅓ break"},
		{"7d 08:00 1.0484", "7d 09:00", schedule.Lapsed, "1.0484 is past the ½ break, 1.0485"},
	} {
		j := jug{plan: "small-jug", gravity: "1.100", log: missedDose + "|" + c.reading}
		got, ok := task(j.day(c.now), "nutrient-2")
		require.True(t, ok, c.reading)
		assert.Equal(t, c.state, got.State, c.reading)
		assert.Equal(t, c.reason, got.Reason, c.reading)
	}
}

// TestNutrientNeedsAFreshReading: without a reading under 36 h old a dose is held, unless the last reading is below the limit already.
func TestNutrientNeedsAFreshReading(t *testing.T) {
	for _, c := range []struct {
		reading, now string
		state        schedule.State
		reason       string
		frees        string
	}{
		{"4d 08:00 1.0715", "5d 19:59:59", schedule.Late, "47 h late; may be given down to 1.0607", ""},
		{"4d 08:00 1.0715", "5d 20:00", schedule.Held, "the reading is 36 h old, the limit is 36 h", "gravity"},
		{"4d 08:00 1.0715", "6d 00:00", schedule.Held, "the reading is 40 h old, the limit is 36 h", "gravity"},
		{"4d 08:00 1.058", "8d 08:00", schedule.Lapsed, "1.0580 is more than 0.005 past the ⅓ break", ""},
	} {
		j := jug{plan: "small-jug", gravity: "1.100", log: missedDose + "|" + c.reading}
		got, ok := task(j.day(c.now), "nutrient-2")
		require.True(t, ok, c.now)
		assert.Equal(t, c.state, got.State, c.now)
		assert.Equal(t, c.reason, got.Reason, c.now)
		assert.Equal(t, c.frees, got.Frees, c.now)
	}
}

// TestLateNutrient: after the grace one yeast-derived dose may be chosen, once.
func TestLateNutrient(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.100", log: missedDose + "|5d 08:00 1.058"}
	_, offered := task(j.day("5d 09:00"), schedule.LateNutrient)
	assert.False(t, offered, "none is at hand")

	j.settings = yeastDerived
	got, offered := task(j.day("5d 09:00"), schedule.LateNutrient)
	require.True(t, offered)
	assert.Equal(t, schedule.Due, got.State)
	assert.True(t, got.Option)
	assert.Equal(t, "yeast-derived nutrient, once, down to 1.0485, the ½ break", got.Reason)
	planned, _ := task(j.day("4d 09:00"), "nutrient-2")
	assert.Equal(t, "yeast-derived nutrient", got.Amount.Of)
	assert.InDelta(t, planned.Amount.Number*212/40, got.Amount.Number, 0.05, "the same nitrogen")

	held, _ := task(j.day("6d 20:00"), schedule.LateNutrient)
	assert.Equal(t, schedule.Held, held.State, "the reading is 36 h old")
	chosen := j
	chosen.log += "|5d 10:00 nutrient 6g of=\"yeast-derived nutrient\" step=nutrient-late|6d 06:00 1.055"
	_, again := task(chosen.day("6d 09:00"), schedule.LateNutrient)
	assert.False(t, again, "once, by its name")
	assert.Equal(t, "lapsed", states(chosen.day("6d 09:00"), "nutrient-2"), "it is not the planned dose")
	j.log += "|5d 10:00 nutrient 6g of=\"yeast-derived nutrient\""
	_, again = task(j.day("5d 11:00"), schedule.LateNutrient)
	assert.False(t, again, "once")
}

// TestNutrientBeforeTheStart: an assumed start places windows but opens no gate.
func TestNutrientBeforeTheStart(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.100", log: "0d 08:00 pitch"}
	got, _ := task(j.day("1d 09:00"), "nutrient-1")
	assert.Equal(t, schedule.Held, got.State)
	assert.Equal(t, "no sign of fermentation yet", got.Reason)
	assert.Equal(t, "started", got.Frees)
	j.log += "|1d 08:30 started"
	got, _ = task(j.day("1d 09:00"), "nutrient-1")
	assert.Equal(t, schedule.Due, got.State)
	j.log = "0d 08:00 pitch|1d 08:30 1.0971"
	got, _ = task(j.day("1d 09:00"), "nutrient-1")
	assert.Equal(t, schedule.Held, got.State, "a fall of 0.0029 is no start")
	j.log = "0d 08:00 pitch|1d 08:30 1.097"
	got, _ = task(j.day("1d 09:00"), "nutrient-1")
	assert.Equal(t, schedule.Due, got.State, "a fall of 0.0030 is")
}

// TestUnknownOriginal: without an original gravity there are no breaks.
func TestUnknownOriginal(t *testing.T) {
	j := jug{plan: "small-jug", log: "0d 08:00 pitch|0d 20:00 started"}
	d := j.day("1d 09:00")
	got, _ := task(d, "nutrient-1")
	assert.Equal(t, schedule.Held, got.State)
	assert.Equal(t, "the original gravity is unknown: write the must's gravity or its honey into the file", got.Reason)
	assert.NotEmpty(t, got.Amount.Unknown)
	degas, _ := task(d, "degas")
	assert.Equal(t, schedule.Due, degas.State, "what goes by the clock goes on")
}

// TestMergedDoses: of two doses due at once the earlier lapses and the later is
// one and a half (common practice, no source).
func TestMergedDoses(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.100", log: "0d 08:00 pitch|0d 20:00 started|1d 20:00 1.085"}
	one, _ := task(j.day("1d 20:30"), "nutrient-1")
	later, _ := task(j.day("1d 20:30"), "nutrient-2")
	assert.Equal(t, schedule.Due, one.State)
	assert.Equal(t, schedule.Waiting, later.State, "the first is still within its window")

	d := j.day("2d 08:00")
	missed, _ := task(d, "nutrient-1")
	both, _ := task(d, "nutrient-2")
	assert.Equal(t, schedule.Lapsed, missed.State)
	assert.Equal(t, "now part of nutrient 2", missed.Reason)
	assert.Equal(t, schedule.Due, both.State)
	assert.InDelta(t, 1.5*one.Amount.Number, both.Amount.Number, 1e-9)
	assert.InDelta(t, 0.75*float64(both.Amount.Wanted), float64(both.Amount.Reached), 1e-6)

	for what, given := range map[string]string{
		"an entry without a step gives the merged dose": "|2d 09:00 nutrient 2g",
		"and so does one that names it":                 "|2d 09:00 nutrient 2g step=nutrient-2",
	} {
		j := jug{plan: j.plan, gravity: j.gravity, log: j.log + given}
		for _, at := range []string{"2d 10:00", "2d 22:00", "3d 08:00"} {
			assert.Equal(t, "lapsed", states(j.day(at), "nutrient-1"), what)
			assert.Equal(t, "done", states(j.day(at), "nutrient-2"), what)
		}
	}
	j.log += "|2d 09:00 skipped=nutrient-2"
	assert.Equal(t, "late", states(j.day("2d 10:00"), "nutrient-1"), "one that is skipped takes over nothing")
}

// TestMergedOnce: a dose now part of a given one is not merged again (common practice, no source).
func TestMergedOnce(t *testing.T) {
	for _, given := range []string{"|2d 09:00 nutrient 1.2g", "|2d 09:00 nutrient 1.2g step=nutrient-2"} {
		j := jug{plan: "by-thirds", gravity: "1.098", log: "0d 08:00 pitch|0d 20:00 started|2d 08:00 1.084"}
		one, _ := task(j.day("0d 21:00"), "nutrient-1")
		j.log += given + "|2d 10:00 1.073"
		for _, at := range []string{"2d 10:30", "2d 22:00"} {
			d := j.day(at)
			missed, _ := task(d, "nutrient-1")
			third, _ := task(d, "nutrient-3")
			assert.Equal(t, schedule.Lapsed, missed.State, at)
			assert.Equal(t, "now part of nutrient 2", missed.Reason, at)
			assert.InDelta(t, one.Amount.Number/2, third.Amount.Number, 1e-9, "%s: its own 20 %% where the first was 40 %%, and no more", at)
		}
	}
}

// TestSpacing: twelve hours between doses, six between a dose and a buffer.
func TestSpacing(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.100", log: "0d 08:00 pitch|0d 20:00 started|2d 06:00 1.080|2d 07:00 nutrient 1.4g step=nutrient-1"}
	got, _ := task(j.day("2d 18:59"), "nutrient-2")
	assert.Equal(t, schedule.Held, got.State)
	assert.Equal(t, "1.4 g went in at 07:00; doses must be 12 h apart: not before 19:00", got.Reason)
	assert.Empty(t, got.Frees)
	got, _ = task(j.day("2d 19:00"), "nutrient-2")
	assert.Equal(t, schedule.Due, got.State)
	j.log += "|2d 16:00 buffer 1g"
	got, _ = task(j.day("2d 21:59"), "nutrient-2")
	assert.Equal(t, schedule.Held, got.State)
	got, _ = task(j.day("2d 22:00"), "nutrient-2")
	assert.Equal(t, schedule.Due, got.State)
}

// TestUnknownDose counts a dose of unknown amount as one planned dose.
func TestUnknownDose(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.100", log: "0d 08:00 pitch|0d 20:00 started|1d 06:00 nutrient unknown|2d 06:00 1.080"}
	got, _ := task(j.day("2d 09:00"), "nutrient-2")
	assert.Equal(t, schedule.Due, got.State)
	assert.InDelta(t, float64(got.Amount.Wanted), float64(got.Amount.Reached), 1e-6)
	assert.Contains(t, got.Amount.Assumed, "1 of unknown amount counted as one planned dose each")
}

// TestDoseIsCut: an excess is subtracted from later doses.
func TestDoseIsCut(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.100", log: "0d 08:00 pitch|0d 20:00 started|1d 06:00 nutrient 2.5g step=nutrient-1|2d 06:00 1.080"}
	got, _ := task(j.day("2d 09:00"), "nutrient-2")
	assert.InDelta(t, float64(got.Amount.Wanted), float64(got.Amount.Reached), 1e-6)
	assert.Less(t, got.Amount.Number, 1.0)
	j.log = "0d 08:00 pitch|0d 20:00 started|1d 06:00 nutrient 3.1g step=nutrient-1|2d 06:00 1.080"
	got, _ = task(j.day("2d 09:00"), "nutrient-2")
	assert.Equal(t, schedule.Lapsed, got.State)
	assert.Contains(t, got.Reason, "mg/L of nitrogen are given")
}

// TestSmallDoseIsGivenAsASolution: a scale that shows whole grams does not weigh 1.5 g; a solution of
// 10 g in 100 mL holds it in 15 mL.
func TestSmallDoseIsGivenAsASolution(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.100", log: "0d 08:00 pitch|0d 20:00 started"}
	got, _ := task(j.day("1d 06:00"), "nutrient-1")
	require.NotNil(t, got.Amount.Stock)
	assert.InDelta(t, 10*got.Amount.Number, got.Amount.Stock.Volume.Millilitres(), 1e-9)
	assert.Equal(t, "powder", got.Caution.Name)
	assert.Equal(t, schedule.Warn, got.Caution.Loud)
	j.settings = func(s *ferment.Settings) { s.Weighs = measure.Grams(0.1) }
	got, _ = task(j.day("1d 06:00"), "nutrient-1")
	assert.Nil(t, got.Amount.Stock)
}

// TestByThirds gives a strong must its nutrient in four decreasing shares, opened by the fermented sugar and not by
// days.
func TestByThirds(t *testing.T) {
	j := jug{plan: "by-thirds", gravity: "1.120", settings: yeastDerived, log: "0d 08:00 pitch|0d 20:00 started"}
	got, _ := task(j.day("0d 21:00"), "nutrient-1")
	assert.Equal(t, schedule.Due, got.State)
	assert.Equal(t, "40 % of 180 mg/L in 3.60 L", got.Amount.How)
	j.log += "|0d 21:00 nutrient 0.8g|1d 20:00 1.110"
	got, _ = task(j.day("2d 20:30"), "nutrient-2")
	assert.Equal(t, schedule.Waiting, got.State, "a slow ferment waits, however many days")
	j.log = "0d 08:00 pitch|0d 20:00 started|0d 21:00 nutrient 0.8g|1d 11:00 1.105"
	got, _ = task(j.day("1d 11:30"), "nutrient-2")
	assert.Equal(t, schedule.Due, got.State, "past the 1/9 break, a fast one does not")
	fourth, _ := task(j.day("1d 11:30"), "nutrient-4")
	assert.Equal(t, "yeast-derived nutrient", fourth.Amount.Of)
}

// TestNutrientAtThePitch: a dose with the yeast is only limited by the caps: it needs no start and no reading.
func TestNutrientAtThePitch(t *testing.T) {
	plan := builtIn("small-jug")
	plan.Steps = slices.Clone(plan.Steps)
	for i := range plan.Steps {
		if plan.Steps[i].Name == "nutrient-1" {
			plan.Steps[i].Due, plan.Steps[i].Needs = ferment.When{Point: ferment.Point{Anchor: "pitch"}}, nil
		}
	}
	first := func(log, now string) schedule.Task {
		for _, task := range schedule.Plan(plan, jug{plan: "small-jug", gravity: "1.045", log: log}.course(now)).Tasks {
			if task.Step == "nutrient-1" {
				return task
			}
		}
		return schedule.Task{}
	}
	got := first("0d 18:30 pitch", "0d 18:40")
	assert.Equal(t, schedule.Due, got.State, got.Reason)
	got = first("0d 18:30 pitch|0d 18:35 nutrient 9g of=\"ammonium phosphate\"|0d 18:36 look", "0d 18:40")
	assert.NotEqual(t, schedule.Due, got.State, "all that is wanted has been given: %s", got.Reason)
}

// TestPassedLimitHoldsTheDose: at 12 points a day 1.078 is below 1.0607, the break less 0.005, after 34.6 hours,
// although the reading is fresh.
func TestPassedLimitHoldsTheDose(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.100", log: "0d 08:00 pitch|0d 20:00 started|1d 08:00 1.090@20|2d 08:00 1.078@20"}
	limit := j.course("2d 09:00").Break(1.0/3).Value - 0.005
	for now, state := range map[string]schedule.State{"2d 09:00": schedule.Due, "3d 19:00": schedule.Held} {
		got, _ := task(j.day(now), "nutrient-2")
		assert.Equal(t, state, got.State, "%s: %s", now, got.Reason)
		if state == schedule.Held {
			assert.Equal(t, "it has probably passed "+limit.Rounded(4).String()+", the limit for this dose: take gravity first", got.Reason)
			assert.Equal(t, ferment.DoGravity, got.Frees)
		}
	}
}
