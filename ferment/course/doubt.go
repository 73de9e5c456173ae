package course

import (
	"fmt"
	"math"
	"strings"
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
// reading carried through everything that went in since. A confirmed rise takes
// the place of the older readings under it: honey that had not dissolved.
func (c Course) trust(rs []Reading) []Reading {
	// Each reading is compared with the last trusted one, carried through what
	// went in since. One that is too high waits as doubted; if the next agrees
	// with it, both are trusted and what lies under them is replaced. A person's
	// own question mark is a doubt that nothing but a second reading lifts.
	last, doubted := -1, -1
	for i := range rs {
		r := &rs[i]
		if r.From == FromStart {
			continue // it bounds the lag and nothing else
		}
		seconded := doubted > last && r.Doubt == "" && !rs[doubted].uncorrected && confirms(rs[doubted], *r)
		rise, high := 0.0, false
		if last >= 0 {
			rise, high = c.higher(rs[last], *r)
		}
		if high && !seconded && doubted > last && r.Doubt == "" && strings.HasPrefix(rs[doubted].Doubt, rose) {
			seconded = onALine(rs[doubted], *r)
		}
		switch {
		case r.Doubt != "":
			doubted = i
			continue
		case seconded:
			rs[doubted].Doubt = ""
		case high && !r.confirmed:
			r.Doubt = fmt.Sprintf(rose+"%.4f", rise)
			doubted = i
			continue
		}
		if high {
			c.replaceUnder(rs[:i], *r)
		}
		last = i
	}
	return rs
}

// replaceUnder marks the readings before a confirmed rise that stand under it,
// back to the last thing that went in.
func (c Course) replaceUnder(before []Reading, r Reading) {
	for j := len(before) - 1; j >= 0; j-- {
		b := &before[j]
		if c.mixedBetween(b.At, r.At) {
			return
		}
		b.Replaced = b.Replaced || b.Doubt == "" && b.Gravity < r.Gravity-confirmWithin-tiny
	}
}

// rose is how the doubt begins about a reading that is too high.
const rose = "rose by "

// steepest is how fast a jug ferments at most, in gravity a day (common practice,
// no source).
const steepest = 0.030

// onALine tells whether two readings that are both too high go on as a ferment
// does: the second is lower, and no further than it can have fallen. Then the
// one reading under both was the slip.
func onALine(first, second Reading) bool {
	fall, days := float64(first.Gravity-second.Gravity), second.At.Sub(first.At).Hours()/24
	return days <= 4 && fall >= -confirmWithin-tiny && fall <= steepest*math.Max(days, 1.0/24)+tiny
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
