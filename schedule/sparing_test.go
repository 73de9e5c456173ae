package schedule_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
)

// samples returns the unsettled openings and tastings, with their states.
func samples(d schedule.Day) map[string]schedule.State {
	got := map[string]schedule.State{}
	for _, t := range d.Tasks {
		if (t.Do == "open" || t.Do == "taste") && t.State != schedule.Done && t.State != schedule.Skipped {
			got[t.Step] = t.State
		}
	}
	return got
}

// TestMissedOpeningMergesWithTheNext and is not late for months.
func TestMissedOpeningMergesWithTheNext(t *testing.T) {
	j := jug{plan: "small-jug bottle-conditioned", gravity: "1.084", log: atRest + inBottles}
	assert.Equal(t, schedule.Late, samples(j.day("89d 10:00"))["open-1"], "a day after its window")
	assert.Equal(t, schedule.Lapsed, samples(j.day("90d 13:00"))["open-1"], "the second one is open")
	assert.Equal(t, schedule.Due, samples(j.day("90d 13:00"))["open-2"])
	j.log += "|91d 12:00 open hiss=2"
	assert.Contains(t, states(j.day("91d 13:00"), "open-2"), "done")
	for day := 78; day < 700; day += 3 {
		for _, got := range j.planAt(at("0d 10:00").AddDate(0, 0, day)).Tasks {
			if got.Do == "open" || got.Do == "taste" {
				late := at("0d 10:00").AddDate(0, 0, day).Sub(got.Closes).Hours() / 24
				assert.False(t, got.State == schedule.Late && late >= 14, "%s on day %d", got.Step, day)
			}
		}
	}
}

// TestOpeningsStopEarly: two with the same hiss of 2 or more are enough; two without hiss show that the gas is not
// there yet.
func TestOpeningsStopEarly(t *testing.T) {
	for hiss, more := range map[string]bool{"2": false, "1": true} {
		j := jug{plan: "small-jug bottle-conditioned", gravity: "1.084", log: atRest + inBottles +
			"|85d 12:00 open hiss=H step=open-1|92d 12:00 open hiss=H step=open-2"}
		j.log = strings.ReplaceAll(j.log, "H", hiss)
		_, there := samples(j.day("105d 10:00"))["open-3"]
		assert.Equal(t, more, there, "hiss %s", hiss)
	}
}

// TestOpeningsTakeAtMostAThird: over random fillings, openings and moments, those taken and planned are at most a third
// of the bottles.
func TestOpeningsTakeAtMostAThird(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 30).Draw(t, "bottles")
		taken := rapid.IntRange(0, 4).Draw(t, "taken")
		j := jug{plan: "small-jug bottle-conditioned", gravity: "1.084", log: atRest + "|78d 12:00 prime 20g" + inBottles}
		for i := range taken {
			j.log += strings.ReplaceAll("|DAYd 12:00 open hiss=1 bottle=test", "DAY", []string{"85", "92", "106", "136"}[i])
		}
		now := at("0d 10:00").AddDate(0, 0, rapid.IntRange(79, 400).Draw(t, "day"))
		c, gone := j.courseAt(now), 0
		for _, e := range c.Entries {
			if e.Did == ferment.Bottle {
				e.Bottles = []ferment.Bottles{{Count: 1, For: "test"}, {Count: n - 1}}
			}
			if e.Did == ferment.Open {
				gone++
			}
		}
		planned := gone
		for _, task := range schedule.Plan(j.protocol(), c).Tasks {
			if (task.Do == "open" || task.Do == "taste") && task.State != schedule.Lapsed && task.State != schedule.Done {
				planned++
			}
		}
		if planned > max(n/3, 1, gone)+1 { // one bottle is reserved for a test
			t.Fatalf("%d of %d bottles", planned, n)
		}
	})
}

// TestShutGateWaitsForWhatFreesIt: what a gate holds for another task is silent while that
// has a line or a day of its own, and for a reading it waits a week after the last.
func TestShutGateWaitsForWhatFreesIt(t *testing.T) {
	soft := func(s *ferment.Settings) {
		s.Bottles = []ferment.BottleKind{{Kind: "soft-drink bottle"}, {Kind: "crown beer bottle"}}
	}
	log := "0d 08:00 pitch|0d 20:00 started|5d 08:00 0.998@20 18C|12d 08:00 0.998@20 18C|12d 09:00 forced-test|17d 09:00 forced-test 0.998|19d 08:00 0.998@20 18C"
	j := jug{plan: "light-sparkling bottle-conditioned", gravity: "1.045", settings: soft, log: log + "|19d 09:00 chill"}
	d := j.day("20d 09:00")
	prime, _ := task(d, "prime")
	rack, _ := task(d, "rack")
	assert.Equal(t, schedule.Waiting, prime.State, prime.Reason)
	assert.True(t, rack.Due.After(at("20d 09:00")), "racking has a day of its own: %s", rack.Due)

	j = jug{plan: "small-jug still", gravity: "1.084", log: atRest + "|84d 08:00 0.997@20 17C|90d 08:00 honey 200g|91d 08:00 0.999@20 17C"}
	d = j.day("92d 09:00")
	bottle, _ := task(d, "bottle")
	again, there := task(d, schedule.ReadAgain)
	assert.NotEqual(t, schedule.Held, bottle.State, bottle.Reason)
	if assert.True(t, there) {
		assert.Equal(t, at("98d 08:00"), again.Due)
	}
	bottle, _ = task(j.day("98d 09:00"), "bottle")
	assert.Equal(t, schedule.Held, bottle.State, "now something can be done about it")
}
