// Package shelf derives from a ferment's log what became of its bottles: how many were filled, opened and tasted, what
// is left and for what, their pressure, and the signs of too much of it. It plans nothing.
package shelf

import (
	"cmp"
	"maps"
	"slices"
	"strconv"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// What a bottle is reserved for. A bottle without a purpose is to be drunk.
const (
	Drink   = "drink"
	Test    = "test"
	Tasting = "tasting"
	Keep    = "keep"
)

// Shelf is what was bottled of a ferment, and what became of it.
type Shelf struct {
	Batches []Batch // in the order of filling
	Taken   []Taken // by time

	holds bool // the vessel still held some after the last bottling
}

// Batch is what was bottled on one day with one target of CO₂.
type Batch struct {
	At    time.Time
	Fizz  measure.Given[measure.Content] // CO₂ wanted; 0 for a still one
	Lines []Line
}

// Line is one kind of bottle of a batch, for one purpose.
type Line struct {
	As     ferment.Bottles // as recorded
	Filled Count
	Left   Count
	Codes  []string // codes of bottles not known to be gone

	all []string // all codes recorded
}

// Purpose returns what the bottles are reserved for.
func (l Line) Purpose() string {
	if l.As.For == "" {
		return Drink
	}
	return l.As.For
}

// Taken is an entry that opened or tasted a bottle.
type Taken struct {
	Entry   *ferment.Entry
	Batch   int    // index in Batches
	Purpose string // it was taken from this purpose; empty if no bottle was left
	Code    string // empty if it has none
	Again   bool   // the same bottle as the one before, so none was taken
}

// Of returns the shelf by a log up to now. Bottles from before a split belong to the parent.
func Of(c *course.Course) Shelf {
	var s Shelf
	for _, e := range c.Entries {
		if c.Ferment.From.Ferment != "" && !e.At.Earliest().After(c.Ferment.From.At.Latest()) {
			continue
		}
		s.enter(e)
	}
	return s
}

// enter takes one entry of the log into account.
func (s *Shelf) enter(e *ferment.Entry) {
	switch e.Did {
	case ferment.Bottle:
		s.fill(e)
	case ferment.Open, ferment.Taste:
		if len(s.Batches) > 0 && !(e.Did == ferment.Taste && e.Bottle == "" && s.holds) {
			s.take(e)
		}
	case ferment.Dump:
		s.dump(e)
	}
}

// fill adds the bottles of a bottling.
func (s *Shelf) fill(e *ferment.Entry) {
	s.holds = e.Left.Known() && e.Left.Value > 0
	for _, b := range e.Bottles {
		codes := Codes(b.Codes)
		n := Count{N: b.Count}
		if n.N == 0 {
			n = Count{N: len(codes), Unknown: len(codes) == 0}
		}
		day := e.At.Time.Format(time.DateOnly)
		i := slices.IndexFunc(s.Batches, func(o Batch) bool {
			return o.At.Format(time.DateOnly) == day && o.Fizz.Known() == b.Fizz.Known() && o.Fizz.Value == b.Fizz.Value
		})
		if i < 0 {
			i, s.Batches = len(s.Batches), append(s.Batches, Batch{At: e.At.Time, Fizz: b.Fizz})
		}
		s.Batches[i].Lines = append(s.Batches[i].Lines, Line{As: b, Filled: n, Left: n, Codes: codes, all: codes})
	}
}

// dump removes a named bottle, else what is left in the vessel, else all bottles.
func (s *Shelf) dump(e *ferment.Entry) {
	switch {
	case e.Bottle != "":
		s.take(e)
	case s.holds:
		s.holds = false
	default:
		for i := range s.Batches {
			for j := range s.Batches[i].Lines {
				l := &s.Batches[i].Lines[j]
				l.Left, l.Codes = Count{}, nil
			}
		}
	}
}

// Left returns how many bottles are left for the purposes; for none given, in all.
func (s Shelf) Left(purposes ...string) Count {
	var n Count
	for _, b := range s.Batches {
		n = n.plus(b.Left(purposes...))
	}
	return n
}

// Left returns how many bottles of the batch are left for the purposes; for none given, in all.
func (b Batch) Left(purposes ...string) Count {
	var n Count
	for _, l := range b.Lines {
		if len(purposes) == 0 || slices.Contains(purposes, l.Purpose()) {
			n = n.plus(l.Left)
		}
	}
	return n
}

// Filled returns how many bottles were filled.
func (b Batch) Filled() Count {
	var n Count
	for _, l := range b.Lines {
		n = n.plus(l.Filled)
	}
	return n
}

// Volume returns the mead in the bottles left; unknown if a count or a size is.
func (b Batch) Volume() (v measure.Volume, known bool) {
	known = true
	for _, l := range b.Lines {
		known = known && !l.Left.Unknown && (l.As.Size.Known() || l.Left.N == 0)
		v += l.As.Size.Value * measure.Volume(l.Left.N)
	}
	return v, known
}

// Still reports whether the batch was bottled without fizz.
func (b Batch) Still() bool {
	if b.Fizz.Known() {
		return b.Fizz.Value <= 0
	}
	return !slices.ContainsFunc(b.Lines, func(l Line) bool { return l.As.Honey.Known() })
}

// Made is how much mead was made in a calendar year.
type Made struct {
	Year    int
	Volume  measure.Volume
	Unknown int // ferments without a volume
}

// MadeIn returns the mead made in each year, the latest first: the volume of the musts by the day of the pitch. A must
// that was split later counts once, a must without yeast not at all.
func MadeIn(fs []ferment.Ferment) []Made {
	years := map[int]Made{}
	for _, f := range fs {
		at, made := pitched(f)
		if !made || f.From.Ferment != "" {
			continue
		}
		y := years[at.Time.Year()]
		y.Year = at.Time.Year()
		if v := course.MustVolume(f.Must); v.IsKnown() {
			y.Volume += v.Value
		} else {
			y.Unknown++
		}
		years[y.Year] = y
	}
	return slices.SortedFunc(maps.Values(years), func(a, b Made) int { return cmp.Compare(b.Year, a.Year) })
}

// pitched returns when the yeast went in: the first pitch, else the first entry if the log shows a start.
func pitched(f ferment.Ferment) (at ferment.Moment, made bool) {
	var first, yeast ferment.Moment
	for _, e := range f.Log {
		if first.IsZero() || e.At.Time.Before(first.Time) {
			first = e.At
		}
		switch e.Did {
		case ferment.Pitch:
			if yeast.IsZero() || e.At.Time.Before(yeast.Time) {
				yeast = e.At
			}
		case ferment.Started, ferment.Bottle:
			made = true
		}
	}
	if !yeast.IsZero() {
		return yeast, true
	}
	return first, made
}

// Count is a number of bottles, which may be unknown.
type Count struct {
	N       int
	Unknown bool // the number of bottles filled was not recorded
}

func (c Count) String() string {
	if c.Unknown {
		return "·"
	}
	return strconv.Itoa(c.N)
}

// Some reports whether there may be at least one.
func (c Count) Some() bool { return c.Unknown || c.N > 0 }

func (c Count) plus(d Count) Count { return Count{c.N + d.N, c.Unknown || d.Unknown} }

// DrinkBy returns until when a light mead, or one without sulphite, keeps: a year under 8 % vol, two years under 14
// (common practice, no source); not ok for one that keeps longer.
func DrinkBy(c *course.Course, b Batch) (by time.Time, ok bool) {
	_, sulphited := c.First(ferment.Sulphite)
	switch a := c.Alcohol.Value; {
	case !c.Alcohol.IsKnown() || a >= 14:
	case a < 8:
		return b.At.AddDate(1, 0, 0), true
	case !sulphited:
		return b.At.AddDate(2, 0, 0), true
	}
	return time.Time{}, false
}

// Ages are the months after bottling for tastings without a plan (common practice, no source).
var Ages = []int{1, 3, 6, 12, 18, 24}

// LeavesTooFew reports whether drinking one more bottle leaves too few for the tastings to come; false if the count is unknown.
func (b Batch) LeavesTooFew(purpose string, toCome int) bool {
	left := b.Left(Tasting, Drink)
	if left.Unknown || toCome == 0 {
		return false
	}
	switch purpose {
	case Tasting:
		return b.Left(Tasting).N <= toCome
	case Drink:
		return left.N-1 < toCome
	}
	return false
}
