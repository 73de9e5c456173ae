package app

import (
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
)

// Settling is what Done would write for one vessel, or the *Refused that says
// why it would not. Nothing is written.
func Settling(v Vessel, w Wish, now time.Time) ([]ferment.Entry, error) {
	return doneEntries(v, w, now)
}

// Settled are the entries that settle what a wish means, whatever stands against
// it: the caller has asked. A step that is neither due nor late is not named, so
// that what is done early settles nothing.
func Settled(v Vessel, w Wish, now time.Time) ([]ferment.Entry, error) {
	t, err := mustMean(v, w.Step)
	if err != nil {
		return nil, err
	}
	entries, err := settled(v, w, t, nil, now)
	if n := len(entries); n > 0 && (over(t.State) || t.State == schedule.Waiting) {
		entries[n-1].Step = ""
	}
	return entries, err
}
