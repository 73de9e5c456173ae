// Package larder keeps account of the honey in store: where the honey of a lot went, how much is left and how certain
// that is, how much water it has, which lot to use first, and what must it still makes.
package larder

import (
	"math"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
)

// Account is a lot with everything that was taken from it.
type Account struct {
	Lot   ferment.Lot
	Takes []Take // by time; takes without a time first
	Left  Left
	Water Water
	Age   time.Duration // since the harvest; 0 if unknown
}

// Take is honey taken from a lot.
type Take struct {
	At     time.Time // zero if unknown
	By     string    // the ferment's id; empty if it was not used in one
	Past   bool      // the ferment is closed
	For    Purpose
	Words  string       // what it was used for elsewhere
	Mass   measure.Mass // 0 if unknown
	Within measure.Mass // half of the last written digit
	Known  bool
	Spoon  bool // measured by spoon or cup, so that a quarter of it is uncertain
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
	Mass      measure.Mass
	Within    measure.Mass // uncertainty from what was weighed
	Weighed   bool         // the lot itself was weighed
	Unweighed int          // takes of unknown mass, not subtracted from Mass
}

// Overdrawn reports whether more was taken than there was, by more than the scale's uncertainty.
func (l Left) Overdrawn() bool { return l.Weighed && l.Mass < -l.Within-measure.Grams(0.5) }

// Gone reports whether nothing is left.
func (l Left) Gone() bool { return l.Weighed && l.Mass < measure.Grams(0.5) }

// Of returns the account of a lot by its file and by the ferments, open and closed, each
// with only its own log. Entries later than now are ignored.
func Of(lot ferment.Lot, fs []ferment.Ferment, now time.Time) Account {
	a := Account{Lot: lot, Water: WaterOf(lot)}
	if !lot.Taken.IsZero() && now.After(lot.Taken.Time) {
		a.Age = now.Sub(lot.Taken.Time)
	}
	a.Takes = ferment.Flat(fs, func(f ferment.Ferment) []Take { return takesOf(f, lot, fs) })
	for _, u := range lot.Used {
		t := Take{At: u.At.Time, For: Elsewhere, Words: u.For}
		a.Takes = append(a.Takes, t.withMass(u.Mass.Value, measure.LastDigit(u.Mass.Text), u.Mass.Known()))
	}
	a.Takes = slices.DeleteFunc(a.Takes, func(t Take) bool { return t.At.After(now) })
	slices.SortStableFunc(a.Takes, func(x, y Take) int { return x.At.Compare(y.At) })
	a.Left = Left{Mass: lot.Mass.Value, Weighed: lot.Mass.Known()}
	squares := math.Pow(measure.LastDigit(lot.Mass.Text)/2, 2) // independent uncertainties add as squares
	for _, t := range a.Takes {
		if t.Known {
			a.Left.Mass -= t.Mass
			squares += math.Pow(float64(t.Within), 2)
		} else {
			a.Left.Unweighed++
		}
	}
	a.Left.Within = measure.Mass(math.Sqrt(squares))
	return a
}

// All returns the accounts of several lots, in their order.
func All(lots []ferment.Lot, fs []ferment.Ferment, now time.Time) []Account {
	return ferment.Map(lots, func(l ferment.Lot) Account { return Of(l, fs, now) })
}

// Taken returns the sum of the takes of known mass.
func (a Account) Taken() (sum measure.Mass) {
	for _, t := range a.Takes {
		sum += t.Mass
	}
	return sum
}

// spoonShare is the uncertain share of a measure by spoon or cup (common practice, no source).
const spoonShare = 0.25

// withMass returns the take with its mass, if that is known; digit is the value of its last written digit.
func (t Take) withMass(mass measure.Mass, digit float64, known bool) Take {
	t.Known = known
	if known {
		t.Mass, t.Within = mass, measure.Mass(digit/2)
	}
	return t
}

// takesOf returns what a ferment took from a lot: for its must, later for the vessel, and
// for its bottles. The must of a ferment that was racked off another counts for that one.
func takesOf(f ferment.Ferment, lot ferment.Lot, fs []ferment.Ferment) []Take {
	var takes []Take
	part := slices.ContainsFunc(fs, func(other ferment.Ferment) bool { return f.From.Ferment == other.ID && other.ID != f.ID })
	for _, h := range f.Must.Honey {
		if h.Lot == lot.ID && !part {
			t := Take{At: mixedAt(f), By: f.ID, Past: f.Past, For: ForMust}
			takes = append(takes, t.withMass(h.Mass.Value, measure.LastDigit(h.Mass.Text), h.Mass.Known()))
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
				takes = append(takes, perBottle(t, e)...)
			}
			continue
		}
		takes = append(takes, withAmount(t, e, lot))
	}
	return takes
}

// mixedAt returns when a must was made: when it was mixed, else pitched, else the first entry of its log.
func mixedAt(f ferment.Ferment) time.Time {
	for _, act := range []ferment.Act{ferment.Mix, ferment.Pitch} {
		if e, is := ferment.FirstWhere(f.Log, func(e ferment.Entry) bool { return e.Did == act }); is {
			return e.At.Time
		}
	}
	if len(f.Log) == 0 {
		return time.Time{}
	}
	return slices.MinFunc(f.Log, func(a, b ferment.Entry) int { return a.At.Time.Compare(b.At.Time) }).At.Time
}

// purposeOf returns what the honey of an entry was for. Honey added after the sorbate sweetens.
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

// withAmount returns the take with the amount of its entry; a volume is converted by the density of the honey.
func withAmount(t Take, e ferment.Entry, lot ferment.Lot) Take {
	digit := measure.LastDigit(e.Amount.Text)
	if mass, ok := e.Mass(); ok {
		return t.withMass(mass, digit, true)
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
	t = t.withMass(measure.Mass(float64(volume)*perLitre), digit*perLitre, true)
	if e.Amount.Spoon() {
		t.Spoon, t.Within = true, t.Mass*spoonShare
	}
	return t
}

// perBottle returns a take for each row of bottles: the honey for each bottle, times the bottles.
func perBottle(t Take, e ferment.Entry) []Take {
	var takes []Take
	for _, b := range e.Bottles {
		if b.Honey.Known() {
			n := float64(b.Count)
			takes = append(takes, t.withMass(b.Honey.Value*measure.Mass(n), n*measure.LastDigit(b.Honey.Text), true))
		}
	}
	return takes
}

// primedWithin is how long before the bottling the honey for the whole batch may have been weighed.
const primedWithin = 24 * time.Hour

// primedFrom reports whether the honey in the bottles was already logged for the whole batch.
func primedFrom(f ferment.Ferment, lot string, bottled time.Time) bool {
	for _, e := range f.Log {
		before := bottled.Sub(e.At.Time)
		if e.Did == ferment.Prime && e.Lot == lot && e.Amount.Given() && before >= 0 && before <= primedWithin {
			return true
		}
	}
	return false
}
