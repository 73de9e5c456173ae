package forecast_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/forecast"
)

// Some constants of the bands were tuned on these series: the weight of few readings, the spread of the dry end and of
// a reading. The rates and lags, the weights of the ends and the verdicts were not.
var cuts = []struct {
	name string
	of   func(points int) int
}{
	{"two readings", func(int) int { return 2 }},
	{"three readings", func(int) int { return 3 }},
	{"a third", func(n int) int { return (n + 2) / 3 }},
	{"half", func(n int) int { return (n + 1) / 2 }},
}

// band is a range of gravities.
type band struct{ low, high float64 }

// score returns the interval score at 90 %: the width, plus twenty times the miss. Lower is better (Gneiting and
// Raftery 2007).
func (b band) score(v float64) float64 {
	return b.high - b.low + 20*max(0, b.low-v, v-b.high)
}

func (b band) holds(v float64) bool { return b.low <= v && v <= b.high }

// empty returns the band of the whole possible range.
func empty(c *course.Course) band {
	return band{float64(c.DryFinish.Value) - 0.0065, float64(c.Gravity.Value.Gravity) + 0.002}
}

func bandAt(f forecast.Forecast, day float64) band {
	p := f.At(dayAt(day))
	return band{float64(p.Low), float64(p.High)}
}

func TestBandBeatsAConstantOne(t *testing.T) {
	for _, cut := range cuts {
		var ours, theirs float64
		for _, r := range realRuns(t) {
			n := cut.of(len(r.points))
			c := r.after(n)
			f := forecast.Of(c)
			for i := n; i <= r.done(); i++ {
				ours += bandAt(f, r.points[i].day).score(r.points[i].gravity)
				theirs += empty(c).score(r.points[i].gravity)
			}
		}
		assert.Less(t, ours, theirs, cut.name)
	}
}

func TestBandContainsNineInTenReadings(t *testing.T) {
	held, series := 0.0, 0.0
	for _, cut := range cuts {
		atCut, seriesAtCut := 0.0, 0.0
		for _, r := range realRuns(t) {
			n, in := cut.of(len(r.points)), 0.0
			f := forecast.Of(r.after(n))
			for i := n; i <= r.done(); i++ {
				if bandAt(f, r.points[i].day).holds(r.points[i].gravity) {
					in++
				}
			}
			if later := float64(r.done() - n + 1); later > 0 {
				atCut += in / later
				seriesAtCut++
			}
		}
		assert.Greater(t, atCut/seriesAtCut, 0.80, cut.name)
		held, series = held+atCut, series+seriesAtCut
	}
	assert.Greater(t, held/series, 0.80)
	assert.Less(t, held/series, 0.97, "a band that holds everything is too wide")
}

func TestDryFinishersGetADateAndMostAreRight(t *testing.T) {
	ending, dated, right := 0, 0, 0
	for _, r := range realRuns(t) {
		n := (len(r.points) + 1) / 2
		f := forecast.Of(r.after(n))
		ending++
		if f.Done.At.IsZero() {
			continue
		}
		dated++
		if at := dayAt(r.doneOn()); !at.Before(f.Done.Early) && !at.After(f.Done.Late) {
			right++
		}
	}
	assert.GreaterOrEqual(t, float64(dated)/float64(ending), 0.60, "dated %d of %d", dated, ending)
	assert.GreaterOrEqual(t, float64(right)/float64(dated), 0.80, "right %d of %d", right, dated)
	t.Logf("dated %d of %d, right %d", dated, ending, right)
}
