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
// end, sleeps in the cold, stops for a time, goes on, gets sugar and yeast.
type truth struct {
	sugar  float64   // points above its dry end
	dry    float64   // where it ends
	rate   float64   // share of the sugar gone in a day
	stops  float64   // points at which it stops, in the cold or by itself; 0 for one that goes to its end
	awake  int       // the day on which it goes on
	cold   bool      // it stops because the room gets cold
	tested bool      // a forced test was read since the last addition
	killed bool      // stabilised: nothing ferments any more
	left   []float64 // points that can ferment, by day
}

func (u *truth) asleep(day int) bool { return u.sugar < u.stops && day < u.awake || u.killed }

// hidden reports whether its sugar is less than gravity shows: where it ends is known to ±0.004, and 0.002 over that
// counts as dry. Only a forced test shows it.
func (u *truth) hidden() bool { return u.sugar < 8 && !u.tested && !u.cold }

func (u *truth) pass(day int) {
	if !u.asleep(day) {
		u.sugar -= u.sugar * u.rate
	}
	if u.sugar < 0.2 {
		u.sugar = 0
	}
}

// stabilise: sorbate stops a yeast that rests, not one that works (common practice, no source).
func (u *truth) stabilise(day int) { u.killed = u.killed || u.sugar < 1 || u.asleep(day) }

// feed gives it sugar, with which it works again if it is little.
func (u *truth) feed(points float64) {
	if u.sugar, u.tested = u.sugar+points, false; u.sugar < 8 && !u.cold {
		u.stops = 0
	}
}

// pitch is what fresh yeast does, also that of another mead.
func (u *truth) pitch() {
	if u.killed, u.tested = false, false; !u.cold {
		u.stops = 0
	}
}

// waterDensity is that of water in kg/m³ at 15 to 25 °C (Kell 1975), by which a warm sample reads low.
var waterDensity = map[int]float64{15: 999.103, 18: 998.596, 20: 998.204, 22: 997.770, 25: 997.045}

// aLife returns a jug with a known truth, logged as a person would: read about weekly, by an instrument that is off by
// what its water tells, in samples of 15 to 25 °C or too hot to be corrected, racked, cleared, tested once or twice or
// too early, accepted, stabilised, kept in the cold for a time, and with various additions.
func aLife(t *rapid.T) (jug, *truth, []time.Time) {
	draw := errors(t)
	noise := func() float64 { return draw.NormFloat64() * 0.0005 }
	dry := 0.9964 + (draw.Float64()-0.5)*0.008
	u := &truth{sugar: (1.084 - dry) * 1000, dry: dry, rate: rapid.Float64Range(0.03, 0.3).Draw(t, "rate"), awake: rapid.IntRange(90, 260).Draw(t, "awake")}
	switch kind := rapid.SampledFrom([]string{"goes on", "goes on", "stops", "cold", "hidden", "hidden"}).Draw(t, "kind"); kind {
	case "stops":
		u.stops = 8 + draw.Float64()*7
	case "cold", "hidden": // what is left looks like a dry end
		u.stops, u.cold, u.dry = 3+draw.Float64()*3, kind == "cold", 0.9925+draw.Float64()*0.002
	}
	hot := rapid.IntRange(0, 5).Draw(t, "hot") == 0 // no sample is let cool
	ending := rapid.SampledFrom([]string{"still", "bottle-conditioned", "sweetened"}).Draw(t, "ending")
	off := rapid.SampledFrom([]float64{0, 0, 0.002, -0.002}).Draw(t, "instrument")
	lines, moments := []string{"0d 08:00 pitch", "1d 08:00 started"}, []time.Time(nil)
	read := func(g float64) string {
		at := rapid.SampledFrom([]int{15, 18, 20, 20, 20, 22, 25}).Draw(t, "sample")
		shown := g*waterDensity[at]/waterDensity[20] + off + noise()
		return fmt.Sprintf("%.3f@%d", math.Round(shown*1000)/1000, at)
	}
	next, racked, tested := 3, false, -1
	for day := 1; day <= 180; day++ {
		u.pass(day)
		sg := u.dry + u.sugar/1000
		says := func(format string, args ...any) {
			lines = append(lines, fmt.Sprintf("%dd %02d:%02d ", day, 9+len(lines)%9, len(lines)%60)+fmt.Sprintf(format, args...))
		}
		if tested >= 0 && (day == tested+6 || rapid.IntRange(0, 9).Draw(t, "early") == 0) {
			left := u.sugar * math.Pow(0.5, max(0, float64(day-tested-2))) // the strong yeast leaves no sugar, in the end
			if day == tested+6 {
				left, tested, u.tested = 0, -1, true
			}
			says("forced-test %s", read(u.dry+left/1000))
		}
		if day >= next {
			room := map[bool]string{true: "8C", false: "18C"}[u.cold && u.asleep(day)]
			if hot {
				says("%.3f@45 %s clear", sg-0.008, room)
			} else {
				says("%s %s clear", read(sg), room)
			}
			next = day + rapid.IntRange(3, 14).Draw(t, "days")
			switch {
			case day > 30 && !racked:
				says("rack clear vol3.2L")
				racked = true
			case day > 40:
				switch rapid.IntRange(0, 40).Draw(t, "act") {
				case 0:
					says("honey 100g")
					u.feed(10)
				case 1:
					says("blend 0.3L of=clover alcohol=11%%")
					u.feed(4)
					u.pitch()
				case 2:
					says("top-up 0.2L of=juice")
					u.feed(5)
				case 3:
					says("fruit-in 300g of=bramble")
					u.feed(6)
				case 4, 5, 6, 7, 13, 14, 15, 16:
					says("forced-test 100mL")
					tested = day
				case 8:
					says("accept because=enough")
				case 9, 10:
					says("sulphite 0.4g")
					says("sorbate 0.7g")
					u.stabilise(day)
				case 11:
					says("pitch 1g")
					u.pitch()
				case 12:
					says("top-up 0.2L of=water")
				}
			}
		}
		left := u.sugar
		if u.killed || u.hidden() {
			left = 0
		}
		u.left = append(u.left, left)
		moments = append(moments, at(fmt.Sprintf("%dd 23:00", day)))
	}
	return jug{plan: "small-jug " + ending, gravity: "1.084", log: strings.Join(lines, "|"), settings: func(s *ferment.Settings) {
		softBottles(s)
		water := measure.Gravity(1 + off)
		s.Instruments = []ferment.Instrument{{Name: "hydrometer", Kind: "hydrometer", Water: measure.Give(water, water.String())}}
	}}, u, moments
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
	offers := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		j, u, moments := aLife(t)
		whole := j.courseAt(moments[len(moments)-1])
		plan := j.protocol()
		for i, now := range moments {
			if i%3 != 0 {
				continue
			}
			c := course.Of(whole.Ferment, whole.Settings, whole.Limits, now)
			for _, offered := range bottlingOffered(schedule.Plan(plan, c)) {
				offers[offered]++
				fizz := measure.Content(0)
				if strings.Contains(offered, "condition") {
					fizz = c.Settings.Fizz
				} else if u.left[i] <= 3 {
					continue
				}
				made, err := carbonation.Usual.InBottle(fizz, carbonation.Liquid{Alcohol: 11.5}, c.Settings.Hottest, min(20, u.left[i]))
				if err != nil || made.Gauge > stands || fizz == 0 {
					t.Fatalf("%s: %s on day %d with %.1f points left, %v over %v\n%s", j.plan, offered, i+1, u.left[i], made.Gauge, stands, strings.ReplaceAll(j.log, "|", "\n"))
				}
			}
		}
	})
	assert.Greater(t, offers["still bottling"], 50, "it is offered at all")
	assert.Greater(t, offers["bottle-conditioning"], 10, "it is offered at all")
}

// TestEarlyGlassKeepsTheTestBefore: a second glass that is read on its first day does not take away that the first one
// showed 3.5 points of sugar.
func TestEarlyGlassKeepsTheTestBefore(t *testing.T) {
	log := "0d 08:00 pitch|1d 08:00 started|3d 11:00 1.026@20 18C|13d 12:00 0.997@20 18C|25d 14:00 0.997@20 18C|38d 15:00 0.997@20 18C|38d 16:00 rack clear vol3.2L|" +
		"44d 17:00 0.997@20 18C|44d 18:00 forced-test 100mL|50d 10:00 forced-test 0.9935@20|57d 11:00 0.997@20 18C clear|57d 12:00 forced-test 100mL"
	for _, second := range []string{"", "|58d 13:00 forced-test 0.997@20"} {
		for _, g := range (jug{plan: "small-jug still", gravity: "1.084", log: log + second}).planAt(at("58d 23:00")).Gates {
			if g.Name == ferment.StillGate {
				assert.False(t, g.Open, "after %q", second)
			}
		}
	}
}

// bottlingOffered returns the gates that are open for bottles, and what the plan offers with them.
func bottlingOffered(d schedule.Day) (offered []string) {
	for _, g := range d.Gates {
		if g.Open && (g.Name == ferment.StillGate || g.Name == ferment.ConditioningGate) {
			offered = append(offered, string(g.Name))
		}
	}
	for _, task := range d.Tasks {
		open := task.Open && (task.State == schedule.Due || task.State == schedule.Late)
		if open && (task.Do == string(ferment.Bottle) || task.Do == string(ferment.Prime)) && len(offered) == 0 {
			offered = append(offered, task.Do+" by its task")
		}
	}
	return offered
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
