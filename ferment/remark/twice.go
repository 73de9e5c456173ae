package remark

import (
	"cmp"
	"math"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// byTime are the entries of a log that something holds for, in the order of
// their times.
func byTime(l log, holds func(ferment.Entry) bool) []ferment.Entry {
	var es []ferment.Entry
	for _, e := range l.entries {
		if holds(e) {
			es = append(es, e)
		}
	}
	slices.SortStableFunc(es, func(a, b ferment.Entry) int { return a.At.Time.Compare(b.At.Time) })
	return es
}

// readingsTwice are the gravities of a vessel that stand twice, with less than
// a minute between the two.
func readingsTwice(l log) []ferment.Problem {
	var found []ferment.Problem
	readings := byTime(l, func(e ferment.Entry) bool { return e.HasDensity() && !e.Did.ApartFromCourse() })
	for i, e := range readings {
		for _, before := range slices.Backward(readings[:i]) {
			if e.At.Time.Sub(before.At.Time) >= time.Minute {
				break
			}
			if sameReading(e, before) {
				found = append(found, on(l.file, e.Line, "the reading %s of %s stands on line %d too (typed twice? take one out)", typed(e), stamp(e.At), before.Line))
				break
			}
		}
	}
	return found
}

func sameReading(a, b ferment.Entry) bool {
	return a.At.DayOnly == b.At.DayOnly && a.Gravity.Value == b.Gravity.Value && a.Brix.Value == b.Brix.Value &&
		a.Plato.Value == b.Plato.Value && a.Oechsle.Value == b.Oechsle.Value && a.Refractometer.Value == b.Refractometer.Value
}

// typed is the density of an entry as it was written.
func typed(e ferment.Entry) string {
	return cmp.Or(e.Gravity.Text, e.Brix.Text, e.Plato.Text, e.Oechsle.Text, e.Refractometer.Text)
}

// doses are the acts that a dose is weighed for.
var doses = []ferment.Act{ferment.Nutrient, ferment.Buffer, ferment.Acid, ferment.Sulphite, ferment.Sorbate}

// dosesTwice are nutrient doses of one kind closer than they may stand, and
// doses of whatever kind that stand twice, the same, on one day. One that was
// given against advice is no slip.
func dosesTwice(l log, spacing time.Duration) []ferment.Problem {
	var found []ferment.Problem
	given := byTime(l, func(e ferment.Entry) bool { return slices.Contains(doses, e.Did) && e.Overrode == "" })
	for i, e := range given {
		for _, before := range slices.Backward(given[:i]) {
			if before.Did != e.Did || before.Of != e.Of {
				continue
			}
			apart := e.At.Latest().Sub(before.At.Latest())
			if e.Did == ferment.Nutrient && apart < spacing {
				found = append(found, on(l.file, e.Line, "%s of %s follows that of %s, line %d, within %s (typed twice? take one out)",
					e.Did, stamp(e.At), stamp(before.At), before.Line, measure.Decimal(spacing.Hours(), 0)+" h"))
			} else if sameAmount(e, before) && sameDay(e.At.Time, before.At.Time) {
				found = append(found, on(l.file, e.Line, "%s %s stands twice on %s, line %d is the other (typed twice? take one out)",
					e.Did, e.Amount.Text, e.At.Time.Format("2006-01-02"), before.Line))
			}
			break
		}
	}
	return found
}

func sameAmount(a, b ferment.Entry) bool {
	massA, okA := a.Mass()
	massB, okB := b.Mass()
	return okA && okB && math.Abs(massA.Grams()-massB.Grams()) < 1e-6
}

func sameDay(a, b time.Time) bool {
	return a.Format(time.DateOnly) == b.In(a.Location()).Format(time.DateOnly)
}
