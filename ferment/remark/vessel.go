package remark

import (
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// overBrimful are the places where a vessel is said to hold more than it can:
// the must, a volume of an entry, what the log comes to at a moment.
func overBrimful(f ferment.Ferment, s ferment.Settings, now time.Time) []ferment.Problem {
	var found []ferment.Problem
	holds := f.Vessel.Brimful
	over := func(line int, v measure.Given[measure.Volume]) {
		if holds.Known() && v.Value > holds.Value {
			found = append(found, on(f.File, line, "%s is more than the vessel holds, %s to the brim (mend the one that is wrong)", v.Text, holds.Text))
		}
	}
	over(f.Lines["must"], f.Must.Volume)
	for _, e := range byTime(log{f.File, f.Log}, func(ferment.Entry) bool { return true }) {
		if e.To.Brimful.Known() {
			holds = e.To.Brimful
		}
		if !e.Did.ApartFromCourse() {
			over(e.Line, e.Volume)
		}
	}
	in := course.Of(f, s, s.Limits, now).Volume
	if len(found) == 0 && in.IsKnown() && holds.Known() && in.Value > holds.Value+tiny {
		found = append(found, on(f.File, f.Lines["vessel"], "by its log %s are in the vessel, which holds %s to the brim (an amount or a volume is wrong)",
			in.Value.In(s.Units), holds.Text))
	}
	return found
}

// tiny is less than any volume is measured to.
const tiny = 1e-6
