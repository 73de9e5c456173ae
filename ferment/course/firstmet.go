package course

import (
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// FirstMet is when a condition was first met, up to now. A break, once met,
// stays met by the breaks as they stood then.
func (c Course) FirstMet(cond ferment.Condition) (time.Time, bool) {
	switch cond.Kind {
	case ferment.AtBreak:
		fraction := cond.Break.Fraction()
		return c.crossed(func(at time.Time) (measure.Gravity, bool) {
			g := c.breakAt(fraction, at)
			return g.Value, g.IsKnown()
		})
	case ferment.Below:
		return c.crossed(constant(measure.Gravity(cond.Number)))
	case ferment.Above:
		return c.firstReadingThat(func(r Reading) bool { return float64(r.Gravity) > cond.Number })
	case ferment.NearFinish:
		return c.nearFinish()
	case ferment.Dry:
		if !c.DryFinish.IsKnown() {
			return time.Time{}, false
		}
		return c.crossed(constant(c.DryFinish.Value + dryWithin))
	case ferment.Steady:
		return c.Steady.Met, !c.Steady.Met.IsZero()
	case ferment.Stabilised:
		return c.stabilised()
	case ferment.HasStarted:
		return c.Started.At, c.Started.Known && !c.Started.Assumed && !c.Started.At.After(c.Now)
	case ferment.Stuck, ferment.Sluggish, ferment.Restarted:
		return c.conditionSince(ConditionName(cond.Kind))
	}
	return c.firstEntryThat(cond)
}

// nearWithin is how near the expected finish is near, dryWithin how near the
// dry finish is dry (common practice, no source).
const (
	nearWithin measure.Gravity = 0.010
	dryWithin  measure.Gravity = 0.002
)

// nearFinish is when the gravity came near the expected finish. Of an unproved
// culture nobody knows that: steady stands for it.
func (c Course) nearFinish() (time.Time, bool) {
	if c.unproved() {
		return c.Steady.Met, !c.Steady.Met.IsZero()
	}
	if !c.Finish.IsKnown() {
		return time.Time{}, false
	}
	return c.crossed(constant(c.Finish.Value + nearWithin))
}

func (c Course) firstReadingThat(is func(Reading) bool) (time.Time, bool) {
	for _, r := range c.Readings {
		if r.trusted() && r.From != FromMust && is(r) {
			return r.At, true
		}
	}
	return time.Time{}, false
}

func (c Course) conditionSince(name ConditionName) (time.Time, bool) {
	for _, k := range c.Conditions {
		if k.Name == name {
			return k.Since, true
		}
	}
	return time.Time{}, false
}

// firstEntryThat is the first entry by which a condition of the log's words
// held.
func (c Course) firstEntryThat(cond ferment.Condition) (time.Time, bool) {
	for _, e := range c.Entries {
		if holds, known := entryHolds(e, cond); known && holds {
			return e.At.Time, true
		}
	}
	return time.Time{}, false
}
