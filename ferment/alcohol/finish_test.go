package alcohol_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

func tolerance(v measure.Strength) measure.Given[measure.Strength] {
	return measure.Give(v, v.String())
}

func TestDryFinish(t *testing.T) {
	// Calculated independently of this code, by the same mass balance.
	for original, want := range map[measure.Gravity]float64{1.040: 0.9978, 1.080: 0.9965, 1.100: 0.9962, 1.120: 0.9960} {
		g, err := alcohol.DryFinish(original, alcohol.Fermentable)
		require.NoError(t, err)
		assert.InDelta(t, want, float64(g), 0.0001, "%v", original)
	}
	for original := measure.Gravity(1.030); original <= 1.150; original += 0.001 {
		g, err := alcohol.DryFinish(original, alcohol.Fermentable)
		require.NoError(t, err)
		assert.True(t, g >= 0.990 && g <= 1.002, "dry meads end from 0.990 to 1.002 (common practice, no source): %v ends at %v", original, g)
	}
}

func TestDryFinishAgreesWithTheStrength(t *testing.T) {
	// The mass balance behind the finish and Balling's figure must agree: the ethanol from
	// 86 % of the solids, within the 3 % of the figure.
	for original := measure.Gravity(1.040); original <= 1.130; original += 0.010 {
		f, err := alcohol.FinishOf(original, measure.Given[measure.Strength]{}, alcohol.Fermentable)
		require.NoError(t, err)
		s, err := gravity.Solids(original)
		require.NoError(t, err)
		// 16.31 g/L of extract for each % vol: 2.0665 × 7.892 g/L; the liquid
		// keeps its volume to 2 %.
		assert.InEpsilon(t, 0.86*float64(s)/16.31, float64(f.Alcohol), 0.04, "%v", original)
	}
}

func TestFinishAtTheTolerance(t *testing.T) {
	f, err := alcohol.FinishOf(1.120, tolerance(14), alcohol.Fermentable)
	require.NoError(t, err)
	assert.True(t, f.AtTolerance)
	assert.InDelta(t, 14, float64(f.Alcohol), 1e-9)
	assert.InDelta(t, 1.018, float64(f.Gravity), 0.002, "a fall of 14/0.1352 to 14/0.137 points")
	assert.Less(t, f.Dry, f.Gravity)

	f, err = alcohol.FinishOf(1.080, tolerance(14), alcohol.Fermentable)
	require.NoError(t, err)
	assert.False(t, f.AtTolerance, "11 %% vol is all the sugar gives")
	assert.Equal(t, f.Dry, f.Gravity)
	s, err := alcohol.FromGravities(1.080, f.Gravity)
	require.NoError(t, err)
	assert.Equal(t, s, f.Alcohol, "one number is shown")
}

func TestFinishRisesAsLessFerments(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		original := measure.Gravity(rapid.Float64Range(1.010, 1.120).Draw(t, "original"))
		share := measure.Share(rapid.Float64Range(60, 95).Draw(t, "share"))
		strong := measure.Strength(rapid.Float64Range(4, 18).Draw(t, "tolerance"))
		f, err := alcohol.FinishOf(original, tolerance(strong), share)
		require.NoError(t, err)
		less, err := alcohol.FinishOf(original, tolerance(strong), share-1)
		require.NoError(t, err)
		require.Greater(t, less.Dry, f.Dry)
		require.GreaterOrEqual(t, float64(less.Gravity), float64(f.Gravity)-1e-9)
		require.GreaterOrEqual(t, f.Gravity, f.Dry)
		require.LessOrEqual(t, float64(f.Alcohol), float64(strong)+1e-9)
	})
}

func TestFinishOutOfRange(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), -1, 0, 49, 100.5} {
		_, err := alcohol.DryFinish(1.100, measure.Share(v))
		assert.Error(t, err, "share %v", v)
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), -1, 0, 26} {
		_, err := alcohol.FinishOf(1.100, tolerance(measure.Strength(v)), 86)
		assert.Error(t, err, "tolerance %v", v)
	}
}

func TestMaltMediumForWildYeast(t *testing.T) {
	// 45 g of dry malt extract in 250 mL of boiled water with one and a half
	// small measures of 40 % spirit begins near 5 % vol and ends near 10 (common
	// practice, no source). Assumed: 250 mL after the boil, a measure of 25 to
	// 30 mL, 96 % of the extract solids, three quarters of them gone at the end.
	for _, small := range []float64{25, 30} {
		spirit := measure.Millilitres(1.5 * small)
		medium := measure.Volume(0.250 + gravity.SugarVolume*0.045*0.96)
		begin := 40 * measure.Strength(spirit/(medium+spirit))
		assert.True(t, begin >= 4.5 && begin <= 6.5, "begins with %v", begin)

		original, err := gravity.FromSolids(measure.Content(45 * 0.96 / float64(medium+spirit)))
		require.NoError(t, err)
		finish, err := alcohol.DryFinish(original, 75)
		require.NoError(t, err)
		made, err := alcohol.FromGravities(original, finish)
		require.NoError(t, err)
		assert.True(t, begin+made >= 9 && begin+made <= 12, "ends with %v", begin+made)
	}
}
