package schedule_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

// truth is what a simulated jug really does, which the log only shows by readings with an error: it falls to its dry
// end, stops for a time, goes on, gets sugar.
type truth struct {
	sugar  float64   // points above its dry end
	dry    float64   // where it ends
	rate   float64   // share of the sugar gone in a day
	stalls bool      // it stops with sugar left, and goes on later
	awake  int       // the day on which it goes on
	killed bool      // stabilised: nothing ferments any more
	left   []float64 // points, by day
}

func (u *truth) pass(day int) {
	if u.stalls && u.sugar < 25 && day < u.awake || u.killed {
		return
	}
	u.sugar -= u.sugar * u.rate
	if u.sugar < 0.2 {
		u.sugar = 0
	}
}

// aLife returns a jug with a known truth, logged as a person would: read about weekly, racked, cleared, tested, and
// with various additions.
func aLife(t *rapid.T) (jug, *truth, []time.Time) {
	draw := errors(t)
	noise := func() float64 { return draw.NormFloat64() * 0.0005 }
	dry := 0.9964 + (draw.Float64()-0.5)*0.008
	u := &truth{sugar: (1.084 - dry) * 1000, dry: dry, rate: rapid.Float64Range(0.03, 0.3).Draw(t, "rate"), stalls: rapid.Bool().Draw(t, "stalls"), awake: rapid.IntRange(60, 200).Draw(t, "awake")}
	ending := rapid.SampledFrom([]string{"still", "bottle-conditioned"}).Draw(t, "ending")
	lines, moments := []string{"0d 08:00 pitch", "1d 08:00 started"}, []time.Time(nil)
	next, racked, tested := 3, false, -1
	for day := 1; day <= 180; day++ {
		u.pass(day)
		sg := u.dry + u.sugar/1000
		says := func(format string, args ...any) {
			lines = append(lines, fmt.Sprintf("%dd %02d:%02d ", day, 9+len(lines)%9, len(lines)%60)+fmt.Sprintf(format, args...))
		}
		if tested >= 0 && day == tested+6 {
			says("forced-test %.3f", math.Round((u.dry+noise())*1000)/1000) // the strong yeast leaves no sugar
			tested = -1
		}
		if day >= next {
			says("%.3f@20 18C clear", math.Round((sg+noise())*1000)/1000)
			next = day + rapid.IntRange(3, 14).Draw(t, "days")
			switch {
			case day > 30 && !racked:
				says("rack clear vol3.2L")
				racked = true
			case day > 40:
				switch rapid.IntRange(0, 30).Draw(t, "act") {
				case 0:
					says("honey 100g")
					u.sugar += 10
				case 1:
					says("blend 0.3L of=clover alcohol=11%%")
					u.sugar += 4
				case 2:
					says("top-up 0.2L of=juice")
					u.sugar += 5
				case 3:
					says("fruit-in 300g")
					u.sugar += 6
				case 4, 5, 6:
					says("forced-test 100mL")
					tested = day
				}
			}
		}
		u.left = append(u.left, u.sugar)
		moments = append(moments, at(fmt.Sprintf("%dd 23:00", day)))
	}
	return jug{plan: "small-jug " + ending, gravity: "1.084", log: strings.Join(lines, "|"), settings: softBottles}, u, moments
}

// errors draws the errors of a hydrometer, and the dry end within its spread, from a uniform distribution, which the
// values of a property are not.
func errors(t *rapid.T) *rand.Rand { return rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 14)) }

// TestNoBottleThatWouldBurstIsProposed: whatever the log says, no jug is offered for bottling while it has more sugar
// left, by its simulated truth, than the bottle is made for: a crown beer bottle if conditioned, three points if still
// (two bar, below what any sound wine bottle takes; common practice, no source).
func TestNoBottleThatWouldBurstIsProposed(t *testing.T) {
	beer, _ := carbonation.BottleOf("crown beer bottle")
	stands, _ := beer.Limit()
	offers := 0
	rapid.Check(t, func(t *rapid.T) {
		j, u, moments := aLife(t)
		whole := j.courseAt(moments[len(moments)-1])
		plan := j.protocol()
		for i, now := range moments {
			if i%5 != 0 {
				continue
			}
			c := course.Of(whole.Ferment, whole.Settings, whole.Limits, now)
			for _, task := range schedule.Plan(plan, c).Tasks {
				offered := task.Open && (task.State == schedule.Due || task.State == schedule.Late)
				if !offered || task.Do != string(ferment.Bottle) && task.Do != string(ferment.Prime) {
					continue
				}
				offers++
				fizz := measure.Content(0)
				if strings.Contains(j.plan, "conditioned") {
					fizz = c.Settings.Fizz
				} else if u.left[i] <= 3 {
					continue
				}
				made, err := carbonation.Usual.InBottle(fizz, carbonation.Liquid{Alcohol: 11.5}, c.Settings.Hottest, min(20, u.left[i]))
				if err != nil || made.Gauge > stands || fizz == 0 {
					t.Fatalf("%s: %s on day %d with %.1f points left, %v over %v\n%s", j.plan, task.Do, i+1, u.left[i], made.Gauge, stands, strings.ReplaceAll(j.log, "|", "\n"))
				}
			}
		}
	})
	assert.Greater(t, offers, 50, "it is offered at all")
}

// TestDryQuietMeadIsNeverStuck: a mead without sugar left, wherever its dry end is, is never called stuck or at its
// limit.
func TestDryQuietMeadIsNeverStuck(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := errors(t)
		dry := 0.9964 + (draw.Float64()-0.5)*0.010
		lines := []string{"0d 08:00 pitch", "1d 08:00 started", "5d 08:00 1.040@20 18C"}
		for day := 30; day < 200; day += rapid.IntRange(3, 21).Draw(t, "days") {
			lines = append(lines, fmt.Sprintf("%dd 09:00 %.3f@20 18C", day, math.Round((dry+max(-0.001, min(0.001, draw.NormFloat64()*0.0005)))*1000)/1000))
		}
		j := jug{plan: "small-jug still", gravity: "1.084", log: strings.Join(lines, "|")}
		now := at(fmt.Sprintf("%dd 10:00", rapid.IntRange(40, 220).Draw(t, "now")))
		for _, k := range j.courseAt(now).Conditions {
			if k.Name == course.Stuck || k.Name == course.AtLimit {
				t.Fatalf("%s: %s, dry at %.4f", k.Name, k.Why, dry)
			}
		}
	})
}
