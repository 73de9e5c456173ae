package alcohol_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/internal/published"
	"cellar/jugkeeper/ferment/measure"
)

func TestStrengthAgainstTheExciseFactors(t *testing.T) {
	for _, r := range published.Table(t, "04a-hmrc-f.csv") {
		for _, points := range []float64{r.Number(t, "diff_lo"), r.Number(t, "diff_hi")} {
			for _, final := range []measure.Gravity{0.996, 1.000, 1.010, 1.020} {
				original := final + measure.Gravity(points)/1000
				if original < 1.005 {
					continue
				}
				s, err := alcohol.FromGravities(original, final)
				require.NoError(t, err)
				// The factors are the same for all finals; sweet ones are further off.
				tolerance := 0.2
				if final > 1.010 {
					tolerance = 0.3
				}
				assert.InDelta(t, points*r.Number(t, "f"), float64(s), tolerance,
					"Excise Notice 226 par. 30.3, %v to %v", original, final)
			}
		}
	}
}

func TestAlcoholAgainstMeasuredBeers(t *testing.T) {
	// Cutaia, Reid and Speers 2009, table III: means of four sets of beers.
	cases := []struct {
		oe, ae measure.Brix
		a      float64 // % mass, measured
	}{
		{14.08, 3.11, 4.72},
		{14.54, 2.53, 5.14},
		{17.67, 2.45, 6.56},
		{11.34, 2.01, 3.82},
		{12.75, 2.79, 4.21},
	}
	for _, c := range cases {
		og, err := gravity.FromBrix(c.oe)
		require.NoError(t, err)
		fg, err := gravity.FromBrix(c.ae)
		require.NoError(t, err)
		b, err := alcohol.BalanceOf(og, fg)
		require.NoError(t, err)
		assert.InEpsilon(t, c.a, float64(b.Mass), 0.03, "%v to %v", c.oe, c.ae)
	}
}

func TestAlcoholFactorAgainstBallingsTable(t *testing.T) {
	for _, r := range published.Table(t, "04b-balling-factor-a.csv") {
		oe := r.Number(t, "oe_plato")
		og, err := gravity.FromBrix(measure.Brix(oe))
		require.NoError(t, err)
		b, err := alcohol.BalanceOf(og, 1)
		require.NoError(t, err)
		assert.InDelta(t, r.Number(t, "a_fixed"), float64(b.Mass)/oe, 6e-5, "%v °P", oe)
		// Balling's own quotient grows with the extract, the fixed one does not:
		// up to 2.4 % more at 30 °P.
		assert.InEpsilon(t, r.Number(t, "a_printed"), float64(b.Mass)/oe, 0.025, "Balling's printed factor, %v °P", oe)
	}
}

func TestBalance(t *testing.T) {
	// Worked by hand from Balling's equations: 23.79 °P and −1.04 °P at 1.100 and
	// 0.996, RE 3.45, A 20.34/1.8128 = 11.22 % mass, × 0.996/0.79066 = 14.13 % vol.
	b, err := alcohol.BalanceOf(1.100, 0.996)
	require.NoError(t, err)
	assert.InDelta(t, 11.22, float64(b.Mass), 0.01)
	assert.InDelta(t, 14.13, float64(b.Alcohol), 0.01)
	assert.InDelta(t, 3.45, float64(b.RealExtract), 0.01)
	assert.InDelta(t, 104, float64(b.Apparent), 0.1)
	assert.InDelta(t, 85.5, float64(b.Real), 0.1)
}

func TestBroughtAlcohol(t *testing.T) {
	b, err := alcohol.BalanceOf(1.100, 0.996)
	require.NoError(t, err)
	more, err := b.With(0.28)
	require.NoError(t, err)
	assert.InDelta(t, float64(b.Alcohol)+0.28, float64(more.Alcohol), 1e-12)
	assert.InDelta(t, float64(more.Alcohol)*0.79066/0.996, float64(more.Mass), 1e-9, "% mass = % vol × 0.79066/SG")
	_, err = b.With(-1)
	assert.Error(t, err)
}

func TestSugarLeft(t *testing.T) {
	// 2.11 g/L for each 0.001 at 1.040 to 2.20 at 1.150, by the mass balance of
	// sugar to alcohol; Balling's extract lies within 3 % of it.
	for original, each := range map[measure.Gravity]float64{1.040: 2.11, 1.150: 2.20} {
		s, err := alcohol.SugarLeft(original, 1.010, 1.000)
		require.NoError(t, err)
		assert.InEpsilon(t, 10*each, float64(s), 0.03, "%v", original)
	}
	s, err := alcohol.SugarLeft(1.100, 0.996, 0.998)
	require.NoError(t, err)
	assert.Zero(t, s, "below the finish")
}

func TestNothingFermented(t *testing.T) {
	for _, g := range []measure.Gravity{1.080, 1.0839} {
		b, err := alcohol.BalanceOf(1.080, g)
		require.NoError(t, err)
		assert.Zero(t, b.Alcohol)
		assert.Zero(t, b.Apparent)
	}
	_, err := alcohol.BalanceOf(1.050, 1.100)
	assert.EqualError(t, err, "the gravity 1.1000 is above the original 1.0500: gravity falls, e.g. from 1.100 to 0.998")
}

func TestStrengthRisesAsGravityFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		original := measure.Gravity(rapid.Float64Range(1.010, 1.249).Draw(t, "original"))
		final := measure.Gravity(rapid.Float64Range(0.981, float64(original)).Draw(t, "final"))
		b, err := alcohol.BalanceOf(original, final)
		require.NoError(t, err)
		lower, err := alcohol.BalanceOf(original, final-0.001)
		require.NoError(t, err)
		require.Greater(t, lower.Alcohol, b.Alcohol)
		require.Greater(t, lower.Real, b.Real)
		require.GreaterOrEqual(t, float64(b.Alcohol), 0.0)
		// What was extract is ethanol, CO₂, yeast and extract: of 100 g of must,
		// 100 + 1.0665 A are left for each 100 g of the liquid.
		oe, err := gravity.ToBrix(original)
		require.NoError(t, err)
		a := float64(b.Mass)
		require.InDelta(t, float64(oe), 100*(2.0665*a+float64(b.RealExtract))/(100+1.0665*a), 1e-9)
	})
}

func TestBalanceOutOfRange(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0, 1e300, 1.001, 1.251} {
		g := measure.Gravity(v)
		_, err := alcohol.FromGravities(g, 0.996)
		assert.Error(t, err, "original %v", v)
		_, err = alcohol.SugarLeft(g, 0.996, 0.996)
		assert.Error(t, err, "original %v", v)
		_, err = alcohol.DryFinish(g, alcohol.Fermentable)
		assert.Error(t, err, "original %v", v)
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0, 1e300, 0.9799, 1.251} {
		b, err := alcohol.BalanceOf(1.100, measure.Gravity(v))
		assert.Error(t, err, "final %v", v)
		assert.Zero(t, b)
	}
	_, err := alcohol.FromGravities(1.3, 1)
	assert.EqualError(t, err, "original gravity 1.3 is outside 1.002 to 1.25")
}
