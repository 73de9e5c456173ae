package course

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// steadiest simulates ferments that fall by so many points a fortnight, read once a week with a repeatability of 0.0005
// on a scale of 0.001, and returns the share whose gate has opened by each reading.
func steadiest(points float64, readings int) []float64 {
	const times = 600
	draw := rand.New(rand.NewPCG(14, 10))
	opened := make([]float64, readings+1)
	for range times {
		gravity, at, first := 1.000+draw.Float64()/1000, pitchedAt.AddDate(0, 0, 40), 0
		f := ferment.Ferment{Must: ferment.Must{Gravity: measure.Give(measure.Gravity(1.100), "1.100")}, Log: []ferment.Entry{{Did: ferment.Pitch, At: ferment.At(pitchedAt)}}}
		for n := 1; n <= readings && first == 0; n++ {
			read := math.Round((gravity+draw.NormFloat64()*0.0005)*1000) / 1000
			f.Log = append(f.Log, ferment.Entry{At: ferment.At(at), Order: n, Line: n, Gravity: measure.Give(measure.Gravity(read), fmt.Sprintf("%.3f", read)),
				Temperature: measure.Give(measure.Span[measure.Temperature]{Low: 18, High: 18}, "18C")})
			if Of(f, ferment.DefaultSettings(time.UTC), ferment.DefaultLimits(), at).Steady.Open {
				first = n
			}
			gravity, at = gravity-points/2000, at.AddDate(0, 0, 7)
		}
		for n := first; n <= readings && first > 0; n++ {
			opened[n] += 1.0 / times
		}
	}
	return opened
}

// TestSteadyBySimulation: a steady mead opens the gate by the fourth reading in at least 80 of 100, one that falls a
// point a fortnight in at most 20, one that falls two in at most 2. The guide has these shares.
func TestSteadyBySimulation(t *testing.T) {
	for points, guide := range map[float64][4]float64{0: {26, 81, 97, 100}, 0.5: {9, 48, 66, 76}, 1: {2, 14, 20, 23}, 2: {0, 0, 0, 0}} {
		opened := steadiest(points, 8)
		for i, n := range []int{3, 4, 6, 8} {
			assert.InDelta(t, guide[i], 100*opened[n], 4, "%g points a fortnight, by reading %d", points, n)
		}
		switch points {
		case 0:
			assert.GreaterOrEqual(t, opened[4], 0.80)
		case 1:
			assert.LessOrEqual(t, opened[4], 0.20)
		case 2:
			assert.LessOrEqual(t, opened[8], 0.02)
		}
	}
}

// logged is the log of a sensor that reads four times a day to half a point, of a ferment that falls to 0.998 with a
// time constant of so many days.
func logged(days int, constant float64) ferment.Ferment {
	draw := rand.New(rand.NewPCG(14, 10))
	f := ferment.Ferment{Must: ferment.Must{Gravity: measure.Give(measure.Gravity(1.084), "1.084")}, Log: []ferment.Entry{{Did: ferment.Pitch, At: ferment.At(pitchedAt)}}}
	for n := 1; n <= 4*days; n++ {
		read := math.Round((0.998+0.086*math.Exp(-float64(n)/4/constant)+draw.NormFloat64()*0.0004)*2000) / 2000
		f.Log = append(f.Log, ferment.Entry{At: ferment.At(pitchedAt.Add(time.Duration(n) * 6 * time.Hour)), Order: n, Line: n, Gravity: measure.Give(measure.Gravity(read), fmt.Sprintf("%.4f", read)),
			Temperature: measure.Give(measure.Span[measure.Temperature]{Low: 18, High: 18}, "18C")})
	}
	return f
}

// The gate opens at the first entry at which it is open, as a look at every entry in full says.
func TestSteadyMetIsTheFirstOpenEntry(t *testing.T) {
	for _, constant := range []float64{3, 9, 30, 90} {
		c := Of(logged(80, constant), ferment.DefaultSettings(time.UTC), ferment.DefaultLimits(), pitchedAt.AddDate(0, 0, 90))
		var first time.Time
		for n, e := range c.Entries {
			known := len(ferment.Where(c.Readings, func(r Reading) bool { return !r.At.After(e.At.Time) }))
			if n > 0 && first.IsZero() && c.steadyAt(e.At.Time, known, c.steadyDays(), c.Limits.SteadyTemperature).Open {
				first = e.At.Time
			}
		}
		assert.Equal(t, first, c.Steady.Met, "%g days", constant)
		assert.Equal(t, constant < 9, !first.IsZero(), "%g days: the case is as it should be", constant)
	}
}

// A long log of a sensor that is not steady costs no words for each of its entries.
func TestCourseOfALongLogTakesFewAllocations(t *testing.T) {
	f := logged(200, 90)
	assert.Less(t, testing.AllocsPerRun(1, func() {
		Of(f, ferment.DefaultSettings(time.UTC), ferment.DefaultLimits(), pitchedAt.AddDate(0, 0, 201))
	}), float64(len(f.Log)), "fewer than one an entry")
}
