package course

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// What makes a ferment stuck or sluggish (common practice, no source).
const (
	stuckFall     measure.Gravity     = 0.001
	stuckUnproved measure.Gravity     = 1.010
	stuckEarly                        = 72 * time.Hour     // above the two-thirds break
	stuckLate                         = 7 * 24 * time.Hour // below it
	stuckSurely                       = 10 * 24 * time.Hour
	sluggishPace                      = 3.0 // points a day
	sluggishOver                      = 48 * time.Hour
	sluggishAt    measure.Temperature = 18
	moves         measure.Gravity     = 0.002
	nearTolerance measure.Strength    = 1
)

// conditions returns the conditions that hold, the most urgent first, and what cannot be told yet.
func (c *Course) conditions() ([]Condition, *CannotTell) {
	var out []Condition
	add := func(k Condition, holds bool) {
		if holds {
			k.Look = c.lookAt(k.Name)
			out = append(out, k)
		}
	}
	stalled, unclear := c.stalled()
	add(Condition{Name: Mould, Why: "mould was seen"}, c.mouldSeen())
	add(Condition{Name: Film, Why: "a film was seen"}, c.filmSeen())
	add(c.restarted())
	add(stalled, stalled.Name != "")
	slow, ok, again := c.slowToStart()
	add(slow, ok)
	slack, sluggish, cannot := c.sluggish()
	add(slack, sluggish && stalled.Name == "")
	add(Condition{Name: DoubtfulLabel, Why: "the labels of these vessels may be swapped"},
		slices.ContainsFunc(c.Entries, func(e *ferment.Entry) bool { return e.Label == "doubtful" }))
	r, _ := ferment.LastWhere(c.Readings, Reading.IsMeasured)
	add(Condition{Name: ReadingInDoubt, Why: r.Doubt, Since: r.At}, r.Doubt != "")
	add(Condition{Name: OriginalUnknown, Why: c.Original.Unknown}, !c.Original.IsKnown() && c.Culture == nil && c.Pitch.Known)
	return out, cmp.Or(unclear, again, cannot)
}

// resting returns the first and last of the latest readings that are within 0.001 of each other.
func (c *Course) resting() (first, last Reading, ok bool) {
	n := 0
	for i := len(c.Readings) - 1; i >= 0; i-- {
		r := c.Readings[i]
		if !r.Trusted() || r.From == FromStart || r.From == FromMust {
			continue
		}
		if n == 0 {
			first, last, n = r, r, 1
			continue
		}
		if r.Gravity-last.Gravity > stuckFall+tiny || c.mixedBetween(r.At, last.At) {
			break
		}
		first = r
		n++
	}
	return first, last, n > 0
}

// stalled returns the condition if the ferment is stuck or at its limit, or that the readings are too close together to
// tell.
func (c *Course) stalled() (Condition, *CannotTell) {
	first, last, ok := c.resting()
	if !ok || !c.Accepted.IsZero() || c.Started.Assumed || !c.Started.Known || c.stabilisedBy(c.Now) || c.empty() || !c.aboveFinish(last.Gravity) {
		return Condition{}, nil
	}
	need := stuckEarly
	if _, tail := c.FirstMet(ferment.Condition{Kind: ferment.AtBreak, Break: ferment.BreakLimit{Of: 2, In: 3}}); tail {
		need = stuckLate
	}
	span := last.At.Sub(first.At)
	if span < need {
		if span <= 0 {
			return Condition{}, nil
		}
		again := first.At.Add(need)
		return Condition{}, &CannotTell{What: "stuck", ReadAgain: again, Why: "it hardly fell, and the readings are only " + Ago(span) + " apart"}
	}
	why := fmt.Sprintf("%.3f in %s", math.Abs(float64(first.Gravity-last.Gravity)), Ago(span))
	if c.nearItsTolerance() {
		return Condition{Name: AtLimit, Since: last.At,
			Why: fmt.Sprintf("%.1f of %.0f %% vol: it may stay sweet", float64(c.Alcohol.Value), float64(c.Ferment.Yeast.Tolerance.Value))}, nil
	}
	if need == stuckLate && span < stuckSurely {
		why += ": read once more"
	}
	return Condition{Name: Stuck, Why: why, Since: last.At}, nil
}

// aboveFinish reports whether a resting gravity is too high. A forced test decides; without one it must be over the dry
// finish by more than its uncertainty, 0.005, and that of a reading (common practice, no source).
func (c *Course) aboveFinish(g measure.Gravity) bool {
	switch {
	case c.Test.Passed:
		return false
	case c.Test.Done && c.Test.Fell >= moves-tiny:
		return true
	case c.unproved():
		return g > stuckUnproved
	}
	end := c.Finish
	if c.nearItsTolerance() {
		end = c.DryFinish // a yeast at its tolerance is at its limit, not stuck
	}
	return c.Finish.IsKnown() && g > end.Value+c.Limits.StuckAbove+tiny
}

func (c *Course) nearItsTolerance() bool {
	t := c.Ferment.Yeast.Tolerance
	return t.Known() && c.Alcohol.IsKnown() && c.Alcohol.Value >= t.Value-nearTolerance
}

// slowToStart reports whether there is no fall in the time a yeast may take, as far as the readings tell.
func (c *Course) slowToStart() (Condition, bool, *CannotTell) {
	if !c.Pitch.Known || c.Pitch.Assumed || !c.Started.Assumed || !c.Original.IsKnown() || c.empty() {
		return Condition{}, false, nil
	}
	limit := 48 * time.Hour
	if c.unproved() {
		limit = 96 * time.Hour
	}
	due := c.Pitch.At.Add(limit)
	if c.Now.Before(due) {
		return Condition{}, false, nil
	}
	if !c.Gravity.IsKnown() || c.Gravity.Value.At.Before(due) {
		return Condition{}, false, &CannotTell{What: "slow to start", ReadAgain: c.Now, Why: fmt.Sprintf("no reading later than %.0f h after the pitch", limit.Hours())}
	}
	if c.Original.Value-c.Gravity.Value.Gravity >= moves-tiny {
		return Condition{}, false, nil
	}
	return Condition{Name: SlowToStart, Why: fmt.Sprintf("no fall in %.0f h", limit.Hours()), Since: due}, true, nil
}

// sluggish reports whether it is too slow between the ⅓ and the ⅔ break although it is warm.
func (c *Course) sluggish() (Condition, bool, *CannotTell) {
	third, twoThirds := c.Break(1.0/3), c.Break(2.0/3)
	if !c.Gravity.IsKnown() || !third.IsKnown() || !twoThirds.IsKnown() || c.empty() {
		return Condition{}, false, nil
	}
	last := c.Gravity.Value
	before, ok := c.before(last, sluggishOver)
	pace := perDay(before, last)
	if last.Gravity > third.Value || last.Gravity <= twoThirds.Value || !ok || before.From == FromMust || pace >= sluggishPace-tiny {
		return Condition{}, false, nil
	}
	if !c.Temperature.IsKnown() {
		return Condition{}, false, &CannotTell{What: "sluggish", ReadAgain: c.Now, Why: "it is slow, and no temperature is recorded: note one"}
	}
	if c.Temperature.Value.Middle() < sluggishAt {
		return Condition{}, false, nil
	}
	return Condition{Name: Sluggish, Why: measure.Decimal(pace, 1) + " a day", Since: last.At}, true, nil
}

// restarted reports whether gravity fell again after it was steady or stabilised.
func (c *Course) restarted() (Condition, bool) {
	from := c.Steady.Met
	if at, ok := c.stabilised(); ok {
		from = at
	}
	if from.IsZero() || c.Steady.Open || c.empty() {
		return Condition{}, false
	}
	for _, m := range c.mixed {
		from = ferment.Later(from, m.at)
	}
	high, seen := Reading{}, false
	for _, r := range c.Readings {
		if r.Trusted() && r.From != FromMust && !r.At.Before(from) && (!seen || r.Gravity > high.Gravity) {
			high, seen = r, true
		}
	}
	if !seen || !c.Gravity.IsKnown() {
		return Condition{}, false
	}
	fall := high.Gravity - c.Gravity.Value.Gravity
	return Condition{Name: Restarted, Since: c.Gravity.Value.At, Why: fmt.Sprintf("%.4f down since %s", float64(fall), c.day(high.At))}, fall >= moves-tiny
}

// filmSeen reports whether a film was seen and is not gone by a later look.
func (c *Course) filmSeen() bool {
	e, looked := ferment.LastWhere(c.Entries, func(e *ferment.Entry) bool { return len(e.Seen) > 0 })
	return looked && e.Saw("film")
}

// mouldSeen reports whether mould was ever seen; it does not go away.
func (c *Course) mouldSeen() bool {
	return slices.ContainsFunc(c.Entries, func(e *ferment.Entry) bool { return e.Saw("mould") })
}

// Ago writes a duration: minutes under two hours, hours to two days, then days.
func Ago(d time.Duration) string {
	switch {
	case d < 2*time.Hour:
		return fmt.Sprintf("%.0f min", d.Minutes())
	case d < 96*time.Hour:
		return fmt.Sprintf("%.0f h", math.Floor(d.Hours()))
	}
	return fmt.Sprintf("%.0f d", math.Floor(d.Hours()/24))
}

// lookAt returns what to look at for a condition, in order, by this ferment's own record (common practice, no source).
func (c *Course) lookAt(name ConditionName) []string {
	switch name {
	case SlowToStart:
		return nonEmpty(c.warmthAdvice(18), "stir it, to spread yeast and air", c.acidAdvice(), "add yeast again after 72 h (7 d for a wild culture)")
	case Sluggish:
		return nonEmpty(c.warmthAdvice(18), c.nitrogenAdvice(), c.acidAdvice(), "stir the lees up once a day")
	case Stuck:
		return nonEmpty(c.warmthAdvice(18), "stir the lees up", c.acidAdvice(), c.nitrogenAdvice(), c.alcoholAdvice(), "add a fresh yeast, grown first and used to the alcohol")
	case AtLimit:
		return []string{"a forced test shows whether it has ended", "accept it as it is, sweet: write accept, with a reason", "or add a yeast of higher tolerance, grown first"}
	case Restarted:
		return []string{"do not bottle: fit the airlock, leave it", "read gravity in three days"}
	case Film:
		return []string{"do not stir it", "smell it, read the pH", "rack it off from under the film"}
	case Mould:
		return []string{"do not taste it", "throw all of it away; boil or replace what touched it"}
	case DoubtfulLabel:
		return []string{"taste and measure both, label them again, and leave them out of the comparison"}
	case ReadingInDoubt:
		return []string{"read once more: knock the gas out, stir the sample, check that it is the right vessel"}
	case OriginalUnknown:
		return []string{"write the must's gravity into its file, or the honey and the volume"}
	}
	return nil
}

func nonEmpty(lines ...string) []string {
	return slices.DeleteFunc(lines, func(l string) bool { return l == "" })
}

func (c *Course) warmthAdvice(least measure.Temperature) string {
	if !c.Temperature.IsKnown() {
		return "note its temperature: none is recorded"
	}
	if t := c.Temperature.Value.Middle(); t < least {
		return fmt.Sprintf("warm it to %s: it is at %s", least.In(c.Settings.Units), t.In(c.Settings.Units))
	}
	return ""
}

func (c *Course) acidAdvice() string {
	switch {
	case !c.PH.IsKnown():
		return "measure the pH: none is recorded"
	case c.PH.Value < 3.1:
		return fmt.Sprintf("pH %s is low for yeast: potassium bicarbonate, 0.3 g/L", c.PH.Value)
	}
	return ""
}

func (c *Course) nitrogenAdvice() string {
	n := c.Nitrogen
	if !n.Wanted.IsKnown() || n.Guessed > 0 || n.Given >= n.Wanted.Value*0.9 {
		return ""
	}
	return fmt.Sprintf("check the nutrient: %.0f of %.0f mg/L of nitrogen given", n.Given.MilligramsPerLitre(), n.Wanted.Value.MilligramsPerLitre())
}

func (c *Course) alcoholAdvice() string {
	t := c.Ferment.Yeast.Tolerance
	if !t.Known() || !c.Alcohol.IsKnown() {
		return ""
	}
	return fmt.Sprintf("check the yeast: it has made %.1f of the %.0f %% vol that it is said to reach", float64(c.Alcohol.Value), float64(t.Value))
}
