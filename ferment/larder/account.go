// Package larder is about the honey in store: what of a lot went where, what is
// left of it and how sure that is, how wet it is, which lot presses, and what
// it still makes.
package larder

import (
	"math"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/honey"
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

// Overdrawn reports whether more was taken than there was, beyond what the scale's error explains.
func (l Left) Overdrawn() bool { return l.Weighed && l.Mass < -l.Within-measure.Grams(0.5) }

// Gone reports whether nothing is left.
func (l Left) Gone() bool { return l.Weighed && l.Mass < measure.Grams(0.5) }

// Of returns the account of a lot, from its file and from the ferments, open and
// closed, each as its own file has it. What is later than now is left out.
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
	a.Left = Left{Mass: lot.Mass.Value, Weighed: lot.Mass.Known()}
	squares := math.Pow(measure.LastDigit(lot.Mass.Text)/2, 2) // as which uncertainties add
	for _, t := range a.Takes {
		if t.Known {
			a.Left.Mass -= t.Mass
			squares += math.Pow(float64(t.Within), 2)
		} else {
			a.Left.Blind++
		}
	}
	a.Left.Within = measure.Mass(math.Sqrt(squares))
	return a
}

// All returns the accounts of several lots, in their order.
func All(lots []ferment.Lot, fs []ferment.Ferment, now time.Time) []Account {
	out := make([]Account, len(lots))
	for i, l := range lots {
		out[i] = Of(l, fs, now)
	}
	return out
}

// Taken returns how much was taken, as far as anybody weighed it.
func (a Account) Taken() (sum measure.Mass) {
	for _, t := range a.Takes {
		sum += t.Mass
	}
	return sum
}

// spoonShare is how much of a spoon or a cup is uncertain (common practice, no source).
const spoonShare = 0.25

// weighed returns a take with its mass, if any, and the last digit it was written with.
func (t Take) weighed(mass measure.Mass, digit float64, known bool) Take {
	t.Known = known
	if known {
		t.Mass, t.Within = mass, measure.Mass(digit/2)
	}
	return t
}

// takesOf returns what a ferment took of a lot: into its must, later into the
// vessel, and into its bottles. The must of a part was weighed in its parent.
func takesOf(f ferment.Ferment, lot ferment.Lot, fs []ferment.Ferment) []Take {
	var takes []Take
	part := slices.ContainsFunc(fs, func(other ferment.Ferment) bool { return f.From.Ferment == other.ID && other.ID != f.ID })
	for _, h := range f.Must.Honey {
		if h.Lot == lot.ID && !part {
			t := Take{At: mixedAt(f), By: f.ID, Past: f.Past, For: ForMust}
			takes = append(takes, t.weighed(h.Mass.Value, measure.LastDigit(h.Mass.Text), h.Mass.Known()))
		}
	}
	stabilised := time.Time{}
	for _, e := range f.Log {
		if e.Did == ferment.Sorbate && (stabilised.IsZero() || e.At.Time.Before(stabilised)) {
			stabilised = e.At.Time
		}
	}
	for _, e := range f.Log {
		if e.Lot != lot.ID {
			continue
		}
		t := Take{At: e.At.Time, By: f.ID, Past: f.Past, For: purposeOf(e, stabilised), Line: e.Line}
		if e.Did == ferment.Bottle {
			if !primedFrom(f, lot.ID, e.At.Time) {
				takes = append(takes, bottled(t, e)...)
			}
			continue
		}
		takes = append(takes, amounted(t, e, lot))
	}
	return takes
}

// mixedAt returns when a must was made: mixed, else pitched, else when its log begins.
func mixedAt(f ferment.Ferment) time.Time {
	for _, act := range []ferment.Act{ferment.Mix, ferment.Pitch} {
		for _, e := range f.Log {
			if e.Did == act {
				return e.At.Time
			}
		}
	}
	if len(f.Log) == 0 {
		return time.Time{}
	}
	return slices.MinFunc(f.Log, func(a, b ferment.Entry) int { return a.At.Time.Compare(b.At.Time) }).At.Time
}

// purposeOf returns what honey was for; once the vessel is stabilised it sweetens.
func purposeOf(e ferment.Entry, stabilised time.Time) Purpose {
	switch {
	case e.Did == ferment.Prime:
		return ForPriming
	case e.Did == ferment.Bottle:
		return ForBottles
	case !stabilised.IsZero() && e.At.Time.After(stabilised):
		return ForSweetening
	case e.Did == ferment.Mix:
		return ForMust
	}
	return ForFeeding
}

// amounted returns a take with its entry's amount, a volume weighed by the honey's density.
func amounted(t Take, e ferment.Entry, lot ferment.Lot) Take {
	digit := measure.LastDigit(e.Amount.Text)
	if mass, ok := e.Mass(); ok {
		return t.weighed(mass, digit, true)
	}
	volume, ok := e.Amount.Volume()
	if !ok || e.Amount.Unknown {
		return t
	}
	density, err := honey.Density(e.Water.Or(WaterOf(lot).Or(honey.Typical)))
	if err != nil {
		density, _ = honey.Density(honey.Typical)
	}
	perLitre := float64(density) / 1000
	t = t.weighed(measure.Mass(float64(volume)*perLitre), digit*perLitre, true)
	if e.Amount.Spoon() {
		t.Spoon, t.Within = true, t.Mass*spoonShare
	}
	return t
}

// bottled returns the honey in each bottle times the bottles.
func bottled(t Take, e ferment.Entry) []Take {
	var takes []Take
	for _, b := range e.Bottles {
		if b.Honey.Known() {
			n := float64(b.Count)
			takes = append(takes, t.weighed(b.Honey.Value*measure.Mass(n), n*measure.LastDigit(b.Honey.Text), true))
		}
	}
	return takes
}

// primedWithin is how long before bottling the honey of the whole batch may be weighed.
const primedWithin = 24 * time.Hour

// primedFrom reports whether the honey in the bottles is written down for the batch already.
func primedFrom(f ferment.Ferment, lot string, bottled time.Time) bool {
	for _, e := range f.Log {
		before := bottled.Sub(e.At.Time)
		if e.Did == ferment.Prime && e.Lot == lot && e.Amount.Given() && before >= 0 && before <= primedWithin {
			return true
		}
	}
	return false
}
