package course

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPresentFallBegins(t *testing.T) {
	for _, c := range []struct {
		days    float64
		log     string
		day     float64
		gravity float64
	}{
		{5, "-1 1.099 | 0 pitch | 3 1.080", 0, 1.100},
		{9, "0 pitch | 3 1.080 | 5 1.060 | 6 water 900mL | 8 1.040", 6, 1.0453}, // a quarter more: 60 points are 48, and it falls 8 in 3 days
		{9, "0 pitch | 3 1.080 | 5 1.060 | 6 water 1mL | 6.1 1.049", 6, 1.050},  // fell 10 since
		{9, "0 pitch | 3 1.060 | 5 1.0600 | 8 water 1mL | 9 1.058", 8, 1.060},   // it rested before
		{9, "0 pitch | 3 1.080 | 6 honey unknown | 8 1.075", 8, 1.075},          // of unknown amount
		{9, "0 pitch | 3 1.080 | 8 pitch", 8, 1.080},
		{9, "0 pitch | 3 1.080 | 5 1.120 ? | 8 pitch", 8, 1.080},
		{70, "0 pitch | 9 1.020 20C | 20 1.0200 20C | 30 1.0200 20C | 40 1.0200 20C | 70 1.010", 40, 1.020},
	} {
		r, ok := after(t, c.days, c.log).FallsFrom()
		require.True(t, ok, c.log)
		assert.InDelta(t, c.gravity, float64(r.Gravity), 0.0008, c.log)
		assert.InDelta(t, c.day, r.At.Sub(pitchedAt).Hours()/24, 0.001, c.log)
	}
	_, ok := after(t, 9, "0 pitch | 3 1.080 | 6 honey unknown").FallsFrom()
	assert.False(t, ok, "until it is read")
	_, ok = after(t, 9, "0 mix").FallsFrom()
	assert.False(t, ok)
}
