package nutrient_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
)

// Australian Wine Research Institute, rehydration of dry yeast: 0.25 g/L, 2e10
// living cells in a gram, 5e6 in a mL of must, up to twice for high sugar; between 1.100 and 1.120 in
// proportion, common practice, no source.
func TestPitchFor(t *testing.T) {
	for _, c := range []struct {
		litres       measure.Volume
		original     measure.Gravity
		grams, cells float64
		starter      float64 // mL
		strong       bool
	}{
		{3.6, 1.084, 0.90, 1.8e10, 180, false},
		{3.6, 1.100, 0.90, 1.8e10, 180, false},
		{3.6, 1.105, 1.125, 2.25e10, 225, true},
		{3.6, 1.110, 1.35, 2.7e10, 270, true},
		{3.6, 1.120, 1.80, 3.6e10, 360, true},
		{3.6, 1.150, 1.80, 3.6e10, 360, true},
		{1, 1.040, 0.25, 5e9, 50, false},
	} {
		got, err := nutrient.PitchFor(c.litres, c.original)
		require.NoError(t, err)
		assert.InEpsilon(t, c.grams, got.Dry.Grams(), 1e-9)
		assert.InEpsilon(t, c.cells, got.Cells, 1e-9)
		assert.InEpsilon(t, c.starter, got.Starter.Millilitres(), 1e-9)
		assert.Equal(t, c.strong, got.Strong())
	}
}

func TestPitchRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, v := range []float64{0, -1, nan, inf, 1e6} {
		_, err := nutrient.PitchFor(measure.Volume(v), 1.08)
		assert.Error(t, err, "%v L", v)
	}
	for _, g := range []float64{0, 0.9, -1, nan, inf, 1084} {
		_, err := nutrient.PitchFor(3.6, measure.Gravity(g))
		assert.Error(t, err, "gravity %v", g)
	}
}

// A 10 % stock holds 10 g in 100 mL: by definition.
func TestStockFor(t *testing.T) {
	for _, c := range []struct {
		dose, weighs      float64 // g
		weigh, into, give float64 // g, mL, mL
	}{
		{0.183, 1, 10, 100, 1.83},
		{1.0, 1, 10, 100, 10},
		{1.0, 0.1, 10, 100, 10},
		{1.0, 5, 50, 500, 10},
		{30, 5, 50, 500, 300},
		{80, 10, 100, 1000, 800},
		{80, 1, 80, 800, 800},
	} {
		got, err := nutrient.StockFor(measure.Grams(c.dose), measure.Grams(c.weighs))
		require.NoError(t, err)
		assert.InDelta(t, c.weigh, got.Weigh.Grams(), 1e-9)
		assert.InDelta(t, c.into, got.Into.Millilitres(), 1e-9)
		assert.InDelta(t, c.give, got.Give.Millilitres(), 1e-9)
		assert.False(t, nutrient.TooSmall(got.Weigh, measure.Grams(c.weighs)))
		back, err := nutrient.FromStock(got.Give, 10)
		require.NoError(t, err)
		assert.InDelta(t, c.dose, back.Grams(), 1e-9)
	}
	for _, bad := range []measure.Mass{0, -1, 1e6, measure.Mass(math.NaN()), measure.Mass(math.Inf(1))} {
		_, err := nutrient.StockFor(bad, 0.001)
		assert.Error(t, err)
		_, err = nutrient.StockFor(0.001, bad)
		assert.Error(t, err)
	}
	for _, bad := range []float64{-1, 1e6, math.NaN(), math.Inf(1)} {
		_, err := nutrient.FromStock(measure.Volume(bad), 10)
		assert.Error(t, err)
		_, err = nutrient.FromStock(0.01, measure.Share(bad))
		assert.Error(t, err)
	}
}

func TestTooSmall(t *testing.T) {
	assert.True(t, nutrient.TooSmall(measure.Grams(9.9), measure.Grams(1)))
	assert.False(t, nutrient.TooSmall(measure.Grams(10), measure.Grams(1)))
	assert.False(t, nutrient.TooSmall(measure.Grams(1.5), measure.Grams(0.1)))
}
