package desk

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// Settling is what Done would write for one vessel, or the *Refused that says
// why it would not. Nothing is written.
func Settling(v Vessel, w Wish, now time.Time) ([]ferment.Entry, error) {
	return doneEntries(v, w, now)
}
