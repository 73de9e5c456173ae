package schedule_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
)

// aHistory returns a random log of some weeks: acts and readings in any order, with gravity falling at various paces.
func aHistory(t *rapid.T) jug {
	plan := rapid.SampledFrom([]string{"small-jug still", "by-thirds sweetened", "light-sparkling bottle-conditioned", "fruit", "wild-culture still", "small-jug"}).Draw(t, "plan")
	days := rapid.SampledFrom([]int{3, 10, 40, 150}).Draw(t, "days")
	gravity, lines := 1.100, []string{}
	var hours []int
	for n := rapid.IntRange(0, 25).Draw(t, "entries"); n > 0; n-- {
		hours = append(hours, rapid.IntRange(0, days*24).Draw(t, "hour"))
	}
	slices.Sort(hours)
	if rapid.Bool().Draw(t, "pitched") {
		lines = append(lines, "0d 00:10 pitch 1g")
	}
	for _, h := range hours {
		what := rapid.SampledFrom([]string{"G", "G", "G", "G 18C", "G ?", "degas", "nutrient 1g", "nutrient unknown", "nutrient 1g step=nutrient-2", "started",
			"look seen=gas", "look airlock=dry", "rack clear vol3.2L", "honey 100g", "ph3.0", "buffer 1g", "skipped=nutrient because=away", "skipped=degas",
			"forced-test 0.996", "bottle left=0L", "sulphite 0.2g", "sorbate 0.5g", "open hiss=2", "feel=hard", "look seen=film", "look seen=mould", "lees=2cm", "17C", "chill"}).Draw(t, "what")
		if strings.Contains(what, "G") {
			gravity = max(0.990, gravity-rapid.SampledFrom([]float64{0, 0.0005, 0.002, 0.006, 0.02}).Draw(t, "fall"))
			what = strings.Replace(what, "G", fmt.Sprintf("%.4f@20", gravity), 1)
		}
		lines = append(lines, fmt.Sprintf("%dd %02d:%02d %s", h/24, h%24, rapid.IntRange(11, 59).Draw(t, "minute"), what))
	}
	j := jug{plan: plan, log: strings.Join(lines, "|")}
	if rapid.Bool().Draw(t, "measured") {
		j.gravity = "1.100"
	}
	if rapid.Bool().Draw(t, "organic") {
		j.settings = yeastDerived
	}
	if strings.HasPrefix(plan, "wild") {
		j.ferment = func(f *ferment.Ferment) { f.Yeast.Kind = ferment.Wild }
	}
	return j
}

func aMoment(t *rapid.T, label string) time.Time {
	return at("0d 00:00").Add(time.Duration(rapid.IntRange(0, 200*24*60).Draw(t, label)) * time.Minute)
}

// plain writes a day, one task a line.
func plain(d schedule.Day) string {
	var lines []string
	for _, t := range d.Tasks {
		line, err := json.Marshal(t)
		if err != nil {
			panic(err)
		}
		lines = append(lines, string(line))
	}
	return strings.Join(lines, "\n")
}

func (j jug) planAt(now time.Time) schedule.Day { return schedule.Plan(j.protocol(), j.courseAt(now)) }

func TestEveryTaskHasAReason(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, task := range aHistory(t).planAt(aMoment(t, "now")).Tasks {
			if task.Reason == "" || task.State == "" {
				t.Fatalf("no reason: %+v", task)
			}
		}
	})
}

// TestOccurrencesHaveDistinctTitles: no two tasks have the same step and number.
func TestOccurrencesHaveDistinctTitles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seen := map[string]bool{}
		for _, task := range aHistory(t).planAt(aMoment(t, "now")).Tasks {
			key := fmt.Sprint(task.Step, task.Occurrence)
			if seen[key] {
				t.Fatalf("twice: %+v", task)
			}
			seen[key] = true
		}
	})
}

func TestNoNutrientPastItsGate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := aHistory(t)
		now := aMoment(t, "now")
		d, c := j.planAt(now), j.courseAt(now)
		first, half := c.Break(1.0/3), c.Break(0.5)
		for _, task := range d.Tasks {
			open := task.State == schedule.Due && task.Open || task.State == schedule.Late
			if task.Do != string(ferment.Nutrient) || !open {
				continue
			}
			limit := first.Value - 0.005
			if task.Step == schedule.LateNutrient {
				limit = half.Value
			}
			if g := c.Gravity.Value.Gravity; !c.Gravity.IsKnown() || !first.IsKnown() || g.Rounded(4) < limit.Rounded(4) || c.Alcohol.Value > 9 {
				t.Fatalf("due at %s, the limit is %s, %s: %+v", g, limit, c.Alcohol.Value, task)
			}
		}
	})
}

func TestNoBottlingWhileItsGateIsShut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := aHistory(t)
		d := j.planAt(aMoment(t, "now"))
		for _, task := range d.Tasks {
			for _, s := range j.protocol().Steps {
				due := task.State == schedule.Due || task.State == schedule.Late
				if s.Name == task.Step && s.Gate != ferment.NoGate && due && !gate(d, s.Gate).Open {
					t.Fatalf("the gate %s is not ready: %+v", s.Gate, task)
				}
			}
		}
	})
}

func TestSameInputSameOutput(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j, now := aHistory(t), aMoment(t, "now")
		alike(t, j.planAt(now), j.planAt(now))
	})
}

func TestOrderOfEntriesIsIrrelevant(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j, now := aHistory(t), aMoment(t, "now")
		lines := strings.Split(j.log, "|")
		shuffled := j
		shuffled.log = strings.Join(rapid.Permutation(lines).Draw(t, "order"), "|")
		stamps := map[string]bool{}
		for _, l := range lines {
			stamp := strings.Join(strings.Fields(l + " - -")[:2], " ")
			if stamps[stamp] {
				return // file order decides between equal times
			}
			stamps[stamp] = true
		}
		alike(t, j.planAt(now), shuffled.planAt(now))
	})
}

func alike(t *rapid.T, a, b schedule.Day) {
	if plain(a) != plain(b) {
		t.Fatalf("not alike:\n%s", differ(plain(a), plain(b)))
	}
}

// differ returns the first task that differs.
func differ(a, b string) string {
	var out []string
	bs := strings.Split(b, "\n")
	for i, line := range strings.Split(a, "\n") {
		if i >= len(bs) || bs[i] != line {
			out = append(out, line, bs[min(i, len(bs)-1)])
			break
		}
	}
	return strings.Join(out, "\n")
}

// nextEntry returns the time of the next later entry.
func (j jug) nextEntry(now time.Time) time.Time {
	var next time.Time
	for _, e := range j.courseAt(now).Later {
		if next.IsZero() || e.At.Time.Before(next) {
			next = e.At.Time
		}
	}
	return next
}

func TestLateTaskNeverWaitsAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j, now := aHistory(t), aMoment(t, "now")
		d := j.planAt(now)
		until := j.nextEntry(now)
		if until.IsZero() {
			until = now.AddDate(0, 3, 0)
		}
		then := now.Add(time.Duration(rapid.Float64Range(0, 1).Draw(t, "share") * float64(until.Sub(now)-1)))
		after := map[string]schedule.State{}
		for _, task := range j.planAt(then).Tasks {
			after[fmt.Sprint(task.Step, task.Occurrence)] = task.State
		}
		for _, task := range d.Tasks {
			if task.State == schedule.Late && after[fmt.Sprint(task.Step, task.Occurrence)] == schedule.Waiting {
				t.Fatalf("late at %v, waiting at %v: %+v", now, then, task)
			}
		}
	})
}

// TestOneMeasurementIsAskedOnce: no measurement of a vessel is asked for twice, nor by a step of the plan within three
// days of the last, unless that step measures more often or something was added.
func TestOneMeasurementIsAskedOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j, now := aHistory(t), aMoment(t, "now")
		asked := map[string]string{}
		for _, task := range j.planAt(now).Tasks {
			if !ferment.IsMeasurement(task.Do) || task.State != schedule.Late && !(task.State == schedule.Due && task.Open) {
				continue
			}
			if asked[task.Do] != "" {
				t.Fatalf("%s is asked for by %s and by %s", task.Do, asked[task.Do], task.Step)
			}
			asked[task.Do] = task.Step
			if task.Step != "gravity-tail" && task.Step != "steady-reading" {
				continue
			}
			for _, e := range j.courseAt(now).Entries {
				since := now.Sub(e.At.Time)
				if e.Did == "" && e.Measured(task.Do) && e.Doubt == "" && since < 72*time.Hour && !strings.Contains(j.log, "honey") {
					t.Fatalf("%s asks again %s after %s", task.Step, since, e.At.Time)
				}
			}
		}
	})
}

// TestLapsedDoseIsShownOnce: on the day that gravity closed it; no later reading changes its date, nor does the offer
// of the other nutrient.
func TestLapsedDoseIsShownOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := jug{plan: "small-jug", gravity: "1.100", settings: yeastDerived, log: missedDose + "|5d 08:00 1.059@20"}
		gravity, hour := 1.059, 5*24+12
		for n := rapid.IntRange(1, 8).Draw(t, "readings"); n > 0; n-- {
			gravity -= rapid.Float64Range(0, 0.008).Draw(t, "fall")
			hour += rapid.IntRange(1, 900).Draw(t, "hours")
			j.log += fmt.Sprintf("|%dd %02d:00 %.4f@20", hour/24, hour%24, gravity)
		}
		for _, task := range j.planAt(at("0d 00:00").Add(time.Duration(hour+1) * time.Hour)).Tasks {
			if task.Step == "nutrient-2" && !task.Settled.Equal(at("5d 08:00")) {
				t.Fatalf("it lapsed on %s: %s", task.Settled, task.Reason)
			}
			if task.Step == schedule.LateNutrient && !task.Due.Equal(at("5d 08:00")) {
				t.Fatalf("offered again: %+v", task)
			}
		}
	})
}

// TestBottledFermentAsksOnlyForBottles: once all of it is bottled, open tasks disappear, and only tasks about bottles
// are shown.
func TestBottledFermentAsksOnlyForBottles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j, now := aHistory(t), aMoment(t, "now")
		j.log += fmt.Sprintf("|%dd %s bottle left=0L", int(now.Sub(at("0d 00:00")).Hours())/24, now.Format("15:04"))
		later := now.Add(time.Duration(rapid.IntRange(1, 300*24).Draw(t, "hours")) * time.Hour)
		for _, task := range j.planAt(later).Tasks {
			asked := task.State == schedule.Due || task.State == schedule.Late || task.State == schedule.Held || task.State == schedule.Lapsed && task.Settled.After(now)
			if asked && task.Alarm == nil && (task.Opens.Before(now) || task.Do == ferment.DoGravity || task.Do == string(ferment.Degas) || task.Do == string(ferment.Nutrient)) {
				t.Fatalf("%s is %s %s after the bottling: %s", task.Step, task.State, later.Sub(now), task.Reason)
			}
		}
	})
}
