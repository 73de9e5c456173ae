package words

import (
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
)

// lotsOf are the lots to be used first and those that are not to be used
// unasked.
func lotsOf(c ferment.Cellar, now time.Time) []Lot {
	var out []Lot
	for _, n := range schedule.LotNotices(c, now) {
		out = append(out, Lot{n.Lot, n.Reason})
	}
	return out
}
