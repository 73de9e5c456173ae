package carbonation_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/measure"
)

func bottle(t *testing.T, kind string) carbonation.Bottle {
	t.Helper()
	b, ok := carbonation.BottleOf(kind)
	require.True(t, ok, kind)
	return b
}

// What the kinds hold: common practice, no source.
func TestBuiltInBottles(t *testing.T) {
	for kind, holds := range map[string]measure.Content{
		"still-wine bottle": 0, "jar": 0, "decorative swing-top": 0, "Crown beer bottle": 5.5,
		"swing-top from a pressure drink": 6.5, "heavy reusable": 7, "soft-drink bottle": 8, "sparkling-wine bottle": 12,
	} {
		assert.Equal(t, holds, bottle(t, kind).Holds, kind)
	}
	assert.Len(t, carbonation.BuiltIn(), 8)
	_, ok := carbonation.BottleOf("thermos")
	assert.False(t, ok)
}

func TestLimit(t *testing.T) {
	// 5.5 g/L at 40 °C and 5 % vol, the gas alone: a bar keeps 1.58 g/L in at 20 °C
	// (Commission Regulation (EEC) 2676/90), 0.57 of that at 40 (0.60 of it for
	// water, Weiss 1974, 0.52 for wine), which is 6.1 bar absolute.
	got, err := bottle(t, "crown beer bottle").Limit()
	require.NoError(t, err)
	assert.InDelta(t, 5.1, float64(got), 0.05)
	// Sparkling wine is sold at 6 bar and its bottles are made for more (common practice,
	// no source).
	got, err = bottle(t, "sparkling-wine bottle").Limit()
	require.NoError(t, err)
	assert.Greater(t, got, measure.Pressure(6))

	got, err = bottle(t, "jar").Limit()
	require.NoError(t, err)
	assert.Zero(t, got)

	rated := carbonation.Bottle{Kind: "crown", Holds: 5.5, Rated: measure.Give[measure.Pressure](6, "6 bar")}
	got, err = rated.Limit()
	require.NoError(t, err)
	assert.Equal(t, measure.Pressure(6), got)
	for _, bad := range []measure.Pressure{-1, 1000, measure.Pressure(math.NaN()), measure.Pressure(math.Inf(1))} {
		rated.Rated.Value = bad
		got, err = rated.Limit()
		assert.Error(t, err)
		assert.Zero(t, got)
	}
}

func TestCheckFizz(t *testing.T) {
	for _, c := range []struct {
		kind   string
		target measure.Content
		want   string
	}{
		{"crown beer bottle", 5.5, ""},
		{"crown beer bottle", 5.6, "5.6 g/L is over the 5.5 g/L that a crown beer bottle may be filled to"},
		{"still-wine bottle", 3, "a still-wine bottle is not made for pressure: put no fizz in it"},
		{"sparkling-wine bottle", 31, "CO₂ 31 g/L is outside 0 to 30 g/L"},
	} {
		err := bottle(t, c.kind).CheckFizz(c.target)
		if c.want == "" {
			assert.NoError(t, err)
			continue
		}
		assert.EqualError(t, err, c.want)
	}
}

func TestLoad(t *testing.T) {
	nan := measure.Pressure(math.NaN())
	for _, c := range []struct {
		gauge, stands measure.Pressure
		want          carbonation.Load
	}{
		{-0.5, 0, carbonation.Fine}, {0, 0, carbonation.Fine}, {0.1, 0, carbonation.Over},
		{4.7, 6, carbonation.Fine}, {4.81, 6, carbonation.Watch}, {6, 6, carbonation.Watch}, {6.01, 6, carbonation.Over},
		{nan, 6, carbonation.Over}, {1, nan, carbonation.Over},
	} {
		rated := carbonation.Bottle{Rated: measure.Give(c.stands, "rated")}
		s := carbonation.Strain{Pressure: carbonation.Pressure{Gauge: c.gauge}, Bottle: rated, Limit: c.stands}
		assert.Equal(t, c.want, s.Load(), "%v of %v", c.gauge, c.stands)
	}
}
