package course

import (
	"fmt"
	"math"
	"time"

	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/measure"
)

// What makes a reading doubtful, and what confirms it: gravity only falls, so
// one that is higher than expected wants a second reading (common practice,
// no source).
const (
	doubtRise     = 0.003
	confirmWithin = 0.002
	confirmIn     = 48 * time.Hour
)

// trust marks the readings that may fire nothing. Expected is the last trusted
// reading carried through everything that went in since.
func (c Course) trust(rs []Reading) []Reading {
	last, doubted := -1, -1
	for i := range rs {
		r := &rs[i]
		if r.Doubt != "" {
			continue
		}
		rise, high := 0.0, false
		if last >= 0 {
			rise, high = c.higher(rs[last], *r)
		}
		switch {
		case !high:
		case r.confirmed, doubted > last && confirms(rs[doubted], *r):
			for j := last; j < i; j++ {
				rs[j].Replaced = rs[j].Replaced || j == last || rs[j].Doubt == ""
			}
			if doubted > last {
				rs[doubted].Doubt, rs[doubted].Replaced = "", false
			}
		default:
			r.Doubt = fmt.Sprintf("rose by %.3f", rise)
			doubted = i
			continue
		}
		last = i
	}
	return rs
}

// confirms tells whether a second reading stands by a doubtful one.
func confirms(doubtful, second Reading) bool {
	return math.Abs(float64(second.Gravity-doubtful.Gravity)) <= confirmWithin+tiny && second.At.Sub(doubtful.At) <= confirmIn
}

// higher tells whether a reading stands above what is expected after the one
// before it, and by how much. Where nobody knows how much went in between,
// nothing is expected.
func (c Course) higher(before, r Reading) (rise float64, high bool) {
	expected, ok := c.carried(before, r.At)
	if !ok {
		return 0, false
	}
	rise = float64(r.Gravity) - float64(expected)
	limit := math.Max(doubtRise, 2*math.Hypot(before.Error, r.Error))
	return rise, rise > limit+tiny
}

// carried is a reading carried through the honey, water, fruit and blends
// since. It is not ok where an amount of them is unknown.
func (c Course) carried(r Reading, to time.Time) (measure.Gravity, bool) {
	g := r.Gravity
	for _, m := range c.mixed {
		if m.at.Before(r.At) || m.at.After(to) {
			continue
		}
		if !m.known {
			return 0, false
		}
		var err error
		if g, err = alcohol.Effective(g, m.before, m.solids, m.after); err != nil {
			return 0, false
		}
	}
	return g, true
}

// doubtfulNow tells whether the latest reading is in doubt.
func (c Course) doubtfulNow() (Reading, bool) {
	for i := len(c.Readings) - 1; i >= 0; i-- {
		r := c.Readings[i]
		if r.From == FromMust || r.From == FromStart {
			continue
		}
		return r, r.Doubt != ""
	}
	return Reading{}, false
}
