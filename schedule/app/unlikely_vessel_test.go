package app_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/schedule/app"
)

// TestTheWrongJug: an act that makes no sense on that ferment is asked about.
func TestTheWrongJug(t *testing.T) {
	for _, c := range []struct{ id, log, entry, asks string }{
		{"heath", "3 11:00 pitch|5 07:00 1.040|14 07:00 0.997", "14 09:00 nutrient unknown", "nutrient at 0.997, where no sugar is left"},
		{"heath", "3 11:00 pitch|5 07:00 1.072", "5 09:00 nutrient unknown", ""},
		{"hawthorn-3", "3 11:00 pitch", "5 09:00 nutrient unknown", "nutrient for a culture"},
	} {
		snapshot, v := vessel(holding(jug("heath", 3.6, c.log)), "heath", line(c.entry).At.Time)
		for _, k := range snapshot.Cultures {
			if k.ID() == c.id {
				v = k
			}
		}
		assert.Equal(t, c.id, v.ID())
		assertAsks(t, c.asks, app.Says(app.Unlikely(snapshot, v, line(c.entry))), c.entry)
	}
}
