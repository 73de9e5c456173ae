package course

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// FallsFrom is where the present fall begins: at the must, or since something
// went in, yeast was pitched again or a steady ferment went on, at the last
// reading before it carried through what went in. What nobody knows the amount
// of makes it the first reading after.
func (c Course) FallsFrom() (Reading, bool) {
	// freshened gives the last time the fall began anew. From there on the first
	// trusted reading ends the search: the one before it, carried through what went
	// in, is where the fall begins, or it itself where that cannot be carried.
	from, fresh := c.freshened()
	var before *Reading
	for i := range c.Readings {
		r := &c.Readings[i]
		switch {
		case !r.trusted() || r.From == FromStart:
		case !fresh && r.From == FromMust:
			return *r, true
		case !r.At.After(from):
			before = r
		case fresh:
			if begin, ok := c.carriedFrom(before, from); ok {
				return begin, true
			}
			return *r, true
		}
	}
	return c.carriedFrom(before, from)
}

// carriedFrom is a reading as it would be at a time, with what went in since.
func (c Course) carriedFrom(before *Reading, to time.Time) (Reading, bool) {
	if before == nil {
		return Reading{}, false
	}
	g, ok := c.carried(*before, to)
	r := *before
	r.At, r.Moment, r.Gravity = to, ferment.At(to), g
	return r, ok
}

// freshened is when the fall last began anew, if it did.
func (c Course) freshened() (time.Time, bool) {
	from := c.Pitch.At
	for _, m := range c.mixed {
		from = later(from, m.at)
	}
	for _, e := range c.Entries {
		if e.Did == ferment.Pitch {
			from = later(from, e.At.Time)
		}
	}
	if _, again := c.restarted(); again {
		from = later(from, c.lastSteady())
	}
	return from, from.After(c.Pitch.At)
}

// lastSteady is when the gravity last stood within what counts as steady,
// before the latest reading.
func (c Course) lastSteady() time.Time {
	if !c.Gravity.IsKnown() {
		return time.Time{}
	}
	last := c.Gravity.Value
	for i := len(c.Readings) - 1; i >= 0; i-- {
		if r := c.Readings[i]; r.trusted() && r.Gravity-last.Gravity >= moves-tiny {
			return r.At
		}
	}
	return time.Time{}
}
