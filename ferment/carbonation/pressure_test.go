package carbonation_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// Champagne in closed bottles, 11.4 g/L at first: Liger-Belair and others 2017,
// Sci. Rep. 7:10938, table 1. Within 8 %: the headspace takes its part.
func TestChampagneBottle(t *testing.T) {
	for at, want := range map[measure.Temperature]float64{6: 4.7, 12: 5.8, 20: 7.5} {
		p, err := carbonation.Usual.InBottle(11.4, wine(12.5, 10), at, 0)
		require.NoError(t, err)
		assert.InEpsilon(t, want, float64(p.Gas), 0.08, "%v", at)
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
	p, err := carbonation.Usual.InBottle(5, wine(6, 0), 20, 3)
	require.NoError(t, err)
	assert.InDelta(t, 8.15, float64(p.CO2), 1e-9)
}

func TestTable(t *testing.T) {
	rows, err := carbonation.Usual.Table(5, wine(11.9, 0), 30)
	require.NoError(t, err)
	require.Len(t, rows, 3)
	for i, at := range []measure.Temperature{4, 20, 30} {
		assert.Equal(t, at, rows[i].At)
		require.Len(t, rows[i].ByPoints, 4)
		for points, p := range rows[i].ByPoints {
			want, err := carbonation.Usual.InBottle(5, wine(11.9, 0), at, float64(points))
			require.NoError(t, err)
			assert.Equal(t, want, p)
		}
	}
	rows, err = carbonation.Usual.Table(5, wine(11.9, 0), 45)
	assert.EqualError(t, err, "the hottest place 45 °C is outside 0 to 40 °C: no bottle belongs there")
	assert.Empty(t, rows)
}

func TestPressureRefuses(t *testing.T) {
	for _, bad := range []float64{-1, 31, math.NaN(), math.Inf(1)} {
		_, err := carbonation.Usual.InBottle(measure.Content(bad), water, 20, 0)
		assert.Error(t, err, "%v g/L", bad)
		_, err = carbonation.Usual.InBottle(5, water, 20, bad)
		assert.Error(t, err, "%v points", bad)
		p, err := carbonation.Dissolved(measure.Pressure(bad), water, 20)
		assert.Error(t, err, "%v bar", bad)
		assert.Zero(t, p)
	}
}

// The gas that dissolves under a pressure makes that pressure again; heat, sugar and gas
// raise it.
func TestPressureAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := wine(measure.Strength(rapid.Float64Range(0, 20).Draw(t, "alcohol")), measure.Content(rapid.Float64Range(0, 200).Draw(t, "sugar")))
		at := measure.Temperature(rapid.Float64Range(0, 39).Draw(t, "t"))
		co2 := measure.Content(rapid.Float64Range(0.1, 12).Draw(t, "co2"))
		p, err := carbonation.Filling{At: 20}.InBottle(co2, l, at, 0)
		require.NoError(t, err)
		if p.Absolute <= 20 {
			back, err := carbonation.Dissolved(p.Absolute, l, at)
			require.NoError(t, err)
			assert.InDelta(t, float64(co2), float64(back), 1e-9)
		}
		assert.InDelta(t, 1.01325, float64(p.Absolute-p.Gauge), 1e-9)

		p, err = carbonation.Usual.InBottle(co2, l, at, 0)
		require.NoError(t, err)
		hotter, err := carbonation.Usual.InBottle(co2, l, at+1, 0)
		require.NoError(t, err)
		unfinished, err := carbonation.Usual.InBottle(co2, l, at, 1)
		require.NoError(t, err)
		assert.Greater(t, hotter.Gauge, p.Gauge)
		assert.Greater(t, unfinished.Gauge, p.Gauge)
	})
}

// The nitrogen that a litre of water takes up under one atmosphere, in litres at
// 0 °C (Lange's Handbook of Chemistry, from memory), and the density of water
// with 12 % by volume of ethanol (OIML R 22, rounded, from memory) over its
// temperature; between the rows straight lines.
var nitrogenInWater = [][2]float64{{0, 0.02354}, {5, 0.02086}, {10, 0.01861}, {15, 0.01685}, {20, 0.01545}, {25, 0.01434}, {30, 0.01342}, {40, 0.01184}}

func between(rows [][2]float64, x float64) float64 {
	for i := 1; i < len(rows); i++ {
		if a, b := rows[i-1], rows[i]; x <= b[0] {
			return a[1] + (b[1]-a[1])*(x-a[0])/(b[0]-a[0])
		}
	}
	return rows[len(rows)-1][1]
}

// balance calculates the same pressure another way: the moles of each gas in a bottle of
// 750 mL, and the pressure at which they fit, by bisection.
func balance(co2, strength float64, filled, at, headspace float64) (gas, air float64) {
	const bottle, atm = 0.750, 1.01325
	kelvin := func(t float64) float64 { return t + 273.15 }
	// g/(L bar): Weiss 1974 in water and, from 12.5 % vol on, the table for a
	// wine of 12.5 % vol and 10 g/L sugar (reference table, from memory), both
	// brought to the EU wine method's figure at 20 °C
	wine := [][2]float64{{0, 2.98}, {5, 2.49}, {10, 2.07}, {12, 1.93}, {15, 1.73}, {20, 1.44}, {25, 1.21}, {30, 1.03}, {40, 0.767}}
	water := [][2]float64{{0, 3.370}, {5, 2.783}, {10, 2.331}, {15, 1.977}, {20, 1.698}, {25, 1.475}, {30, 1.296}, {40, 1.031}}
	part := math.Min(strength/12.5, 1)
	henry := 1.951 * (0.86 - 0.01*strength) * (part*between(wine, at)/1.44 + (1-part)*between(water, at)/1.698)
	liquid := bottle * (1 - headspace/100)
	byMass, _ := gravity.EthanolByMass(measure.Strength(strength))
	cold, _ := gravity.EthanolWater(byMass, measure.Temperature(filled))
	warm, _ := gravity.EthanolWater(byMass, measure.Temperature(at))
	head := bottle - liquid*float64(cold/warm)
	// moles in the bottle; one of nitrogen fills 22.414 L at 0 °C and one atmosphere
	carbon := co2 * liquid / 44.009
	held := func(p, t, room float64) float64 { // of nitrogen at a pressure
		return p*room/(0.0831446*kelvin(t)) + p/atm*between(nitrogenInWater, t)*liquid/22.414
	}
	nitrogen := held(0.79, filled, bottle-liquid)
	share := func(moles float64, takes func(p float64) float64) float64 {
		low, high := 0.0, 100.0
		for range 80 {
			if mid := (low + high) / 2; takes(mid) < moles {
				low = mid
			} else {
				high = mid
			}
		}
		return low
	}
	gas = share(carbon, func(p float64) float64 { return henry*p*liquid/44.009 + p*head/(0.0831446*kelvin(at)) })
	air = share(nitrogen, func(p float64) float64 { return held(p, at, head) })
	return gas, air
}

// Over a grid of strength, headspace, filling, temperature and content both calculations
// agree to 0.1 bar, or 3 % at high pressure, the difference between the tables.
func TestPressureAgainstAMoleBalance(t *testing.T) {
	for _, strength := range []float64{0, 3, 6, 9, 12, 14, 16} {
		for _, headspace := range []float64{2, 3, 5, 10} {
			for _, filled := range []float64{5, 12, 20} {
				for _, at := range []float64{5, 12, 20, 30, 40} {
					for _, co2 := range []float64{0.5, 1.46, 3, 5, 8, 12} {
						f := carbonation.Filling{At: measure.Temperature(filled), Headspace: measure.Share(headspace)}
						p, err := f.InBottle(measure.Content(co2), wine(measure.Strength(strength), 0), measure.Temperature(at), 0)
						require.NoError(t, err)
						gas, air := balance(co2, strength, filled, at, headspace)
						assert.InDelta(t, gas+air-1.01325, float64(p.Gauge), math.Max(0.1, 0.03*gas), "%v %% vol, %v %%, filled at %v, now %v, %v g/L", strength, headspace, filled, at, co2)
						assert.InDelta(t, air, float64(p.Air), 0.1, "%v %% vol, %v %%, filled at %v, now %v, %v g/L", strength, headspace, filled, at, co2)
					}
				}
			}
		}
	}
}

// By hand: 5 g/L at 12 % vol and 20 °C is 2.45 bar by its CO₂ and 3.1 with the air; a still
// mead of 1.46 g/L at 30 °C has 1.2 bar if filled at 20 °C, near 1.5 if filled at 5 °C.
func TestHeadspaceAirAddsPressure(t *testing.T) {
	for _, c := range []struct {
		f    carbonation.Filling
		co2  measure.Content
		at   measure.Temperature
		want float64
	}{
		{carbonation.Filling{At: 20}, 5, 20, 2.45}, {carbonation.Usual, 5, 20, 3.1},
		{carbonation.Filling{At: 20}, 1.46, 30, 0.4}, {carbonation.Usual, 1.46, 30, 1.2}, {carbonation.Filling{At: 5, Headspace: 3}, 1.46, 30, 1.45},
	} {
		p, err := c.f.InBottle(c.co2, wine(12, 0), c.at, 0)
		require.NoError(t, err)
		assert.InDelta(t, c.want, float64(p.Gauge), 0.06, "%v", c)
		assert.InDelta(t, float64(p.Gas+p.Air), float64(p.Absolute), 1e-9)
	}
	for _, bad := range []carbonation.Filling{{At: -1, Headspace: 3}, {At: 41, Headspace: 3}, {At: 20, Headspace: 0.5}, {At: 20, Headspace: 60}, {At: 20, Headspace: -1}} {
		_, err := bad.InBottle(5, water, 20, 0)
		assert.Error(t, err, "%v", bad)
	}
	_, err := carbonation.Filling{At: 0, Headspace: 1}.InBottle(5, wine(14, 0), 40, 0)
	assert.EqualError(t, err, "filled at 0 °C with 1.0 % of headspace, the liquid fills the bottle at 40 °C: leave more")
}

// Common practice passes: 5 g/L in a crown beer bottle at 28 °C, with the one point that a
// passed forced test leaves open. The limit of such a bottle is one of carbon dioxide
// alone, so the air in its neck is not counted.
func TestCommonPracticePasses(t *testing.T) {
	for strength := measure.Strength(4); strength <= 15; strength++ {
		s, err := bottle(t, "crown beer bottle").Strain(carbonation.Usual, 5, wine(strength, 0), 28, 1)
		require.NoError(t, err)
		assert.NotEqual(t, carbonation.Over, s.Load(), "%v: %v of %v", strength, s.Gauge, s.Limit)
	}
}
