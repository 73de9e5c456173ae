package lineage

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Made is what a ferment that was pitched with a culture made of it.
type Made struct {
	Course  course.Course
	Lag     course.Figure[time.Duration] // from the pitch to the start that was seen
	AtMost  bool                         // nobody saw the start: the lag ends no later than the first reading that shows one
	Lowest  course.Figure[course.Reading]
	Alcohol course.Figure[measure.Strength]
	Faults  []string  // named at tastings, each once
	Second  time.Time // another yeast went in: what it did is not the culture's; zero where none did
}

// MadeBy is what ferments made of a culture, in their order.
func MadeBy(id string, courses []course.Course) []Made {
	var out []Made
	for _, c := range courses {
		if c.Ferment.Yeast.Culture == id && id != "" {
			out = append(out, madeOf(c))
		}
	}
	return out
}

func madeOf(c course.Course) Made {
	m := Made{Course: c, Second: secondYeast(c)}
	m.Lag, m.AtMost = lagOf(c)
	m.Lowest = lowest(readingsAfter(c, c.Pitch.At, m.Second))
	m.Alcohol = c.Alcohol
	if !m.Second.IsZero() {
		m.Alcohol = reached(c.Effective, m.Lowest, measure.Given[measure.Strength]{})
	}
	if !m.Lowest.IsKnown() {
		m.Alcohol = course.Unknown[measure.Strength](m.Lowest.Unknown)
	}
	for _, e := range c.Entries {
		for _, fault := range e.Taste.Faults {
			if !slices.Contains(m.Faults, fault) {
				m.Faults = append(m.Faults, fault)
			}
		}
	}
	return m
}

// fall is how far a gravity falls where something works in it.
const fall = 0.003

// lagOf is the lag by the start that was written down, else at most by the first
// reading that shows one. A start between two readings is never taken for seen.
func lagOf(c course.Course) (lag course.Figure[time.Duration], atMost bool) {
	switch {
	case !c.Pitch.Known:
		return course.Unknown[time.Duration]("it is not pitched"), false
	case c.Pitch.Assumed:
		return course.Unknown[time.Duration]("nobody wrote when it was pitched"), false
	}
	if e, seen := c.First(ferment.Started); seen {
		return course.Known(max(e.At.Time.Sub(c.Pitch.At), 0)), false
	}
	for _, r := range readingsAfter(c, c.Pitch.At, time.Time{}) {
		if c.Original.IsKnown() && c.Original.Value-r.Gravity >= fall-1e-9 {
			return course.Known(r.At.Sub(c.Pitch.At)), true
		}
	}
	return course.Unknown[time.Duration]("no start is seen or read"), false
}

// secondYeast is when another yeast went in after the culture.
func secondYeast(c course.Course) time.Time {
	n := 0
	for _, e := range c.Entries {
		if e.Did == ferment.Pitch {
			if n++; n == 2 {
				return e.At.Time
			}
		}
	}
	return time.Time{}
}
