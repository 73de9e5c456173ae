package schedule_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

// inBottles puts a mead into bottles with gas on day 78.
const inBottles = "|78d 12:00 bottle left=0L"

// Every danger begins with an entry that shows it, and ends by an act or a typed reason, never by itself.
func TestEachDangerHasItsTask(t *testing.T) {
	fizz := func(f *ferment.Ferment) {
		for i := range f.Log {
			if f.Log[i].Did == ferment.Bottle {
				f.Log[i].Bottles = []ferment.Bottles{{Count: 9, Kind: "crown beer bottle", Fizz: measure.Give(measure.Content(5), "5 g/L")}}
			}
		}
	}
	for _, c := range []struct{ danger, log, says, act string }{
		{"hard", atRest + inBottles, "81d 09:00 squeeze feel=hard", "chill"},
		{"gush", atRest + inBottles, "85d 09:00 open hiss=5", "chill"},
		{"bottle-heat", atRest + "|77d 12:00 prime 20g" + inBottles, "85d 09:00 31C", "move"},
		{"sugar-left", atRest + "|77d 12:00 honey 150g|77d 13:00 1.010", "78d 09:00 bottle left=0L", "chill"},
		{"sugar-left", atRest + "|77d 12:00 honey 150g", "78d 09:00 bottle left=0L", "chill"},
		{"mould", atRest, "77d 09:00 look seen=mould", ""},
		{"film", atRest, "77d 09:00 look seen=film", "rack"},
		{"film", atRest, "77d 09:00 look seen=film", "look seen=gas"},
		{"lid", "0d 18:30 pitch|1d 07:00 started", "2d 09:00 look airlock=closed", "look airlock=working"},
	} {
		j := jug{plan: "small-jug bottle-conditioned", gravity: "1.084", log: c.log + "|" + c.says, ferment: fizz}
		day := at(strings.Join(strings.Fields(c.says)[:2], " "))
		step := schedule.AlarmStep + c.danger
		for _, later := range []int{0, 1, 30, 365} {
			d := j.planAt(day.AddDate(0, 0, later).Add(time.Minute))
			require.NotEmpty(t, d.Tasks)
			assert.Equal(t, step, d.Tasks[0].Step, "%s stands first after %d days", c.danger, later)
			assert.Equal(t, schedule.Due, d.Tasks[0].State)
			assert.True(t, d.Tasks[0].Danger)
		}
		assertNo := func(end string) {
			j := j
			j.log += "|" + end
			_, on := task(j.planAt(at(strings.Join(strings.Fields(end)[:2], " ")).Add(time.Hour)), step)
			assert.False(t, on, "%s after %s", c.danger, end)
		}
		next := strings.Fields(c.says)[0][:2]
		if c.act == "" {
			next = "77"
		} else {
			assertNo(trimDay(next) + "d 11:00 " + c.act)
		}
		assertNo(trimDay(next) + "d 11:00 skipped=" + step + " because=flakes")
	}
}

func trimDay(s string) string { return strings.TrimSuffix(s, "d") }

// Pointless tasks are not shown meanwhile: no bottle is opened or squeezed, nothing is done to a mead with mould.
func TestDangerHidesPointlessTasks(t *testing.T) {
	j := jug{plan: "small-jug bottle-conditioned", gravity: "1.084", log: atRest + inBottles + "|81d 09:00 squeeze feel=hard"}
	for day := 81; day < 200; day += 7 {
		for _, got := range j.planAt(at("0d 10:00").AddDate(0, 0, day)).Tasks {
			if got.State == schedule.Due || got.State == schedule.Late || got.State == schedule.Held {
				assert.NotContains(t, []string{"open", "squeeze", "taste", "move"}, got.Do, "%s on day %d", got.Step, day)
			}
		}
	}
	mouldy := jug{plan: "small-jug still", gravity: "1.084", log: "0d 08:00 pitch|0d 20:00 started|1d 21:00 1.075|1d 22:00 look seen=mould"}
	for _, got := range mouldy.day("2d 10:00").Tasks {
		if got.State == schedule.Due || got.State == schedule.Late || got.State == schedule.Held {
			assert.Equal(t, "danger-mould", got.Step)
		}
	}
}

// Under a skin nothing is stirred: neither a dose nor degassing is asked for, and the
// reading that the dose waits for still is.
func TestSkinSilencesWhatStirs(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.084", log: "0d 08:00 pitch|0d 20:00 started|0d 21:00 1.075@20"}
	before := pressing(j.day("3d 10:00"))
	assert.Contains(t, before, "nutrient-2")
	assert.NotContains(t, before, "gravity", "the dose asks for it")
	j.log += "|2d 09:00 look seen=film"
	d := j.day("3d 10:00")
	assert.Equal(t, "danger-film", d.Tasks[0].Step)
	assert.Subset(t, []string{"danger-film", "gravity", schedule.Reading}, pressing(d))
	asked := slices.ContainsFunc(d.Tasks, func(got schedule.Task) bool {
		return got.Do == ferment.DoGravity && got.State == schedule.Due && got.Open
	})
	assert.True(t, asked, "a reading stirs nothing")
}

// A spare jar that is closed over pH 4.6, the line of 21 CFR 114.3, is thrown away;
// at 4.6 it is not.
func TestClosedJarIsDangerous(t *testing.T) {
	for log, want := range map[string]bool{
		"0d 08:00 collect|5d 08:00 ph4.7|6d 08:00 backup":                                             true,
		"0d 08:00 collect|5d 08:00 ph4.6|6d 08:00 backup":                                             false,
		"0d 08:00 collect|5d 08:00 backup|6d 08:00 ph4.7":                                             true,
		"0d 08:00 collect|5d 08:00 ph4.7":                                                             false,
		"0d 08:00 collect|5d 08:00 ph4.7|6d 08:00 backup|7d 08:00 skipped=danger-jar because=drained": false,
	} {
		_, on := task(cultureDay(log, "60d 09:00"), "danger-jar")
		assert.Equal(t, want, on, log)
	}
	d := cultureDay("0d 08:00 collect|5d 08:00 look seen=mould", "6d 09:00")
	require.NotEmpty(t, d.Tasks)
	assert.Equal(t, "mould on the culture", d.Tasks[0].Title)
	for _, got := range d.Tasks[1:] {
		assert.NotContains(t, []schedule.State{schedule.Due, schedule.Late, schedule.Held}, got.State, "%s is not asked for", got.Step)
	}
}

// TestDangerComesFirst: over random histories a danger is first as long as nothing is logged about it.
func TestDangerComesFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j, now := aHistory(t), aMoment(t, "now")
		seen := now.Add(-time.Duration(rapid.IntRange(1, 40*24).Draw(t, "hours")) * time.Hour)
		j.log += fmt.Sprintf("|%dd %s look seen=%s", int(seen.Sub(at("0d 00:00")).Hours())/24, seen.Format("15:04"), rapid.SampledFrom([]string{"mould", "film"}).Draw(t, "growth"))
		d := j.planAt(now)
		switch first := slices.IndexFunc(d.Tasks, func(task schedule.Task) bool { return task.Alarm != nil }); {
		case first < 0: // an act or a reason has ended it
			return
		case first > 0:
			t.Fatalf("%s comes after %s", d.Tasks[first].Step, d.Tasks[0].Step)
		}
		until := j.nextEntry(now)
		if until.IsZero() {
			until = now.AddDate(1, 0, 0)
		}
		then := now.Add(time.Duration(rapid.Float64Range(0, 1).Draw(t, "share") * float64(until.Sub(now)-1)))
		later := j.planAt(then)
		if len(later.Tasks) == 0 || later.Tasks[0].Step != d.Tasks[0].Step || later.Tasks[0].State != schedule.Due {
			t.Fatalf("%s is gone by itself between %s and %s", d.Tasks[0].Step, now, then)
		}
	})
}

// A log that ends with sugar left is gone over a few times in all, not once for each of its entries.
func TestPlanOfALongLogGrowsWithIt(t *testing.T) {
	allocations := func(entries int) float64 {
		log := "0d 18:30 pitch"
		for day := 1; day < entries; day++ {
			log += fmt.Sprintf("|%dd 10:00 %.4f@20 17C", day, 1.020+0.06/float64(day))
		}
		j := jug{plan: "small-jug still", gravity: "1.084", log: log}
		c, p := j.course(fmt.Sprintf("%dd 11:00", entries)), j.protocol()
		return testing.AllocsPerRun(1, func() { schedule.Plan(p, c) })
	}
	assert.LessOrEqual(t, allocations(600), 2*allocations(60))
}
