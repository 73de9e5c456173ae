// Package shelf says what a ferment's log knows of its bottles: what was
// filled, what was opened and tasted, what is left and for what, what pressure
// it stands under, and what its signs mean. It plans nothing.
package shelf

import (
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// What a bottle can be kept for. One of which nothing is said is to be drunk.
const (
	Drink   = "drink"
	Test    = "test"
	Tasting = "tasting"
	Keep    = "keep"
)

// Shelf is what was filled of a ferment, and what became of it.
type Shelf struct {
	Batches []Batch // in the order of filling
	Taken   []Taken // by time

	holds bool // the vessel still held some after the last filling
}

// Batch is what was filled on one day with one fizz.
type Batch struct {
	At    time.Time
	Fizz  measure.Given[measure.Content] // CO₂ aimed at; 0 for a still one
	Lines []Line
}

// Line is one kind of bottle of a batch, for one purpose.
type Line struct {
	As     ferment.Bottles // as it was written
	Filled Count
	Left   Count
	Codes  []string // of those that are not known to have gone

	all []string // every code that was written
}

// Purpose is what the bottles are for.
func (l Line) Purpose() string {
	if l.As.For == "" {
		return Drink
	}
	return l.As.For
}

// Taken is an entry that opened or tasted a bottle.
type Taken struct {
	Entry   *ferment.Entry
	Batch   int    // among the batches
	Purpose string // that it was taken from; empty where none was left
	Code    string // empty where it has none
	Again   bool   // the same bottle as the one before: none was taken for it
}

// Of is what a course's log says of its bottles up to now. What a part took
// over from its parent's log stands on the parent's shelf.
func Of(c course.Course) Shelf {
	var s Shelf
	for _, e := range c.Entries {
		if c.Ferment.From.Ferment != "" && !e.At.Earliest().After(c.Ferment.From.At.Latest()) {
			continue
		}
		s.enter(e)
	}
	return s
}

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

func (s *Shelf) fill(e *ferment.Entry) {
	s.holds = e.Left.Known() && e.Left.Value > 0
	for _, b := range e.Bottles {
		codes := Codes(b.Codes)
		n := Count{N: b.Count}
		if n.N == 0 {
			n = Count{N: len(codes), Unknown: len(codes) == 0}
		}
		i := s.batch(e.At.Time, b.Fizz)
		s.Batches[i].Lines = append(s.Batches[i].Lines, Line{As: b, Filled: n, Left: n, Codes: codes, all: codes})
	}
}

// batch is the place of the batch of that day and that fizz.
func (s *Shelf) batch(at time.Time, fizz measure.Given[measure.Content]) int {
	y, m, d := at.Date()
	for i, b := range s.Batches {
		by, bm, bd := b.At.Date()
		if by == y && bm == m && bd == d && b.Fizz.Known() == fizz.Known() && b.Fizz.Value == fizz.Value {
			return i
		}
	}
	s.Batches = append(s.Batches, Batch{At: at, Fizz: fizz})
	return len(s.Batches) - 1
}

// dump pours a bottle away that is named, else what is left: in the vessel,
// and where nothing is, in the bottles.
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

// Left is how many bottles are left for any of the purposes; without one, for
// whatever.
func (s Shelf) Left(purposes ...string) Count {
	var n Count
	for _, b := range s.Batches {
		n = n.plus(b.Left(purposes...))
	}
	return n
}

// Left is how many bottles of the batch are left for any of the purposes;
// without one, for whatever.
func (b Batch) Left(purposes ...string) Count {
	var n Count
	for _, l := range b.Lines {
		if len(purposes) == 0 || has(purposes, l.Purpose()) {
			n = n.plus(l.Left)
		}
	}
	return n
}

// Filled is how many bottles were filled.
func (b Batch) Filled() Count {
	var n Count
	for _, l := range b.Lines {
		n = n.plus(l.Filled)
	}
	return n
}

// Volume is how much mead stands in the bottles that are left. It is not known
// where a count or a size is not.
func (b Batch) Volume() (v measure.Volume, known bool) {
	known = true
	for _, l := range b.Lines {
		known = known && !l.Left.Unknown && (l.As.Size.Known() || l.Left.N == 0)
		v += l.As.Size.Value * measure.Volume(l.Left.N)
	}
	return v, known
}

// Still tells whether it was filled without fizz.
func (b Batch) Still() bool {
	return b.Fizz.Known() && b.Fizz.Value <= 0 || !b.Fizz.Known() && !b.primed()
}

// primed tells whether honey went into its bottles.
func (b Batch) primed() bool {
	for _, l := range b.Lines {
		if l.As.Honey.Known() {
			return true
		}
	}
	return false
}

func has(words []string, word string) bool {
	for _, w := range words {
		if w == word {
			return true
		}
	}
	return false
}
