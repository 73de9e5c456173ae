package ferment

import "time"

// ParseOffset reads a step in time: "-12 h", "+24 h", "0 d", "2 mo".
func ParseOffset(text string) (Offset, error) { return Offset{}, nil }

// Absolute is the offset as a duration. It is not ok for days, weeks and
// months, which are no fixed number of hours.
func (o Offset) Absolute() (d time.Duration, ok bool) { return 0, false }
