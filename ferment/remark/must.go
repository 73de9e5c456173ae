package remark

import (
	"cmp"
	"math"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
)

// unlikelyMust returns a must whose gravity is more than 0.004 from that of its honey
// (common practice, no source). With fruit the masses do not say it.
func unlikelyMust(f ferment.Ferment, c course.Course) []ferment.Problem {
	o, units := c.Original, c.Settings.Units
	if o.Source != course.Measured || !o.Masses.IsKnown() || len(f.Must.Fruit) > 0 || math.Abs(float64(o.Value-o.Masses.Value)) <= 0.004+tiny {
		return nil
	}
	in := ""
	if f.Must.Volume.Known() {
		in = " in " + measure.AsTyped(f.Must.Volume, units)
	}
	return []ferment.Problem{on(f.File, f.Lines["must"], "the must was read at %s, and its honey%s comes to %s: a slip in the gravity, the honey or the volume?",
		o.Value.Places(3), in, o.Masses.Value.Places(3))}
}

func beforeHarvest(accounts []larder.Account) []ferment.Problem {
	var found []ferment.Problem
	for _, a := range accounts {
		for _, t := range a.Takes {
			if !a.Lot.Taken.IsZero() && !t.At.IsZero() && t.At.Before(a.Lot.Taken.Earliest()) {
				found = append(found, on(honeyFile, a.Lot.Line, "lot %q was taken on %s, and %s has honey of it from %s: which date is wrong?",
					a.Lot.ID, a.Lot.Taken.Time.Format(time.DateOnly), cmp.Or(t.By, t.Words), t.At.Format(time.DateOnly)))
			}
		}
	}
	return found
}
