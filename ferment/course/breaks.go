package course

import (
	"time"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// Break is the gravity at which a share of the expected fall is done, by the
// original as the honey fed since has made it. For an unproved culture the
// fall is that to the dry finish.
func (c Course) Break(fraction float64) Figure[measure.Gravity] {
	return c.breakAt(fraction, c.Now)
}

func (c Course) breakAt(fraction float64, at time.Time) Figure[measure.Gravity] {
	original, finish := c.Effective, c.foreseen
	if c.unproved() {
		finish = c.DryFinish
	}
	if len(c.mixed) > 0 && at.Before(c.Now) {
		past := c
		past.Effective = c.effectiveAt(at)
		past.finishes()
		original, finish = past.Effective, past.foreseen
		if c.unproved() {
			finish = past.DryFinish
		}
	}
	switch {
	case !original.IsKnown():
		return Unknown[measure.Gravity](original.Unknown)
	case !finish.IsKnown():
		return Unknown[measure.Gravity](finish.Unknown)
	}
	g, err := gravity.Break(original.Value, finish.Value, fraction)
	if err != nil {
		return Unknown[measure.Gravity](err.Error())
	}
	f := Known(g)
	if c.unproved() {
		f.Assumed = "counted to the dry finish: the culture is not proved"
	}
	return f
}

// target is a gravity that may move with time.
type target func(at time.Time) (measure.Gravity, bool)

func constant(g measure.Gravity) target {
	return func(time.Time) (measure.Gravity, bool) { return g, true }
}

// crossed is when the trusted readings first came down to a target, linear
// between two of them. Readings and targets compare to four places.
func (c Course) crossed(to target) (time.Time, bool) {
	var before *Reading
	for i := range c.Readings {
		r := &c.Readings[i]
		if !r.trusted() {
			continue
		}
		g, ok := to(r.At)
		if !ok {
			before = r
			continue
		}
		if r.Gravity.Rounded(4) > g.Rounded(4)+tiny {
			before = r
			continue
		}
		if before == nil || before.Gravity <= g {
			return r.At, true
		}
		share := float64((before.Gravity - g) / (before.Gravity - r.Gravity))
		return before.At.Add(time.Duration(min(1, share) * float64(r.At.Sub(before.At)))).Truncate(time.Second), true
	}
	return time.Time{}, false
}
