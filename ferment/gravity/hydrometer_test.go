package gravity_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/internal/published"
	"cellar/jugkeeper/ferment/measure"
)

var at20 = gravity.Hydrometer{Calibrated: 20}

func TestHydrometerAgainstTheSaccharometerEquation(t *testing.T) {
	for _, r := range published.Table(t, "02b-hydrometer-temperature-sucrose.csv") {
		g, err := at20.Correct(measure.Gravity(r.Number(t, "sg_indicated")), measure.Temperature(r.Number(t, "t_c")), 0)
		require.NoError(t, err)
		// Five decimals are given on either side.
		assert.InDelta(t, r.Number(t, "sg_true_20_20"), float64(g), 1.5e-5, "%s %% at %s °C", r["w_pct"], r["t_c"])
	}
}

func TestHydrometerAgainstThePrintedRows(t *testing.T) {
	// NBS C440, temperature corrections to readings of saccharometers made for
	// 20 °C, two rows (from memory), °Bx to add.
	rows := map[measure.Temperature]map[measure.Brix]float64{
		10: {0: -0.32, 5: -0.38, 10: -0.43, 15: -0.48, 20: -0.52, 25: -0.57, 30: -0.60},
		15: {0: -0.20, 5: -0.22, 10: -0.24, 15: -0.26, 20: -0.28, 25: -0.30, 30: -0.32},
	}
	for sample, row := range rows {
		for reads, correction := range row {
			shown, err := gravity.FromBrix(reads)
			require.NoError(t, err)
			g, err := at20.Correct(shown, sample, 0)
			require.NoError(t, err)
			b, err := gravity.ToBrix(g)
			require.NoError(t, err)
			assert.InDelta(t, correction, float64(b-reads), 0.02, "%v at %v", reads, sample)
		}
	}
}

func TestHydrometerInDryMead(t *testing.T) {
	// Water with 12 % vol: the density by OIML R 22 at t over that of water at
	// 20 °C, and the glass; what is to be added, five decimals.
	for sample, correction := range map[measure.Temperature]float64{10: -0.00179, 15: -0.00104, 25: 0.00130, 30: 0.00284} {
		const dry = 0.98413
		g, err := at20.Correct(measure.Gravity(dry-correction), sample, 12)
		require.NoError(t, err)
		assert.InDelta(t, dry, float64(g), 2e-5, "%v", sample)
	}
}

func TestHydrometerMadeForAnotherTemperature(t *testing.T) {
	// In pure water at its own temperature a true instrument shows 1.
	for _, made := range []measure.Temperature{15, 15.56, 20} {
		g, err := gravity.Hydrometer{Calibrated: made}.Correct(1, made, 0)
		require.NoError(t, err)
		assert.InDelta(t, 1, float64(g), 1e-9)
	}
	// ICUMSA SPS-4: a sugar solution of 20 % has 1.08330 at 60/60 °F and 1.08292 at 20/20
	// °C; at 60 °F such a hydrometer needs no other correction.
	g, err := gravity.Hydrometer{Calibrated: 15.556}.Correct(1.08330, 15.556, 0)
	require.NoError(t, err)
	assert.InDelta(t, 1.08292, float64(g), 1e-5)
}

func TestHydrometerError(t *testing.T) {
	off := gravity.Hydrometer{Calibrated: 20, Error: 0.002}
	g, err := off.Correct(1.002, 20, 0)
	require.NoError(t, err)
	assert.InDelta(t, 1, float64(g), 1e-9, "it shows 1.002 in water")
	g, err = off.Correct(1.052, 20, 0)
	require.NoError(t, err)
	assert.InDelta(t, 1.050, float64(g), 1e-9)
}

func TestHydrometerAtItsTemperatureReadsTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reads := measure.Gravity(rapid.Float64Range(0.985, 1.200).Draw(t, "reads"))
		strength := measure.Strength(rapid.Float64Range(0, 18).Draw(t, "strength"))
		g, err := at20.Correct(reads, 20, strength)
		require.NoError(t, err)
		require.InDelta(t, float64(reads), float64(g), 1e-9)
	})
}

func TestCorrectionRisesWithWarmthAndReading(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reads := measure.Gravity(rapid.Float64Range(1, 1.200).Draw(t, "reads"))
		// Below about 8 °C the density of water no longer falls with warmth.
		sample := measure.Temperature(rapid.Float64Range(8, 39).Draw(t, "sample"))
		strength := measure.Strength(rapid.Float64Range(0, 18).Draw(t, "strength"))
		g, err := at20.Correct(reads, sample, strength)
		require.NoError(t, err)
		warmer, err := at20.Correct(reads, sample+1, strength)
		require.NoError(t, err)
		heavier, err := at20.Correct(reads+0.001, sample, strength)
		require.NoError(t, err)
		require.Greater(t, warmer, g)
		require.InDelta(t, float64(g)+0.001, float64(heavier), 5e-5)
	})
}

func TestHydrometerRefuses(t *testing.T) {
	for _, v := range append(wild, 1.46) {
		_, err := at20.Correct(measure.Gravity(v), 20, 0)
		assert.Error(t, err, "reading %v", v)
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), -0.1, 40.1} {
		_, err := at20.Correct(1.050, measure.Temperature(v), 0)
		assert.Error(t, err, "%v °C", v)
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), -0.1, 25.1} {
		_, err := at20.Correct(1.050, 20, measure.Strength(v))
		assert.Error(t, err, "%v %% vol", v)
	}
	_, err := gravity.Hydrometer{}.Correct(1.050, 20, 0)
	assert.EqualError(t, err, "temperature of the hydrometer's scale 0 °C is outside 10 to 30 °C")
	_, err = gravity.Hydrometer{Calibrated: 20, Error: 1}.Correct(1.050, 20, 0)
	assert.Error(t, err)
	_, err = at20.Correct(1.050, 45, 0)
	assert.EqualError(t, err, "temperature of the sample 45 °C is outside 0 to 40 °C")
}
