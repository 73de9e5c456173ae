package schedule_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

// TestYearOfEightFerments follows eight ferments through a year and finds no hour that contradicts itself or an earlier
// one. Two of them are checked every hour up to day 60.
func TestYearOfEightFerments(t *testing.T) {
	for i, k := range eight() {
		k.run(365)
		hourly := at("0d 00:00")
		if i%4 == 0 {
			hourly = at("60d 00:00")
		}
		k.replay(t, hourly)
	}
}

// eight returns ferments with keepers who come daily, every third or every fifth day.
func eight() []keeper {
	wild := func(f *ferment.Ferment) {
		f.Yeast.Kind, f.Yeast.Tolerance = ferment.Wild, measure.Given[measure.Strength]{}
	}
	dry := func(plan, gravity string, original, finish, rate float64, ending string, every int) keeper {
		return keeper{jug: jug{plan: plan, gravity: gravity, settings: softBottles}, original: original, finish: finish, rate: rate, ending: ending, every: every}
	}
	ks := []keeper{
		dry("small-jug", "1.084", 1.084, 0.9965, 0.5, "still", 1),
		dry("by-thirds", "1.118", 1.118, 1.001, 0.4, "sweetened", 1),
		dry("light-sparkling", "1.045", 1.045, 0.9976, 0.8, "bottle-conditioned", 1),
		dry("fruit", "1.090", 1.090, 0.9965, 0.5, "still", 1),
		dry("wild-culture", "1.060", 1.060, 0.998, 0.4, "still", 1),
		dry("small-jug", "1.084", 1.084, 0.9965, 0.5, "bottle-conditioned", 3),
		dry("by-thirds", "1.110", 1.110, 1.000, 0.4, "still", 3),
		dry("small-jug", "1.095", 1.095, 1.012, 0.5, "sweetened", 5), // stops early
	}
	ks[4].ferment = wild
	return ks
}

// replay plans the year again, with everything logged by then.
func (k *keeper) replay(t *testing.T, hourly time.Time) {
	plan, whole := k.protocol(), k.course("400d 00:00")
	var before schedule.Day
	var at0 time.Time
	for now := at("0d 00:00"); now.Before(at("365d 00:00")); now = onward(now, hourly) {
		c := course.Of(whole.Ferment, whole.Settings, whole.Limits, now)
		day := schedule.Plan(plan, c)
		if wrong := contradiction(day, c); wrong != "" {
			require.Fail(t, wrong, "%s, %s", k.plan, now)
		}
		if wrong := undone(before, day); wrong != "" {
			require.Fail(t, wrong, "%s, between %s and %s", k.plan, at0, now)
		}
		before, at0 = day, now
	}
}

// onward returns the next time to check: every hour at first, then every seventh, and in bottles every twenty-fifth;
// both reach each hour of the day.
func onward(now, hourly time.Time) time.Time {
	switch {
	case now.Before(hourly):
		return now.Add(time.Hour)
	case now.Before(at("130d 00:00")):
		return now.Add(7 * time.Hour)
	}
	return now.Add(25 * time.Hour)
}

// contradiction returns how a day contradicts itself.
func contradiction(d schedule.Day, c *course.Course) string {
	open, seen := map[string]int{}, map[string]bool{}
	for _, t := range d.Tasks {
		id := fmt.Sprintf("%s %d", t.Step, t.Occurrence)
		switch {
		case seen[id]:
			return id + " stands there twice"
		case t.Reason == "":
			return id + " has no reason"
		case t.State == schedule.Late && t.Closes.After(c.Now):
			return id + " is late before it closes"
		case t.State == schedule.Due && !t.Closes.IsZero() && !t.Closes.After(c.Now):
			return id + " is due after it closed"
		case t.State == schedule.Waiting && !t.Opens.IsZero() && !t.Opens.After(c.Now):
			return id + " waits though it is open: " + t.Reason
		case d.Quiet != nil && t.Routine && t.Open:
			return id + " breaks the quiet"
		}
		seen[id] = true
		if wrong := asked(t, d, c); wrong != "" {
			return id + wrong
		}
		if t.Open && (t.State == schedule.Due || t.State == schedule.Late || t.State == schedule.Held) {
			open[t.Step]++
		}
		if open[t.Step] > 1 {
			return t.Step + " is open more than once"
		}
	}
	return excluded(open)
}

// asked checks a task: a due one is not refused and its gate is open, a held one is refused.
func asked(t schedule.Task, d schedule.Day, c *course.Course) string {
	var no *schedule.No
	if t.State == schedule.Held || t.State == schedule.Due || t.State == schedule.Late {
		no = schedule.Refusal(t, d, c)
	}
	switch {
	case t.State == schedule.Held && no == nil:
		return " is held, and may be done"
	case (t.State == schedule.Due || t.State == schedule.Late) && no != nil:
		return " is asked for and refused: " + no.Verdict
	case t.Do == "nutrient" && t.State == schedule.Due && t.Open && !t.Option && !gate(d, ferment.NutrientGate).Open:
		return " is due at a shut gate"
	case t.Do == "bottle" && t.State == schedule.Due && !gate(d, ferment.StillGate).Open && !gate(d, ferment.ConditioningGate).Open:
		return " is due at shut gates"
	}
	return ""
}

// excluded returns acts that must never be asked for on one day.
func excluded(open map[string]int) string {
	for _, pair := range [][2]string{{"nutrient-1", "rack"}, {"nutrient-2", "bottle"}, {"sorbate", "prime"}, {"degas", "bottle"}, {"air", "rack"}, {"pitch", "bottle"}} {
		if open[pair[0]] > 0 && open[pair[1]] > 0 {
			return pair[0] + " and " + pair[1] + " at once"
		}
	}
	return ""
}

// undone returns a task that was settled and is not any more, although its anchor has not moved.
func undone(before, after schedule.Day) string {
	is := map[string]schedule.State{}
	for _, t := range after.Tasks {
		is[t.Step+t.Due.String()] = t.State
	}
	for _, t := range before.Tasks {
		if now, there := is[t.Step+t.Due.String()]; (t.State == schedule.Done || t.State == schedule.Skipped) && there && now != t.State {
			return fmt.Sprintf("%s of %s was %s and is %s", t.Step, t.Due, t.State, now)
		}
	}
	return ""
}
