package forecast

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// TestDateNeedsHalfOfTheCurves: if more than half never get there, a date would be that of the fast ones only.
func TestDateNeedsHalfOfTheCurves(t *testing.T) {
	began := time.Date(2026, 9, 12, 18, 30, 0, 0, time.UTC)
	f := Forecast{sight: sight{clock: clock{began: began, turns: []turn{{0, 0, 1}}}}, draws: make([]draw, draws)}
	for arrive, dated := range map[int]bool{draws / 4: false, draws/2 - 1: false, draws / 2: true, draws: true} {
		n := 0
		w := f.window(func(draw) float64 {
			if n++; n > arrive {
				return math.Inf(1)
			}
			return 10
		})
		assert.Equal(t, dated, !w.At.IsZero(), "%d of %d", arrive, draws)
		if dated {
			assert.Equal(t, began.AddDate(0, 0, 10), w.At)
		}
	}
}
