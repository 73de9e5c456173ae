package course

import (
	"fmt"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/measure"
)

// finishes works out where it will end. Of an unproved culture no finish is
// shown: nobody knows what it can do.
func (c *Course) finishes() {
	defer func() { c.foreseen = c.Finish }()
	if !c.Effective.IsKnown() {
		c.DryFinish = Unknown[measure.Gravity](c.Effective.Unknown)
		c.Finish, c.FinishAlcohol = c.DryFinish, Unknown[measure.Strength](c.Effective.Unknown)
		return
	}
	end, err := alcohol.FinishOf(c.Effective.Value, c.Ferment.Yeast.Tolerance, c.fermentable())
	if err != nil {
		c.DryFinish = Unknown[measure.Gravity](err.Error())
		c.Finish, c.FinishAlcohol = c.DryFinish, Unknown[measure.Strength](err.Error())
		return
	}
	c.DryFinish = Known(end.Dry)
	if c.unproved() {
		const why = "a wild culture: where it ends is not proved"
		c.Finish, c.FinishAlcohol = Unknown[measure.Gravity](why), Unknown[measure.Strength](why)
		return
	}
	c.Finish, c.FinishAlcohol, c.AtTolerance = Known(end.Gravity), Known(end.Alcohol), end.AtTolerance
	c.Finish.Assumed = fmt.Sprintf("%.0f %% of the solids ferment", float64(c.fermentable()))
	if end.AtTolerance {
		c.Finish.Assumed = "the yeast stops at its tolerance, " + c.Ferment.Yeast.Tolerance.Value.String()
	}
}

// fermentable is the share of the solids that yeast can take: the must's, else
// that of the limits.
func (c *Course) fermentable() measure.Share {
	return c.Ferment.Must.Fermentable.Or(c.Limits.Fermentable)
}

// proveFinish makes a forced test that has passed the finish: nothing is left in
// it that a yeast can take, whatever the must let expect.
func (c *Course) proveFinish() {
	if !c.Test.Passed {
		return
	}
	c.Finish, c.AtTolerance = Known(min(c.Gravity.Value.Gravity, c.Test.Result.Gravity)), false
	c.Finish.Assumed = "a forced test ended here"
	if c.Effective.IsKnown() {
		if a, err := alcohol.FromGravities(c.Effective.Value, c.Finish.Value); err == nil {
			c.FinishAlcohol = Known(a + c.brought)
		}
	}
}

// acceptedAfter is how many days of rest let a person take a finish as it is
// without a test (common practice, no source).
const acceptedAfter = 90

// acceptFinish makes the gravity the finish where a person took it as it is,
// after a forced test that passed or ninety days of rest. What went in since, or
// a fall, takes that back.
func (c *Course) acceptFinish() {
	e, ok := c.Last(ferment.Accept)
	if !ok || !c.Gravity.IsKnown() || c.disturbedBy(c.Now).After(e.At.Time) || !c.MayAccept(e.At.Time) {
		return
	}
	var at Reading
	for _, r := range c.Readings {
		if r.trusted() && r.From != FromStart && !r.At.After(e.At.Time) {
			at = r
		}
	}
	if at.Gravity-c.Gravity.Value.Gravity >= moves-tiny {
		return
	}
	c.Accepted = e.At.Time
	if !c.Test.Passed {
		c.Finish, c.AtTolerance = Known(c.Gravity.Value.Gravity), false
		c.Finish.Assumed = "taken as it is on " + c.day(e.At.Time)
		c.FinishAlcohol = c.Alcohol
	}
}

// MayAccept tells whether a finish may be taken as it is at a time: a forced test
// had passed by then, or it had rested for ninety days.
func (c Course) MayAccept(at time.Time) bool {
	if c.Test.Passed && !c.Test.Result.At.After(at) {
		return true
	}
	n := 0
	for n < len(c.Readings) && !c.Readings[n].At.After(at) {
		n++
	}
	l := c.level(n, at, longestRun)
	if len(l.readings) < steadyReadings || c.span(l) < acceptedAfter {
		return false
	}
	fall, err := l.fall()
	return fall+sureAt*err <= c.steadyFall(at)
}

// unproved tells whether nobody knows how far the yeast goes.
func (c Course) unproved() bool { return c.Ferment.Yeast.IsWild() }

// latest finds what was measured last.
func (c *Course) latest() {
	c.Gravity = Unknown[Reading]("no reading yet")
	for i := len(c.Readings) - 1; i >= 0; i-- {
		if r := c.Readings[i]; r.trusted() && r.From != FromStart {
			c.Gravity = Known(r)
			break
		}
	}
	c.Temperature = Unknown[measure.Span[measure.Temperature]]("no temperature recorded")
	c.PH = Unknown[measure.PH]("no pH recorded")
	for _, e := range c.Entries {
		if e.Did.ApartFromCourse() {
			continue
		}
		if e.Temperature.Known() {
			c.Temperature, c.TemperatureAt = Known(e.Temperature.Value), e.At.Time
		}
		if e.PH.Known() {
			c.PH, c.PHAt = Known(e.PH.Value), e.At.Time
		}
	}
	if !c.PH.IsKnown() && c.Ferment.Must.PH.Known() {
		c.PH, c.PHAt = Known(c.Ferment.Must.PH.Value), c.Pitch.At
	}
}

// strength works out the alcohol there is and the share of the fall that is
// behind.
func (c *Course) strength() {
	c.Alcohol, c.SugarGone = Unknown[measure.Strength]("no reading yet"), Unknown[float64]("no reading yet")
	if !c.Gravity.IsKnown() {
		return
	}
	if !c.Effective.IsKnown() {
		c.Alcohol, c.SugarGone = Unknown[measure.Strength](c.Effective.Unknown), Unknown[float64](c.Effective.Unknown)
		return
	}
	now := c.Gravity.Value.Gravity
	a, err := alcohol.FromGravities(c.Effective.Value, now)
	if err != nil {
		c.Alcohol = Unknown[measure.Strength](err.Error())
	} else {
		c.Alcohol = Known(a + c.brought)
		if doubt, by := c.guessed(); by != "" {
			c.Alcohol.Assumed = fmt.Sprintf("%s: ±%s", by, doubt)
		}
	}
	if end := c.DryFinish; end.IsKnown() && end.Value < c.Effective.Value {
		gone := float64((c.Effective.Value - now) / (c.Effective.Value - end.Value))
		c.SugarGone = Known(max(0, min(1, gone)))
	}
}
