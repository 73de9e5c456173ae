package carbonation_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/measure"
)

// Champagne in closed bottles, 11.4 g/L at first: Liger-Belair and others 2017,
// Sci. Rep. 7:10938, table 1. Within 8 %: the headspace takes its part.
func TestChampagneBottle(t *testing.T) {
	for at, want := range map[measure.Temperature]float64{6: 4.7, 12: 5.8, 20: 7.5} {
		p, err := carbonation.InBottle(11.4, wine(12.5, 10), at, 0)
		require.NoError(t, err)
		assert.InEpsilon(t, want, float64(p.Absolute), 0.08, "%v", at)
	}
}

// 5 g/L is 2.53 volumes, at 1.977 g in a litre of gas (gas tables).
func TestVolumes(t *testing.T) {
	assert.InDelta(t, 2.53, carbonation.Volumes(5), 0.005)
}

// A point is 2.15 g/L of sugar, of which 0.4886 become gas: on the safe side
// of the 2.11 of a light must, not over the 2.20 of the strongest.
func TestPointsOfSugar(t *testing.T) {
	assert.GreaterOrEqual(t, carbonation.CO2PerPoint, 2.11*0.4886)
	assert.LessOrEqual(t, carbonation.CO2PerPoint, 2.20*0.4886)
	p, err := carbonation.InBottle(5, wine(6, 0), 20, 3)
	require.NoError(t, err)
	assert.InDelta(t, 8.15, float64(p.CO2), 1e-9)
}

func TestTable(t *testing.T) {
	rows, err := carbonation.Table(5, wine(11.9, 0), 30)
	require.NoError(t, err)
	require.Len(t, rows, 3)
	for i, at := range []measure.Temperature{4, 20, 30} {
		assert.Equal(t, at, rows[i].At)
		require.Len(t, rows[i].ByPoints, 4)
		for points, p := range rows[i].ByPoints {
			want, err := carbonation.InBottle(5, wine(11.9, 0), at, float64(points))
			require.NoError(t, err)
			assert.Equal(t, want, p)
		}
	}
	rows, err = carbonation.Table(5, wine(11.9, 0), 45)
	assert.EqualError(t, err, "the hottest place 45 °C is outside 0 to 40 °C: no bottle belongs there")
	assert.Empty(t, rows)
}

func TestPressureRefuses(t *testing.T) {
	for _, bad := range []float64{-1, 31, math.NaN(), math.Inf(1)} {
		_, err := carbonation.InBottle(measure.Content(bad), water, 20, 0)
		assert.Error(t, err, "%v g/L", bad)
		_, err = carbonation.InBottle(5, water, 20, bad)
		assert.Error(t, err, "%v points", bad)
		p, err := carbonation.Dissolved(measure.Pressure(bad), water, 20)
		assert.Error(t, err, "%v bar", bad)
		assert.Zero(t, p)
	}
}

// Gas that a pressure keeps in makes that pressure again; heat, sugar and gas
// raise it.
func TestPressureAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := wine(measure.Strength(rapid.Float64Range(0, 20).Draw(t, "alcohol")), measure.Content(rapid.Float64Range(0, 200).Draw(t, "sugar")))
		at := measure.Temperature(rapid.Float64Range(0, 39).Draw(t, "t"))
		co2 := measure.Content(rapid.Float64Range(0.1, 12).Draw(t, "co2"))
		p, err := carbonation.InBottle(co2, l, at, 0)
		require.NoError(t, err)
		if p.Absolute <= 20 {
			back, err := carbonation.Dissolved(p.Absolute, l, at)
			require.NoError(t, err)
			assert.InDelta(t, float64(co2), float64(back), 1e-9)
		}
		assert.InDelta(t, 1.01325, float64(p.Absolute-p.Gauge), 1e-9)

		hotter, err := carbonation.InBottle(co2, l, at+1, 0)
		require.NoError(t, err)
		unfinished, err := carbonation.InBottle(co2, l, at, 1)
		require.NoError(t, err)
		assert.Greater(t, hotter.Gauge, p.Gauge)
		assert.Greater(t, unfinished.Gauge, p.Gauge)
	})
}
