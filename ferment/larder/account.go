// Package larder is about the honey in store: what of a lot went where, what is
// left of it and how sure that is, how wet it is, which lot presses, and what
// it still makes.
package larder

import (
	"math"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// Account is a lot with all that was taken of it.
type Account struct {
	Lot   ferment.Lot
	Takes []Take // by time, what has none first
	Left  Left
	Water Water
	Age   time.Duration // since it was taken off; 0 where nobody wrote that down
}

// Take is honey that was taken of a lot.
type Take struct {
	At     time.Time // zero where nobody wrote it down
	By     string    // the ferment's id; empty where it went elsewhere
	Past   bool      // the ferment is closed
	For    Purpose
	Words  string       // of what went elsewhere: what for
	Mass   measure.Mass // 0 where nobody weighed it
	Within measure.Mass // half of the last digit that was written
	Known  bool
	Spoon  bool // by spoon or cup, so that a quarter of it is uncertain
	Line   int
}

// Purpose is what honey was taken for.
type Purpose string

// The purposes.
const (
	ForMust       Purpose = "must"
	ForFeeding    Purpose = "feeding"
	ForSweetening Purpose = "sweetening"
	ForPriming    Purpose = "priming"
	ForBottles    Purpose = "bottles"
	Elsewhere     Purpose = "elsewhere"
)

// Left is what is left of a lot.
type Left struct {
	Mass    measure.Mass
	Within  measure.Mass // of what was weighed
	Weighed bool         // somebody weighed the lot itself
	Blind   int          // takes of unknown mass: there is that much less
}

// Overdrawn tells whether more was taken than was there, and not only because
// the scale is coarse.
func (l Left) Overdrawn() bool { return l.Weighed && l.Mass < -l.Within-measure.Grams(0.5) }

// Gone tells whether nothing is left.
func (l Left) Gone() bool { return l.Weighed && l.Mass < measure.Grams(0.5) }

// Of is the account of a lot, from its file and from the ferments, open and
// closed, each as its own file has it. What lies later than now is left out.
func Of(lot ferment.Lot, fs []ferment.Ferment, now time.Time) Account {
	a := Account{Lot: lot, Water: WaterOf(lot)}
	if !lot.Taken.IsZero() && now.After(lot.Taken.Time) {
		a.Age = now.Sub(lot.Taken.Time)
	}
	for _, f := range fs {
		a.Takes = append(a.Takes, takesOf(f, lot, fs)...)
	}
	for _, u := range lot.Used {
		t := Take{At: u.At.Time, For: Elsewhere, Words: u.For}
		a.Takes = append(a.Takes, t.weighed(u.Mass.Value, measure.LastDigit(u.Mass.Text), u.Mass.Known()))
	}
	a.Takes = slices.DeleteFunc(a.Takes, func(t Take) bool { return t.At.After(now) })
	slices.SortStableFunc(a.Takes, func(x, y Take) int { return x.At.Compare(y.At) })
	a.Left = leftOf(lot, a.Takes)
	return a
}

// All are the accounts of several lots, in their order.
func All(lots []ferment.Lot, fs []ferment.Ferment, now time.Time) []Account {
	out := make([]Account, len(lots))
	for i, l := range lots {
		out[i] = Of(l, fs, now)
	}
	return out
}

// leftOf takes off what was taken. Uncertainties add as squares do.
func leftOf(lot ferment.Lot, takes []Take) Left {
	l := Left{Mass: lot.Mass.Value, Weighed: lot.Mass.Known()}
	squares := square(measure.Mass(measure.LastDigit(lot.Mass.Text) / 2))
	for _, t := range takes {
		if !t.Known {
			l.Blind++
			continue
		}
		l.Mass -= t.Mass
		squares += square(t.Within)
	}
	l.Within = measure.Mass(math.Sqrt(squares))
	return l
}

func square(m measure.Mass) float64 { return float64(m) * float64(m) }

// Taken is how much was taken, as far as anybody weighed it.
func (a Account) Taken() (sum measure.Mass) {
	for _, t := range a.Takes {
		sum += t.Mass
	}
	return sum
}
