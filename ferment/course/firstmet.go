package course

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// FirstMet is when a condition was first met, up to now.
func (c Course) FirstMet(cond ferment.Condition) (time.Time, bool) {
	return time.Time{}, false
}
