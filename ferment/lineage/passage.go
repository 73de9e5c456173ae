package lineage

import (
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

// Passage is one medium that a culture went through, and what came of it.
type Passage struct {
	Entry   *ferment.Entry
	Until   time.Time // the next passage, or now
	Seen    []string  // each word once, in the order of the log
	Smell   string    // the latest
	Fell    bool      // its gravity did, by more than a reading errs
	Outcome Outcome
}

// Outcome is what came of a passage.
type Outcome string

// The outcomes. A passage that is under way has none yet.
const (
	Passed  Outcome = "passed"
	Failed  Outcome = "failed"
	Idle    Outcome = "idle"    // nothing moved in it for as long as it may take
	Untold  Outcome = "untold"  // it went on, and the record does not say why
	Working Outcome = "working" // under way
)

// idleAfter is how long a medium may stand without gas and sediment (common
// practice, no source).
const idleAfter = 14 * 24 * time.Hour

// Passages are the media that a culture went through, the first one first; its
// proof in a must is one of them.
func Passages(c course.Course) []Passage {
	var out []Passage
	for _, e := range c.Entries {
		if n := len(out); n > 0 {
			out[n-1].note(e) // also what was seen when it was moved on
		}
		if e.Did != ferment.Passage && e.Did != ferment.Prove {
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

// note takes over what an entry saw and smelt.
func (p *Passage) note(e *ferment.Entry) {
	for _, s := range e.Seen {
		if !slices.Contains(p.Seen, s) {
			p.Seen = append(p.Seen, s)
		}
	}
	if e.Smell != "" {
		p.Smell = e.Smell
	}
}

// outcome passes what showed gas and sediment, or a fall of its gravity, and a
// clean smell; it fails mould and a bad smell (common practice, no source).
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
	case !works && !grows && p.Until.Sub(p.Entry.At.Time) >= idleAfter:
		return Idle
	}
	return Working
}

// fell tells whether the gravity of a medium did fall, from where it began or
// from the first reading of it.
func fell(c course.Course, p Passage) bool {
	rs := readingsAfter(c, p.Entry.At.Time.Add(-1), p.Until.Add(1))
	low := lowest(rs)
	return low.IsKnown() && rs[0].Gravity-low.Value.Gravity >= fall-1e-9
}

// SmellsClean tells whether the latest smell that was written is a clean one.
func (p Passage) SmellsClean() bool { return strings.EqualFold(p.Smell, "clean") }

// SmellsBad tells whether it is a bad one.
func (p Passage) SmellsBad() bool { return strings.EqualFold(p.Smell, "bad") }
