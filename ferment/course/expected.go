package course

import (
	"time"

	"cellar/jugkeeper/ferment/measure"
)

// Reaches is when the gravity is expected to come down to g: by the forecast
// where one was made and may give a date, else from the pace of the last
// readings; never earlier than the last of them. Only between the
// start and the finish is anything expected, and no further than three weeks:
// a straight line says little of a tail. Its width is a quarter of the way,
// at least four hours (common practice, no source).
func (c Course) Reaches(g measure.Gravity) (Expected, bool) {
	if !c.Gravity.IsKnown() || !c.Pace.IsKnown() || c.Started.Assumed || !c.Started.Known || c.Stage == Bottled {
		return Expected{}, false
	}
	now := c.Gravity.Value
	if now.Gravity <= g || c.Pace.Value < slowest || c.Finish.IsKnown() && g < c.Finish.Value {
		return Expected{}, false
	}
	if c.Ahead != nil {
		if e, ok := c.Ahead(g); ok {
			return e, true
		}
	}
	days := float64(now.Gravity-g) * 1000 / c.Pace.Value
	if days > 21 {
		return Expected{}, false
	}
	way := time.Duration(days * 24 * float64(time.Hour))
	return Expected{At: now.At.Add(way).Round(time.Minute), Within: max(4*time.Hour, (way / 4).Round(time.Hour))}, true
}

// slowest is the pace in points a day under which nothing is expected.
const slowest = 0.3
