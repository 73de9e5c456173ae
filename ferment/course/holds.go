package course

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// Holds tells whether a condition holds now, and whether the log can answer
// at all. A step's own settling, and what has happened since it, are the
// plan's to answer: see HoldsSince.
func (c Course) Holds(cond ferment.Condition) (holds, known bool) {
	return c.HoldsSince(cond, time.Time{})
}

// HoldsSince is Holds where "KEY since STEP" counts from the given time.
func (c Course) HoldsSince(cond ferment.Condition, since time.Time) (holds, known bool) {
	return false, false
}
