package lineage

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Passage is one medium of a culture, and how it went.
type Passage struct {
	Entry   *ferment.Entry
	Until   time.Time // the next passage, or now
	Seen    []string  // without repeats, in the order of the log
	Smell   string    // the latest
	Fell    bool      // its gravity fell, by more than the error of a reading
	Outcome Outcome
}

// Outcome is the result of a passage.
type Outcome string

// The outcomes.
const (
	Passed  Outcome = "passed"
	Failed  Outcome = "failed"
	Idle    Outcome = "idle"    // no activity for as long as it may take
	Untold  Outcome = "untold"  // it went on without a recorded reason
	Working Outcome = "working" // still going on
)

// Passages returns the media of a culture, oldest first, including its proof.
func Passages(c *course.Course) []Passage {
	var out []Passage
	for _, e := range c.Entries {
		if n := len(out); n > 0 {
			out[n-1].note(e) // including what was seen when it was moved on
		}
		if !isMedium(e) {
			continue
		}
		if n := len(out); n > 0 {
			out[n-1].Until = e.At.Time
		}
		out = append(out, Passage{Entry: e, Until: c.Now})
	}
	for i := range out {
		out[i].Fell = fell(c, out[i])
		out[i].Outcome = out[i].outcome(i+1 < len(out))
	}
	return out
}

// note adds what an entry says was seen and smelt.
func (p *Passage) note(e *ferment.Entry) {
	p.Seen, p.Smell = withNew(p.Seen, e.Seen), cmp.Or(e.Smell, p.Smell)
}

// withNew returns words with those of more that are not among them.
func withNew(words, more []string) []string {
	return append(words, ferment.Where(more, func(w string) bool { return !slices.Contains(words, w) })...)
}

func isMedium(e *ferment.Entry) bool { return e.Did == ferment.Passage || e.Did == ferment.Prove }

// outcome is passed with gas and sediment, or a fall of gravity, and a clean smell; failed with mould or a bad smell;
// idle after 14 days without gas and sediment (common practice, no source).
func (p Passage) outcome(wentOn bool) Outcome {
	saw := func(word string) bool { return slices.Contains(p.Seen, word) }
	works, grows := saw("gas") || p.Fell, saw("sediment") || p.Fell
	switch {
	case saw("mould"), p.SmellsBad():
		return Failed
	case works && grows && p.SmellsClean():
		return Passed
	case wentOn:
		return Untold
	case !works && !grows && p.Until.Sub(p.Entry.At.Time) >= 14*24*time.Hour:
		return Idle
	}
	return Working
}

// fell reports whether a medium's gravity fell, from its start or its first reading.
func fell(c *course.Course, p Passage) bool {
	rs := readingsAfter(c, p.Entry.At.Time.Add(-1), p.Until.Add(1))
	low := lowest(rs)
	return low.IsKnown() && rs[0].Gravity-low.Value.Gravity >= fall-1e-9
}

// SmellsClean reports whether the latest recorded smell is a clean one.
func (p Passage) SmellsClean() bool { return strings.EqualFold(p.Smell, "clean") }

// SmellsBad reports whether the latest recorded smell is a bad one.
func (p Passage) SmellsBad() bool { return strings.EqualFold(p.Smell, "bad") }

// Proof is how far a culture fermented the must that tested it.
type Proof struct {
	Entry    *ferment.Entry
	Start    course.Figure[measure.Gravity]
	Lowest   course.Figure[course.Reading]
	Alcohol  course.Figure[measure.Strength] // reached
	Steady   bool                            // the last two readings, at least three days apart, differ by at most a reading's error
	Followed time.Duration                   // from the proof to the lowest reading
}

// ProofOf returns the last proof of a culture. It has ended if the last two readings, at least three days apart, differ
// by at most 0.001 (common practice, no source).
func ProofOf(c *course.Course) (Proof, bool) {
	e, proved := c.Last(ferment.Prove)
	if !proved {
		return Proof{}, false
	}
	p := Proof{Entry: e, Start: course.Unknown[measure.Gravity]("the gravity of its must is not written")}
	if r, read := c.ReadingOf(e); read {
		p.Start = course.Known(r.Gravity)
	}
	end := time.Time{} // when it got another medium
	if next, is := ferment.FirstWhere(c.Entries, func(n *ferment.Entry) bool {
		return (isMedium(n) || n.Did == ferment.Starter) && n.At.Time.After(e.At.Time)
	}); is {
		end = next.At.Time
	}
	rs := readingsAfter(c, e.At.Time, end)
	p.Lowest = lowest(rs)
	p.Alcohol = reached(p.Start, p.Lowest, e.Alcohol)
	if p.Lowest.IsKnown() {
		p.Followed = p.Lowest.Value.At.Sub(e.At.Time)
	}
	if n := len(rs); n > 1 {
		p.Steady = rs[n-1].At.Sub(rs[n-2].At) >= 3*24*time.Hour && rs[n-2].Gravity-rs[n-1].Gravity <= 0.001+1e-9
	}
	return p, true
}

// Halved reports whether the gravity fell at least half of the way to that of water.
func (p Proof) Halved() bool {
	return p.Start.IsKnown() && p.Lowest.IsKnown() && p.Lowest.Value.Gravity.Points() <= p.Start.Value.Points()/2
}

// reached returns the alcohol by a fall of gravity, added to that of the medium at the start.
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

// readingsAfter returns the gravities between two times that are not in doubt; a zero end is open.
func readingsAfter(c *course.Course, from, to time.Time) []course.Reading {
	return ferment.Where(c.Readings, func(r course.Reading) bool {
		return r.IsMeasured() && r.Trusted() && r.At.After(from) && (to.IsZero() || r.At.Before(to))
	})
}

func lowest(rs []course.Reading) course.Figure[course.Reading] {
	if len(rs) == 0 {
		return course.Unknown[course.Reading]("gravity not read since")
	}
	low := rs[0]
	for _, r := range rs {
		if r.Gravity <= low.Gravity {
			low = r
		}
	}
	return course.Known(low)
}
