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

// The steps of older cellar texts, from memory; never over the 200 mg/L of OIV
// II.3.4.5.
func TestSorbic(t *testing.T) {
	for alcohol, want := range map[measure.Strength]float64{0: 200, 8: 200, 10: 200, 10.5: 187.5, 11: 175, 12: 150, 13: 125, 14: 100, 15: 75, 18: 75, 20: 75} {
		got, err := finishing.Sorbic(alcohol)
		require.NoError(t, err)
		assert.InDelta(t, want, got.MilligramsPerLitre(), 1e-9, "%v", alcohol)
	}
	for _, bad := range []float64{-1, 21, math.NaN(), math.Inf(1)} {
		got, err := finishing.Sorbic(measure.Strength(bad))
		assert.Error(t, err)
		assert.Zero(t, got)
	}
}

// 112.13 of 150.22, by IUPAC atomic weights; 200 mg/L are 268 mg/L of the salt.
func TestSorbateFor(t *testing.T) {
	assert.InEpsilon(t, 112.13/150.22, finishing.SorbicYield, 1e-3)
	got, err := finishing.SorbateFor(3.785, 10)
	require.NoError(t, err)
	assert.InEpsilon(t, 1.0142, got.Salt.Grams(), 1e-3)
	assert.InEpsilon(t, 10.142, got.Stock.Millilitres(), 1e-3)
	for _, bad := range []float64{0, -1, 1e9, math.NaN(), math.Inf(1)} {
		_, err := finishing.SorbateFor(measure.Volume(bad), 12)
		assert.Error(t, err)
	}
	_, err = finishing.SorbateFor(3, measure.Strength(math.NaN()))
	assert.Error(t, err)
}

func TestStrongerTakesLessSorbate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(0, 20).Draw(t, "a"), rapid.Float64Range(0, 20).Draw(t, "b")
		weak, err := finishing.Sorbic(measure.Strength(min(a, b)))
		require.NoError(t, err)
		strong, err := finishing.Sorbic(measure.Strength(max(a, b)))
		require.NoError(t, err)
		assert.LessOrEqual(t, strong, weak)
		assert.LessOrEqual(t, weak, mg(200))
	})
}
