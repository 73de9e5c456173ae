package lineage

import (
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Proof is how far a culture went in the must that it was proved in: so far and
// no further is known of it.
type Proof struct {
	Entry    *ferment.Entry
	Start    course.Figure[measure.Gravity]
	Lowest   course.Figure[course.Reading]
	Alcohol  course.Figure[measure.Strength] // reached
	Stands   bool                            // the last two readings, three days apart, differ by no more than one reads
	Followed time.Duration                   // from the proof to the lowest reading
}

// What two readings of a proof that has come to its end differ by, and how far
// they lie apart (common practice, no source).
const (
	standsWithin = 0.001
	standsApart  = 3 * 24 * time.Hour
)

// ProofOf is the last proof of a culture.
func ProofOf(c course.Course) (Proof, bool) {
	e, proved := c.Last(ferment.Prove)
	if !proved {
		return Proof{}, false
	}
	p := Proof{Entry: e, Start: course.Unknown[measure.Gravity]("the gravity of its must is not written")}
	if r, read := c.ReadingOf(e); read {
		p.Start = course.Known(r.Gravity)
	}
	rs := readingsAfter(c, e.At.Time, nextMedium(c, e.At.Time))
	p.Lowest = lowest(rs)
	p.Alcohol = reached(p.Start, p.Lowest, e.Alcohol)
	if p.Lowest.IsKnown() {
		p.Followed = p.Lowest.Value.At.Sub(e.At.Time)
	}
	if n := len(rs); n > 1 {
		p.Stands = rs[n-1].At.Sub(rs[n-2].At) >= standsApart && rs[n-2].Gravity-rs[n-1].Gravity <= standsWithin+1e-9
	}
	return p, true
}

// Halved tells whether the gravity came half of the way to that of water.
func (p Proof) Halved() bool {
	return p.Start.IsKnown() && p.Lowest.IsKnown() && p.Lowest.Value.Gravity.Points() <= p.Start.Value.Points()/2
}

// reached is the alcohol of a fall, with what the medium had from the
// beginning.
func reached(start course.Figure[measure.Gravity], low course.Figure[course.Reading], had measure.Given[measure.Strength]) course.Figure[measure.Strength] {
	switch {
	case !start.IsKnown():
		return course.Unknown[measure.Strength](start.Unknown)
	case !low.IsKnown():
		return course.Unknown[measure.Strength](low.Unknown)
	}
	a, err := alcohol.FromGravities(start.Value, low.Value.Gravity)
	if err != nil {
		return course.Unknown[measure.Strength](err.Error())
	}
	return course.Known(a + had.Value)
}

// nextMedium is when a culture was moved on after a time, zero where it was not.
func nextMedium(c course.Course, after time.Time) time.Time {
	for _, e := range c.Entries {
		if (e.Did == ferment.Passage || e.Did == ferment.Prove || e.Did == ferment.Starter) && e.At.Time.After(after) {
			return e.At.Time
		}
	}
	return time.Time{}
}

// readingsAfter are the gravities that were read after a time and before
// another, zero for none; those in doubt are left out.
func readingsAfter(c course.Course, from, to time.Time) []course.Reading {
	var out []course.Reading
	for _, r := range c.Readings {
		measured := r.From == course.Hydrometer || r.From == course.Refractometer
		if measured && r.Doubt == "" && !r.Replaced && r.At.After(from) && (to.IsZero() || r.At.Before(to)) {
			out = append(out, r)
		}
	}
	return out
}

func lowest(rs []course.Reading) course.Figure[course.Reading] {
	if len(rs) == 0 {
		return course.Unknown[course.Reading]("nobody read its gravity since")
	}
	low := rs[0]
	for _, r := range rs {
		if r.Gravity <= low.Gravity {
			low = r
		}
	}
	return course.Known(low)
}
