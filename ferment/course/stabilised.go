package course

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// stabilised is when the ferment was stabilised: a sulphite and a sorbate with
// amounts, both after it was steady, at most two days apart, and no yeast
// pitched since.
func (c Course) stabilised() (time.Time, bool) { return c.stabilisedUpTo(c.Now, c.Steady.Met) }

func (c Course) stabilisedBy(at time.Time) bool {
	_, ok := c.stabilisedUpTo(at, c.Steady.Met)
	return ok
}

func (c Course) stabilisedUpTo(at, steady time.Time) (time.Time, bool) {
	var sulphite, sorbate, both time.Time
	if steady.IsZero() {
		return both, false
	}
	for _, e := range c.Entries {
		if e.At.Time.After(at) {
			break
		}
		switch {
		case e.Did == ferment.Pitch:
			sulphite, sorbate, both = time.Time{}, time.Time{}, time.Time{}
		case e.At.Time.Before(steady) || !e.Amount.Known():
		case e.Did == ferment.Sulphite:
			sulphite = e.At.Time
		case e.Did == ferment.Sorbate:
			sorbate = e.At.Time
		}
		if both.IsZero() && !sulphite.IsZero() && !sorbate.IsZero() && sulphite.Sub(sorbate).Abs() <= 48*time.Hour {
			both = later(sulphite, sorbate)
		}
	}
	return both, !both.IsZero()
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}
