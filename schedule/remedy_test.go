package schedule_test

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

// TestRecordMakesRemedyTasks: every condition has its task, which ends by an act, an answer or a typed reason, never by
// itself. How long each may wait is common practice, no source.
func TestRecordMakesRemedyTasks(t *testing.T) {
	works := "0d 08:00 pitch|0d 20:00 started|2d 08:00 1.075@20"
	stuck := "0d 08:00 pitch|0d 20:00 started|6d 08:00 1.040@20 20C|9d 12:00 1.040@20 20C"
	for _, c := range []struct{ what, log, step, now, ends string }{
		{"stuck, read once", stuck, "stuck-read", "10d 13:00", "10d 14:00 1.030@20"},
		{"stuck, read twice", stuck + "|11d 08:00 1.040@20", "stuck-decide", "11d 09:00", "11d 10:00 skipped=stuck-decide because=patience"},
		{"restarted", atRest + "|79d 09:00 0.994@20", "restarted-read", "82d 10:00", "82d 11:00 0.994@20"},
		{"28 °C", works + "|3d 08:00 28C", "too-warm", "3d 09:00", "3d 10:00 move"},
		{"over the yeast's range", works + "|3d 08:00 25C", "too-warm", "3d 09:00", "3d 18:00 20C"},
		{"moved and not read", works + "|3d 08:00 28C|3d 10:00 move", "moved-read", "3d 23:00", "4d 08:00 20C"},
		{"under it", works + "|3d 08:00 12C", "too-cold", "3d 09:00", "3d 18:00 17C"},
		{"rotten eggs", works + "|2d 09:00 look smell=\"rotten eggs\"", "eggs-degas", "2d 10:00", "2d 11:00 degas"},
		{"rotten eggs, degassed", works + "|2d 09:00 look smell=sulphide|2d 11:00 degas", "eggs-smell", "3d 12:00", "3d 13:00 look smell=clean"},
		{"foam", works + "|2d 09:00 foam-over lost=0.2L", "foam-over", "2d 10:00", "2d 11:00 look airlock=working"},
		{"a dry airlock", works + "|2d 09:00 look airlock=dry", "dry-airlock", "2d 10:00", "2d 11:00 look airlock=working"},
		{"hazy", strings.Replace(atRest, " clear", "", 1) + "|92d 09:00 look hazy", "hazy-fine", "93d 10:00", "93d 11:00 fine"},
		{"a forced test of five days", atRest + "|79d 09:00 forced-test 100mL", "forced-read", "84d 10:00", "84d 11:00 forced-test 0.997"},
		{"hard, and a day in the cold", atRest + inBottles + "|81d 09:00 squeeze feel=hard|81d 10:00 chill", "vent-bottles", "82d 11:00", "82d 12:00 skipped=vent-bottles because=done"},
		{"gushed, and a day in the cold", atRest + inBottles + "|85d 09:00 open hiss=5|85d 10:00 chill", "vent-bottles", "86d 11:00", "86d 12:00 step=vent-bottles"},
		{"sugar left, and a day in the cold", atRest + "|77d 12:00 honey 150g|78d 09:00 bottle left=0L|78d 10:00 chill", "vent-bottles", "79d 11:00", "79d 12:00 step=vent-bottles"},
		{"fell too little", "0d 08:00 pitch|0d 20:00 started|1d 08:00 1.078@20|2d 08:00 1.066@20|3d 08:00 1.063@20", "slow-read", "4d 09:00", "4d 10:00 1.055@20"},
	} {
		j := jug{plan: "small-jug", gravity: "1.084", log: c.log, ferment: func(f *ferment.Ferment) {
			f.Yeast.Temperature = measure.Give(measure.Span[measure.Temperature]{Low: 16, High: 24}, "16-24 °C")
		}}
		p := j.protocol()
		p.Steps = p.Steps[:1]
		got, _ := task(schedule.Plan(p, j.course(c.now)), c.step)
		assert.Equal(t, schedule.Due, got.State, c.what)
		assert.NotEmpty(t, got.Title, c.what)
		assert.LessOrEqual(t, len(got.Title), 28, c.what)
		late, _ := task(schedule.Plan(p, j.courseAt(at(c.now).AddDate(0, 0, 30))), c.step)
		assert.Contains(t, []schedule.State{schedule.Late, schedule.Due}, late.State, "%s is still there after a month", c.what)
		j.log += "|" + c.ends
		after, there := task(schedule.Plan(p, j.courseAt(at(strings.Join(strings.Fields(c.ends)[:2], " ")).Add(1))), c.step)
		assert.False(t, there && after.State != schedule.Waiting, "%s: %s does not end it: %s", c.what, c.ends, after.State)
	}
}

// TestChilledCrateIsVentedFirst: no bottle of it is squeezed, opened, tasted or moved by the plan until it was vented, or
// the danger was set aside with a reason. What became of the bottles is then asked for again.
func TestChilledCrateIsVentedFirst(t *testing.T) {
	j := jug{plan: "small-jug bottle-conditioned", gravity: "1.084", log: atRest + inBottles + "|81d 09:00 squeeze feel=hard|81d 10:00 chill"}
	asked := func(j jug, day string) (n int) {
		for _, got := range j.day(day).Tasks {
			if slices.Contains([]string{"squeeze", "open", "taste", "move"}, got.Do) && slices.Contains([]schedule.State{schedule.Due, schedule.Late, schedule.Held}, got.State) {
				n++
			}
		}
		return n
	}
	for _, day := range []string{"81d 11:00", "82d 11:00", "86d 11:00", "110d 11:00"} {
		assert.Zero(t, asked(j, day), day)
	}
	j.log += "|82d 12:00 step=vent-bottles"
	assert.NotZero(t, asked(j, "86d 11:00"))
	j.log = atRest + inBottles + "|81d 09:00 squeeze feel=hard|81d 10:00 skipped=danger-hard because=frozen"
	assert.NotZero(t, asked(j, "86d 11:00"))
}

// TestOneTaskForOneAct: if the plan asks for the act already, there is one line for it.
func TestOneTaskForOneAct(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.084", log: "0d 08:00 pitch|0d 20:00 started|2d 08:00 1.075@20|2d 09:00 look smell=eggs"}
	d := j.day("2d 20:30")
	var steps []string
	for _, got := range d.Tasks {
		if got.Do == string(ferment.Degas) && got.Open && (got.State == schedule.Due || got.State == schedule.Late) {
			steps = append(steps, got.Step)
		}
	}
	assert.Equal(t, []string{"eggs-degas"}, steps)
	j.log += "|2d 20:40 degas step=eggs-degas"
	assert.Contains(t, states(j.day("2d 20:45"), "degas"), "done", "done for one, it is done for the other")
}

// TestAirOnlyBeforeTheBreak: later air spoils the mead (common practice, no source).
func TestAirOnlyBeforeTheBreak(t *testing.T) {
	for gravity, air := range map[string]string{"1.075": "with air", "1.040": "without air"} {
		j := jug{plan: "small-jug", gravity: "1.084", log: "0d 08:00 pitch|0d 20:00 started|3d 08:00 " + gravity + "@20 smell=eggs"}
		p := j.protocol()
		p.Steps = p.Steps[:1]
		got, _ := task(schedule.Plan(p, j.course("3d 09:00")), "eggs-degas")
		assert.Contains(t, got.Reason, air, gravity)
	}
}

// TestTroubleIsNeverForgotten: whatever the history, what the record says last becomes a
// task at once or on a day, and stays one until something is done, however late that is.
func TestTroubleIsNeverForgotten(t *testing.T) {
	asks := map[string][]string{"28C": {"too-warm"}, "look smell=eggs": {"eggs-degas"}, "foam-over lost=0.2L": {"foam-over"}, "look airlock=dry": {"dry-airlock"},
		"look seen=mould": {"danger-mould"}, "look airlock=closed": {"danger-lid"}}
	rapid.Check(t, func(t *rapid.T) {
		j := aHistory(t)
		trouble := rapid.SampledFrom(slices.Sorted(maps.Keys(asks))).Draw(t, "trouble")
		j.log += "|201d 08:00 " + trouble
		now := at("201d 08:00").Add(time.Duration(rapid.IntRange(1, 400*24).Draw(t, "hours")) * time.Hour)
		c := j.courseAt(now)
		works := c.Pitch.Known && c.Stage != course.Steady
		if c.Stage == course.Bottled || !works && (trouble == "28C" || trouble == "look airlock=closed") || strings.Contains(j.log, "seen=mould") && trouble != "look seen=mould" {
			return
		}
		for _, task := range j.planAt(now).Tasks {
			if slices.Contains(asks[trouble], task.Step) && (task.State == schedule.Due || task.State == schedule.Late || task.State == schedule.Waiting && task.Due.After(now)) {
				return
			}
		}
		t.Fatalf("%s asks for nothing %s later", trouble, now.Sub(at("201d 08:00")))
	})
}

// TestStuckIsNeverForgotten: whatever the history, a jug that is stuck or works again has a
// task because of it, or somebody has set it aside.
func TestStuckIsNeverForgotten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j, now := aHistory(t), aMoment(t, "now")
		c := j.courseAt(now)
		for _, k := range c.Conditions {
			if k.Name != course.Stuck && k.Name != course.Restarted || c.Stage == course.Bottled {
				continue
			}
			if !slices.ContainsFunc(j.planAt(now).Tasks, func(task schedule.Task) bool {
				return task.Remedy || task.Alarm != nil && task.Step == "danger-mould" || task.Do == ferment.DoGravity && task.State != schedule.Lapsed && task.State != schedule.Done
			}) {
				t.Fatalf("%s, and nothing is asked for: %s\n%s", k.Name, now, plain(j.planAt(now)))
			}
		}
	})
}
