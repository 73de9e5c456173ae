package larder

import (
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
)

// spoonShare is how much of what a spoon or a cup holds is uncertain (common
// practice, no source).
const spoonShare = 0.25

// weighed is a take with its mass, where there is one, and the last digit that
// it was written with.
func (t Take) weighed(mass measure.Mass, digit float64, known bool) Take {
	t.Known = known
	if known {
		t.Mass, t.Within = mass, measure.Mass(digit/2)
	}
	return t
}

// takesOf is what a ferment took of a lot: into its must, later into the
// vessel, and into its bottles. The must of a part was weighed in its parent.
func takesOf(f ferment.Ferment, lot ferment.Lot, fs []ferment.Ferment) []Take {
	var takes []Take
	for _, h := range f.Must.Honey {
		if h.Lot == lot.ID && !isPart(f, fs) {
			t := Take{At: mixedAt(f), By: f.ID, Past: f.Past, For: ForMust}
			takes = append(takes, t.weighed(h.Mass.Value, measure.LastDigit(h.Mass.Text), h.Mass.Known()))
		}
	}
	stabilised := time.Time{}
	for _, e := range f.Log {
		if e.Did == ferment.Sorbate && (stabilised.IsZero() || e.At.Time.Before(stabilised)) {
			stabilised = e.At.Time
		}
	}
	for _, e := range f.Log {
		if e.Lot != lot.ID {
			continue
		}
		t := Take{At: e.At.Time, By: f.ID, Past: f.Past, For: purposeOf(e, stabilised), Line: e.Line}
		if e.Did == ferment.Bottle {
			if honeyed(e) && !primedFrom(f, lot.ID, e.At.Time) {
				takes = append(takes, bottled(t, e)...)
			}
			continue
		}
		takes = append(takes, amounted(t, e, lot))
	}
	return takes
}

func isPart(f ferment.Ferment, fs []ferment.Ferment) bool {
	for _, parent := range fs {
		if f.From.Ferment == parent.ID && parent.ID != f.ID {
			return true
		}
	}
	return false
}

// mixedAt is when a must was made: mixed, else pitched, else when its log
// begins.
func mixedAt(f ferment.Ferment) time.Time {
	for _, act := range []ferment.Act{ferment.Mix, ferment.Pitch} {
		for _, e := range f.Log {
			if e.Did == act {
				return e.At.Time
			}
		}
	}
	first := time.Time{}
	for _, e := range f.Log {
		if first.IsZero() || e.At.Time.Before(first) {
			first = e.At.Time
		}
	}
	return first
}

// purposeOf is what honey of an entry was for. What goes in once the vessel is
// stabilised sweetens it.
func purposeOf(e ferment.Entry, stabilised time.Time) Purpose {
	switch {
	case e.Did == ferment.Prime:
		return ForPriming
	case e.Did == ferment.Bottle:
		return ForBottles
	case !stabilised.IsZero() && e.At.Time.After(stabilised):
		return ForSweetening
	case e.Did == ferment.Mix:
		return ForMust
	}
	return ForFeeding
}

// amounted is a take with the amount of its entry; what was measured by volume
// is weighed by the density of the honey.
func amounted(t Take, e ferment.Entry, lot ferment.Lot) Take {
	digit := measure.LastDigit(e.Amount.Text)
	if mass, ok := e.Mass(); ok {
		return t.weighed(mass, digit, true)
	}
	volume, ok := e.Amount.Volume()
	if !ok || e.Amount.Unknown {
		return t
	}
	density, err := honey.Density(e.Water.Or(WaterOf(lot).Or(honey.Typical)))
	if err != nil {
		density, _ = honey.Density(honey.Typical)
	}
	perLitre := float64(density) / 1000
	t = t.weighed(measure.Mass(float64(volume)*perLitre), digit*perLitre, true)
	if e.Amount.Spoon() {
		t.Spoon, t.Within = true, t.Mass*spoonShare
	}
	return t
}

// bottled is the honey in each bottle times the bottles.
func bottled(t Take, e ferment.Entry) []Take {
	var takes []Take
	for _, b := range e.Bottles {
		if b.Honey.Known() {
			n := float64(b.Count)
			takes = append(takes, t.weighed(b.Honey.Value*measure.Mass(n), n*measure.LastDigit(b.Honey.Text), true))
		}
	}
	return takes
}

func honeyed(e ferment.Entry) bool {
	for _, b := range e.Bottles {
		if b.Honey.Known() {
			return true
		}
	}
	return false
}

// primedWithin is how long before the bottles are filled their honey may have
// been weighed for the whole batch.
const primedWithin = 24 * time.Hour

// primedFrom tells whether the honey in the bottles was written down for the
// whole batch already.
func primedFrom(f ferment.Ferment, lot string, bottled time.Time) bool {
	for _, e := range f.Log {
		before := bottled.Sub(e.At.Time)
		if e.Did == ferment.Prime && e.Lot == lot && e.Amount.Given() && before >= 0 && before <= primedWithin {
			return true
		}
	}
	return false
}
