package ferment

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment/measure"
)

// Stock is how much of a culture there is: its last medium, or what was measured since, with the starters grown of it,
// less what was lost and pitched. What a starter was begun with is not subtracted.
type Stock struct {
	Known   bool
	Since   time.Time      // of the medium or the measurement
	Left    measure.Volume // below zero if more was pitched than there was
	Pitched []Pitched      // since then; an unknown amount is not subtracted
}

// Pitched is an amount of a culture that a ferment got.
type Pitched struct {
	By     string // its label
	At     time.Time
	Amount Amount
}

// Stock returns how much of the culture is left by its log and the logs of ferments, each with only its own. Entries
// later than now are ignored.
func (c Culture) Stock(fs []Ferment, now time.Time) Stock {
	var s Stock
	for _, e := range byTime(c.Log, now) {
		volume, is := e.Amount.Volume()
		switch {
		case e.Did == Discard:
			s = Stock{}
		case e.Medium.Known():
			s = Stock{Known: true, Since: e.At.Time, Left: e.Medium.Value}
		case e.Volume.Known():
			s = Stock{Known: true, Since: e.At.Time, Left: e.Volume.Value}
		case e.Did == Starter && is:
			s.Left += volume
		}
		s.Left -= e.Lost.Value
	}
	for _, f := range Where(fs, func(f Ferment) bool { return f.Yeast.Culture == c.ID }) {
		grown, counts := measure.Volume(0), false // a starter counts if it was pitched since then
		for _, e := range byTime(f.Log, now) {
			volume, is := e.Amount.Volume()
			late := !e.At.Time.Before(s.Since)
			switch {
			case e.Did == Starter && is:
				grown, counts = grown+volume, counts || late
			case e.Did == Pitch && late:
				s.Pitched, s.Left, counts = append(s.Pitched, Pitched{f.Label(), e.At.Time, e.Amount}), s.Left-volume, true
			}
			if e.Did == Pitch { // a second one is of another yeast
				break
			}
		}
		if counts {
			s.Left += grown
		}
	}
	if !s.Known {
		return Stock{}
	}
	return s
}

// byTime returns the entries up to now, the earliest first.
func byTime(log []Entry, now time.Time) []Entry {
	until := Where(log, func(e Entry) bool { return !e.At.Time.After(now) })
	slices.SortStableFunc(until, func(a, b Entry) int { return a.At.Time.Compare(b.At.Time) })
	return until
}
