package course

import (
	"fmt"

	"cellar/jugkeeper/ferment/measure"
)

// lookAt is what to look at where a condition holds, in order, from this
// ferment's own record (common practice, no source).
func (c Course) lookAt(name ConditionName) []string {
	switch name {
	case SlowToStart:
		return c.list(c.tooCold(18), "stir it, so that yeast and air get about", c.sour(), "pitch again after 72 h, a wild one after 7 d")
	case Sluggish:
		return c.list(c.tooCold(18), c.unfed(), c.sour(), "stir the lees up once a day")
	case Stuck:
		return c.list(c.tooCold(18), "stir the lees up", c.sour(), c.unfed(), c.strong(), "a fresh yeast, built up and used to the alcohol")
	case AtLimit:
		return []string{"a forced test shows whether it has ended", "take it as it is, sweet: accept, with a reason", "or a yeast that bears more, built up first"}
	case Restarted:
		return []string{"no bottling: airlock on, leave it", "read gravity in three days"}
	case Film:
		return []string{"do not stir it", "smell it, read the pH", "rack it off from under the film"}
	case Mould:
		return []string{"do not taste it", "the whole of it away; boil or replace what touched it"}
	case DoubtfulLabel:
		return []string{"taste and read both; mark them anew, and leave them out of the comparison"}
	case ReadingInDoubt:
		return []string{"read once more: gas knocked out, sample stirred, the right vessel"}
	case OriginalUnknown:
		return []string{"write must.gravity, or the honey and the volume"}
	}
	return nil
}

func (c Course) list(lines ...string) []string {
	var out []string
	for _, l := range lines {
		if l != "" {
			out = append(out, l)
		}
	}
	return out
}

func (c Course) tooCold(least measure.Temperature) string {
	if !c.Temperature.IsKnown() {
		return "note its temperature: nobody has"
	}
	if t := c.Temperature.Value.Middle(); t < least {
		return fmt.Sprintf("warm it to %s: it stands at %s", least.In(c.Settings.Units), t.In(c.Settings.Units))
	}
	return ""
}

func (c Course) sour() string {
	switch {
	case !c.PH.IsKnown():
		return "read the pH: nobody has"
	case c.PH.Value < 3.1:
		return fmt.Sprintf("pH %s is low for yeast: potassium bicarbonate, 0.3 g/L", c.PH.Value)
	}
	return ""
}

func (c Course) unfed() string {
	n := c.Nitrogen
	if !n.Wanted.IsKnown() || n.Guessed > 0 || n.Given >= n.Wanted.Value*0.9 {
		return ""
	}
	return fmt.Sprintf("fed %.0f of %.0f mg/L nitrogen", n.Given.MilligramsPerLitre(), n.Wanted.Value.MilligramsPerLitre())
}

func (c Course) strong() string {
	t := c.Ferment.Yeast.Tolerance
	if !t.Known() || !c.Alcohol.IsKnown() {
		return ""
	}
	return fmt.Sprintf("it has made %.1f of the %.0f %% vol that the yeast is said to bear", float64(c.Alcohol.Value), float64(t.Value))
}
