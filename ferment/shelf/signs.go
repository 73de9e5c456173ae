package shelf

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Opening is a bottle that was opened, and what it showed.
type Opening struct {
	At     time.Time
	Days   int // since it was filled
	Hiss   measure.Given[float64]
	Foam   measure.Given[measure.Depth]
	Palate string
}

// Openings are the bottles of a batch that were opened and told something, by
// time.
func (s Shelf) Openings(batch int) []Opening {
	var out []Opening
	for _, t := range s.Taken {
		e := t.Entry
		if t.Batch != batch || e.Did != ferment.Open || !e.Hiss.Known() && !e.Foam.Known() && e.Taste.Palate == "" {
			continue
		}
		out = append(out, Opening{e.At.Time, days(s.Batches[batch].At, e.At.Time), e.Hiss, e.Foam, e.Taste.Palate})
	}
	return out
}

// days are the midnights between two times.
func days(from, to time.Time) int {
	midnight := func(t time.Time) time.Time {
		y, m, d := t.Date()
		return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	}
	return int(midnight(to.In(from.Location())).Sub(midnight(from)) / (24 * time.Hour))
}

// Felt is how the soft bottle felt.
type Felt struct {
	At   time.Time
	Feel string // soft, firm, hard
}

// FeltLast is how the soft bottle felt last since a time.
func FeltLast(c course.Course, since time.Time) (Felt, bool) {
	for _, e := range slices.Backward(c.Entries) {
		if e.Feel != "" && !e.At.Time.Before(since) {
			return Felt{e.At.Time, e.Feel}, true
		}
	}
	return Felt{}, false
}

// The hiss over which a bottle is under too much pressure, and over which one
// that was filled still works again (common practice, no source).
const (
	hissMost  = 4
	stillHiss = 2
)

// Sign is what says that a batch is under too much pressure.
type Sign struct {
	At    time.Time
	Says  string    // "hiss 5", "a hard soft bottle"
	Chill time.Time // the whole crate went into the cold since; zero where it did not
}

// SignOf is the last opening of a batch, or the last squeeze, where it says
// that there is too much pressure.
func (s Shelf) SignOf(c course.Course, batch int) (Sign, bool) {
	var sign Sign
	b := s.Batches[batch]
	most := float64(hissMost)
	if b.Still() {
		most = stillHiss
	}
	for _, o := range s.Openings(batch) {
		if o.Hiss.Known() {
			sign = Sign{}
		}
		if o.Hiss.Known() && o.Hiss.Value > most {
			sign = Sign{At: o.At, Says: "hiss " + o.Hiss.Text}
		}
	}
	if f, felt := FeltLast(c, b.At); felt && f.Feel == "hard" && sign.At.IsZero() {
		sign = Sign{At: f.At, Says: "a hard soft bottle"}
	}
	if sign.At.IsZero() {
		return sign, false
	}
	if chill, ok := c.Last(ferment.Chill); ok && !chill.At.Time.Before(sign.At) {
		sign.Chill = chill.At.Time
	}
	return sign, true
}

// Standing is where the bottles stand, and how warm it was there last; empty
// where nobody wrote it since they were filled.
func (s Shelf) Standing(c course.Course) (place string, at measure.Given[measure.Span[measure.Temperature]]) {
	if len(s.Batches) == 0 {
		return "", at
	}
	for _, e := range c.Entries {
		if e.At.Time.Before(s.Batches[0].At) {
			continue
		}
		if e.Place != "" {
			place = e.Place
		}
		if e.Temperature.Known() && !e.Did.ApartFromCourse() {
			at = e.Temperature
		}
	}
	return place, at
}
