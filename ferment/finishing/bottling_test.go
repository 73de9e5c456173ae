package finishing_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment/finishing"
	"cellar/jugkeeper/ferment/measure"
)

// Worked by hand: 3.60 L × 0.9877 = 3.556, less lees 0.30, samples 0.20 and a
// racking 0.15 are 2.91 L; 8 × 330 mL and 0.27 L, or 3 × 750 mL and 0.66 L.
func TestExpectAndFill(t *testing.T) {
	left, err := finishing.Expect(3.6, 0.3, 0.2, 0.15)
	require.NoError(t, err)
	assert.InDelta(t, 2.906, float64(left), 0.001)
	for size, want := range map[measure.Volume]finishing.Filling{0.33: {8, 0.266}, 0.75: {3, 0.656}} {
		got, err := finishing.Fill(left, size)
		require.NoError(t, err)
		assert.Equal(t, want.Count, got.Count)
		assert.InDelta(t, float64(want.Left), float64(got.Left), 0.001)
	}
	got, err := finishing.Fill(3.3, 0.33)
	require.NoError(t, err)
	assert.Equal(t, 10, got.Count)
	assert.InDelta(t, 0, float64(got.Left), 1e-9)
	got, err = finishing.Fill(3.6, 0.33, 0.25, 0.1)
	require.NoError(t, err)
	assert.Equal(t, 9, got.Count)
	assert.InDelta(t, 0.28, float64(got.Left), 1e-9)

	_, err = finishing.Fill(1, 0.33, 0.8, 0.3)
	assert.EqualError(t, err, "0.30 L lost is more than the 0.20 L that were left")
	for _, bad := range []float64{0, -1, 1e9, math.NaN(), math.Inf(1)} {
		_, err = finishing.Fill(measure.Volume(bad), 0.33)
		assert.Error(t, err)
		_, err = finishing.Fill(3, measure.Volume(bad))
		assert.Error(t, err)
		_, err = finishing.Expect(measure.Volume(bad))
		assert.Error(t, err)
		if bad != 0 {
			_, err = finishing.Expect(3, measure.Volume(bad))
			assert.Error(t, err)
		}
	}
}

// Bottles and rest add up to the whole, and the rest fills no bottle.
func TestFillConserves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0.01, 2000).Draw(t, "v")
		size := rapid.Float64Range(0.02, 30).Draw(t, "size")
		got, err := finishing.Fill(measure.Volume(v), measure.Volume(size))
		require.NoError(t, err)
		assert.InDelta(t, v, float64(got.Count)*size+float64(got.Left), 1e-6)
		assert.Less(t, float64(got.Left), size)
		assert.GreaterOrEqual(t, got.Left, measure.Volume(0))
	})
}

// Worked by hand: 1.135 kg × 12 + 2.00 + 0.60 + 8 × 0.35 = 19.02, 2.38 each.
func TestCostOf(t *testing.T) {
	got, err := finishing.CostOf(finishing.Cost{Honey: 1.135, Price: 12, Others: []float64{2, 0.6, 8 * 0.35}, Bottles: 8})
	require.NoError(t, err)
	assert.InDelta(t, 19.02, got.Total, 1e-9)
	assert.InDelta(t, 2.3775, got.Each, 1e-9)
	assert.InDelta(t, 0.675, got.HoneyFree, 1e-9)
	for what, c := range map[string]finishing.Cost{
		"no bottles": {Honey: 1, Price: 12}, "negative honey": {Honey: -1, Price: 12, Bottles: 8}, "NaN honey": {Honey: measure.Mass(math.NaN()), Bottles: 8},
		"NaN price": {Honey: 1, Price: math.NaN(), Bottles: 8}, "infinite caps": {Bottles: 8, Others: []float64{math.Inf(1)}}, "negative caps": {Bottles: 8, Others: []float64{-1}},
	} {
		got, err := finishing.CostOf(c)
		assert.Error(t, err, what)
		assert.Zero(t, got, what)
	}
}
