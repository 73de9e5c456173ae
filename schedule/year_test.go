package schedule_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

// keeper visits at 08:00 and at 19:00 and does whatever is due. Gravity falls like that of a must.
type keeper struct {
	jug
	original, finish, rate float64
	ending                 string
	every                  int      // days between visits; 0 is 1
	done                   []string // the steps in the order they were done
	on                     map[string]int
	longest                int // most days that something was held
	busiest                int // tasks in one visit
}

func (k *keeper) gravityOn(day float64) float64 {
	s, s0 := 1/(1+math.Exp(-(day-5)*k.rate)), 1/(1+math.Exp(5*k.rate))
	return k.original - (k.original-k.finish)*(s-s0)/(1-s0)
}

func (k *keeper) run(days int) {
	k.on = map[string]int{}
	heldSince := map[string]int{}
	for d := 0; d < days; d += max(k.every, 1) {
		for _, hour := range []string{"08:00", "19:00"} {
			now := fmt.Sprintf("%dd %s", d, hour)
			for visit := 0; ; visit++ {
				day := k.day(now)
				t, ok := k.next(day, now)
				if !ok {
					k.countHeld(day, d, heldSince)
					break
				}
				k.busiest = max(k.busiest, visit+1)
				k.do(t, now, d)
			}
		}
	}
}

func (k *keeper) countHeld(day schedule.Day, d int, since map[string]int) {
	for _, t := range day.Tasks {
		if t.State != schedule.Held {
			delete(since, t.Step)
			continue
		}
		if _, was := since[t.Step]; !was {
			since[t.Step] = d
		}
		k.longest = max(k.longest, d-since[t.Step])
	}
}

func (k *keeper) next(day schedule.Day, now string) (schedule.Task, bool) {
	for _, t := range day.Tasks {
		if t.Open && !t.Option && !t.Asks && (t.State == schedule.Due || t.State == schedule.Late) {
			return t, true
		}
		if t.State == schedule.Held && t.Frees == string(ferment.Look) && !strings.HasSuffix(k.log, "clear") {
			return schedule.Task{Do: "look", Step: "to free " + t.Step}, true
		}
		if t.State == schedule.Held && t.Frees == ferment.DoGravity && !strings.Contains(k.log, now+" reading") && !strings.HasSuffix(k.log, "18C") {
			return schedule.Task{Do: ferment.DoGravity, Step: "to free " + t.Step}, true
		}
	}
	return schedule.Task{}, false
}

func (k *keeper) do(t schedule.Task, now string, day int) {
	if _, before := k.on[t.Step]; !before {
		k.on[t.Step] = day
		k.done = append(k.done, t.Step)
	}
	hour := at(now).Hour()
	reads := fmt.Sprintf("%.4f@20 18C", k.gravityOn(float64(day)+float64(hour-8)/24))
	lines := []string{t.Do + " step=" + t.Step}
	switch t.Do {
	case schedule.Reminder:
		lines[0] = "step=" + t.Step
	case ferment.DoGravity:
		lines[0] = reads
	case ferment.DoPH:
		lines[0] = "ph3.4"
	case ferment.DoTemperature:
		lines[0] = "18C"
	case ferment.DoVolume:
		lines[0] = "vol3.2L"
	case "rack":
		lines[0] += " clear vol3.3L"
	case "look":
		lines[0] = "look clear"
	case "choose":
		k.plan += " " + k.ending
	case "bottle":
		lines[0] += " left=0L"
	case "forced-test":
		if t.Step == "forced-read" {
			lines[0] += " " + fmt.Sprintf("%.4f", k.gravityOn(float64(day)))
		}
	case "open":
		lines[0] += " hiss=3"
	}
	if t.Amount != nil && t.Amount.Known && t.Amount.Number > 0 {
		lines[0] += fmt.Sprintf(" amount=\"%.2f %s\"", t.Amount.Number, t.Amount.Unit)
	}
	k.log += "|" + now + " " + lines[0]
}

func softBottles(s *ferment.Settings) {
	s.Bottles = []ferment.BottleKind{{Kind: "crown beer bottle"}, {Kind: "soft-drink bottle"}}
}

// TestYears runs every plan with an obedient keeper: each ends in bottles, in the order of the work, with a handful of
// tasks a visit and nothing held for weeks (common practice, no source).
func TestYears(t *testing.T) {
	wild := func(f *ferment.Ferment) {
		f.Yeast.Kind, f.Yeast.Tolerance = ferment.Wild, measure.Given[measure.Strength]{}
	}
	for _, c := range []struct {
		k      keeper
		steps  string // some of them, in their order
		bottle [2]int // days
	}{
		{keeper{jug: jug{plan: "small-jug", gravity: "1.084"}, original: 1.084, finish: 0.9965, rate: 0.5, ending: "still"},
			"pitch check nutrient-1 nutrient-2 look rack steady-reading ending bottle taste", [2]int{80, 110}},
		{keeper{jug: jug{plan: "by-thirds", gravity: "1.118"}, original: 1.118, finish: 1.001, rate: 0.4, ending: "sweetened"},
			"pitch nutrient-1 nutrient-2 nutrient-3 look rack ending cold-rest rack-clear sulphite sorbate trial-glasses sweeten watch bottle taste", [2]int{110, 160}},
		{keeper{jug: jug{plan: "light-sparkling", gravity: "1.045", settings: softBottles}, original: 1.045, finish: 0.9976, rate: 0.8, ending: "bottle-conditioned"},
			"pitch nutrient-1 nutrient-2 forced-test cold-rest rack prime bottle squeeze open-1 open-2 taste", [2]int{20, 60}},
		{keeper{jug: jug{plan: "fruit", gravity: "1.090"}, original: 1.090, finish: 0.9965, rate: 0.5, ending: "still"},
			"sulphite pitch punch check fruit-out rack-lees look rack-clear ending bottle taste", [2]int{80, 120}},
		{keeper{jug: jug{plan: "wild-culture", gravity: "1.060", ferment: wild}, original: 1.060, finish: 0.998, rate: 0.4, ending: "still"},
			"pitch check nutrient-1 nutrient-2 look rack steady-reading ending bottle taste", [2]int{90, 150}},
	} {
		k := c.k
		k.run(200)
		assert.Equal(t, c.steps, inOrder(k.done, c.steps), "%s: %v", k.plan, k.done)
		assert.LessOrEqual(t, k.busiest, 7, "%s: tasks in one visit", k.plan)
		assert.LessOrEqual(t, k.longest, 14, "%s: days held", k.plan)
		assert.True(t, c.bottle[0] <= k.on["bottle"] && k.on["bottle"] <= c.bottle[1], "%s: bottled on day %d", k.plan, k.on["bottle"])
	}
}

// inOrder returns the wanted ones of the steps done, in the order they were done.
func inOrder(done []string, wanted string) string {
	var out []string
	for _, step := range done {
		if strings.Contains(" "+wanted+" ", " "+step+" ") {
			out = append(out, step)
		}
	}
	return strings.Join(out, " ")
}
