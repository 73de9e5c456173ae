package course

import (
	"time"
)

// apart is how far two readings must lie apart to tell a pace (common
// practice, no source).
const apart = 20 * time.Hour

// pace is how many points a day the gravity fell between the latest reading
// and the last one at least 20 hours before it.
func (c Course) pace() (Figure[float64], time.Time) {
	if !c.Gravity.IsKnown() {
		return Unknown[float64]("no reading yet"), time.Time{}
	}
	last := c.Gravity.Value
	before, ok := c.before(last, apart)
	if !ok {
		return Unknown[float64]("two readings at least 20 hours apart are wanted"), time.Time{}
	}
	return Known(perDay(before, last)), before.At
}

// before is the latest trusted reading at least so long before another, with
// nothing mixed in between.
func (c Course) before(last Reading, least time.Duration) (Reading, bool) {
	for i := len(c.Readings) - 1; i >= 0; i-- {
		r := c.Readings[i]
		if !r.trusted() || r.From == FromStart || last.At.Sub(r.At) < least {
			continue
		}
		return r, !c.mixedBetween(r.At, last.At)
	}
	return Reading{}, false
}

func (c Course) mixedBetween(from, to time.Time) bool {
	for _, m := range c.mixed {
		if m.at.After(from) && !m.at.After(to) {
			return true
		}
	}
	return false
}

// perDay is the fall between two readings in points a day.
func perDay(a, b Reading) float64 {
	days := b.At.Sub(a.At).Hours() / 24
	if days <= 0 {
		return 0
	}
	return float64(a.Gravity-b.Gravity) * 1000 / days
}
