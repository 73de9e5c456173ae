package export

import (
	"math"
	"time"

	"cellar/jugkeeper/ferment/measure"
)

// The page, and the frame of the curves in it.
const (
	pictureWidth, pictureHeight = 800, 450
	frameLeft, frameRight       = 70.0, 680.0
	frameTop, frameBottom       = 60.0, 400.0
)

// plot is a picture with what its frame stands for.
type plot struct {
	picture
	traces              []trace
	first, last         float64 // days at the edges
	low, high, distance float64 // gravities at the edges, and between two lines
}

func plotOf(traces []trace) *plot {
	p := &plot{traces: traces, last: 3, low: math.Inf(1), high: math.Inf(-1)}
	reach := func(g measure.Gravity) { p.low, p.high = min(p.low, float64(g)), max(p.high, float64(g)) }
	for _, t := range traces {
		for _, r := range t.readings {
			reach(r.Gravity)
			p.first, p.last = min(p.first, t.days(r.At)), max(p.last, t.days(r.At)*1.03)
		}
		for _, b := range t.band {
			reach(b.Low)
			p.last = max(p.last, t.days(b.At))
		}
		if f := t.vessel.Course.Finish; f.IsKnown() {
			reach(f.Value)
		}
	}
	p.distance = lineEvery(p.high - p.low)
	p.low = math.Floor(p.low/p.distance) * p.distance
	p.high = math.Ceil(p.high/p.distance+1e-9) * p.distance
	return p
}

// lineEvery is the distance of two lines for a span of gravity, so that there
// are at most ten.
func lineEvery(span float64) float64 {
	for _, d := range []float64{0.002, 0.005, 0.010, 0.020} {
		if span/d <= 9 {
			return d
		}
	}
	return 0.050
}

func (p *plot) alone() bool { return len(p.traces) == 1 }

func (p *plot) x(day float64) float64 {
	return frameLeft + (day-p.first)/(p.last-p.first)*(frameRight-frameLeft)
}

func (p *plot) y(g float64) float64 {
	return frameTop + (p.high-g)/(p.high-p.low)*(frameBottom-frameTop)
}

func (p *plot) at(t trace, when time.Time, g measure.Gravity) spot {
	return spot{p.x(t.days(when)), p.y(float64(g))}
}
