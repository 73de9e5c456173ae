package ferment

import (
	"cmp"
	"slices"
	"time"

	"cellar/jugkeeper/ferment/measure"
)

// Stock is how much of a culture there is: its last medium, or the volume in the jar that was written down, with the starters grown of it,
// less what was lost and pitched. What a starter was begun with is not subtracted.
type Stock struct {
	Known   bool
	Since   time.Time      // of the medium or the measurement
	Left    measure.Volume // below zero if more was pitched than there was
	Pitched []Logged       // since then, by the labels of the ferments; an unknown amount is not subtracted
	Waiting int            // open ferments that are to be pitched with it
}

// Stock returns how much of the culture is left by its log and the logs of ferments, each with only its own. Entries
// later than now are ignored.
func (c Culture) Stock(fs []Ferment, now time.Time) Stock {
	var s Stock
	for _, e := range byTime(c.Log, now) {
		switch volume, is := e.Amount.Volume(); {
		case e.Did == Discard:
			s = Stock{}
		case e.Medium.Known() || e.Volume.Known():
			s = Stock{Known: true, Since: e.At.Time, Left: cmp.Or(e.Volume.Value, e.Medium.Value)}
		case e.Did == Starter && is:
			s.Left += volume
		}
		s.Left -= e.Lost.Value
	}
	for _, f := range Where(fs, func(f Ferment) bool { return f.Yeast.Culture == c.ID }) {
		grown, counts, waits := measure.Volume(0), false, !f.Past // a starter counts if it was pitched since then
		for _, e := range byTime(f.Log, now) {
			volume, is := e.Amount.Volume()
			late := !e.At.Time.Before(s.Since)
			switch {
			case e.Did == Starter && is:
				grown, counts = grown+volume, counts || late
			case e.Did == Pitch && late:
				s.Pitched, s.Left, counts = append(s.Pitched, Logged{f.Label(), []Entry{e}}), s.Left-volume, true
			}
			if e.Did == Pitch { // a second one is of another yeast
				waits = false
				break
			}
		}
		if counts {
			s.Left += grown
		}
		if waits {
			s.Waiting++
		}
	}
	return s
}

// byTime returns the entries up to now, the earliest first.
func byTime(log []Entry, now time.Time) []Entry {
	until := Where(log, func(e Entry) bool { return !e.At.Time.After(now) })
	slices.SortStableFunc(until, func(a, b Entry) int { return a.At.Time.Compare(b.At.Time) })
	return until
}
