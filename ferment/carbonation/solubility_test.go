package carbonation_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/internal/published"
	"cellar/jugkeeper/ferment/measure"
)

var water = carbonation.Liquid{}

func wine(alcohol measure.Strength, sugar measure.Content) carbonation.Liquid {
	return carbonation.Liquid{Alcohol: alcohol, Sugar: sugar}
}

func solubility(t require.TestingT, l carbonation.Liquid, at measure.Temperature) float64 {
	k, err := carbonation.Solubility(l, at)
	require.NoError(t, err)
	return k
}

// Pure water: Bunsen coefficients of Murray and Riley 1971 as in NIST SRD 106, system
// 62_54, and those of Weiss 1974. Within 3 %, by which the sources differ.
func TestWaterAgainstMeasured(t *testing.T) {
	for _, row := range published.Table(t, "07a-co2-water.csv") {
		got := solubility(t, water, measure.Temperature(row.Number(t, "t_c"))) * 1.01325 / measure.CO2PerVolume
		assert.InEpsilon(t, row.Number(t, "alpha_measured"), got, 0.03, "measured at %s °C", row["t_c"])
		assert.InEpsilon(t, row.Number(t, "alpha_weiss"), got, 0.03, "Weiss at %s °C", row["t_c"])
	}
}

// Pure water: mole fractions at 100 kPa of the CRC Handbook, p. 8-90, stated to 2 %; within
// 4 %, because ours is normalised to the wine method.
func TestWaterAgainstHandbook(t *testing.T) {
	for _, row := range published.Table(t, "07b-co2-water-crc.csv") {
		const molesOfWater = 998.0 / 18.015 // in a litre
		want := row.Number(t, "crc_1000x") / 1000 * molesOfWater * 44.009
		assert.InEpsilon(t, want, solubility(t, water, measure.Temperature(row.Number(t, "t_c"))), 0.04, "%s °C", row["t_c"])
	}
}

// Pure water in g/L per bar, Weiss 1974, Mar. Chem. 2:203, every 5 °C.
func TestWaterAgainstWeiss(t *testing.T) {
	for at, want := range map[measure.Temperature]float64{0: 3.370, 5: 2.783, 10: 2.331, 15: 1.977, 20: 1.698, 25: 1.475, 30: 1.296} {
		assert.InEpsilon(t, want, solubility(t, water, at), 0.015, "%v", at)
	}
}

// At 20 °C the formula of Commission Regulation (EEC) 2676/90, annex, chapter
// 37, as printed; the table was computed from it and rounded.
func TestWineMethod(t *testing.T) {
	for _, row := range published.Table(t, "07c-co2-wine-eu.csv") {
		l := wine(measure.Strength(row.Number(t, "abv")), measure.Content(row.Number(t, "sugar_gl")))
		p, volumes, held := row.Number(t, "p_abs_bar"), row.Number(t, "volumes"), row.Number(t, "g_l")
		got, err := carbonation.Dissolved(measure.Pressure(p), l, 20)
		require.NoError(t, err)
		assert.InEpsilon(t, held, float64(got), 2e-4, "%v", row)
		assert.InEpsilon(t, volumes, carbonation.Volumes(got), 5e-4, "%v", row)

		in, err := carbonation.Filling{At: 20}.InBottle(measure.Content(held), l, 20, 0)
		require.NoError(t, err)
		assert.InEpsilon(t, p, float64(in.Absolute), 2e-4, "%v", row)
		assert.InDelta(t, p-1.01325, float64(in.Gauge), 2e-3, "%v", row)
	}
}

// Champagne of 12.5 % vol and 10 g/L of sugar, g/L per bar. At 10 °C about 2.1
// is printed (Liger-Belair and Cilindre 2021, ACS Omega, table 1); the rest is
// the table of Agabaliantz, from memory.
func TestChampagne(t *testing.T) {
	for at, want := range map[measure.Temperature]float64{0: 2.98, 5: 2.49, 10: 2.07, 12: 1.93, 15: 1.73, 20: 1.44, 25: 1.21} {
		assert.InEpsilon(t, want, solubility(t, wine(12.5, 10), at), 0.06, "%v", at)
	}
}

// One atmosphere keeps 0.87 volumes in water and 0.74 in a liquid of 12 % vol
// at 20 °C: Weiss 1974 and the wine method.
func TestLeft(t *testing.T) {
	for alcohol, want := range map[measure.Strength]float64{0: 0.87, 12: 0.74} {
		got, err := carbonation.GasLeft(wine(alcohol, 0), 20)
		require.NoError(t, err)
		assert.InEpsilon(t, want, carbonation.Volumes(got), 0.02)
	}
	got, err := carbonation.GasLeft(wine(12, 0), 41)
	assert.EqualError(t, err, "temperature 41 °C is outside 0 to 40 °C: no bottle belongs there")
	assert.Zero(t, got)
}

// Warmer, stronger and sweeter liquids dissolve less, and never nothing.
func TestSolubilityFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(0, 39).Draw(t, "t")
		alcohol := rapid.Float64Range(0, 19).Draw(t, "alcohol")
		sugar := rapid.Float64Range(0, 190).Draw(t, "sugar")
		l := wine(measure.Strength(alcohol), measure.Content(sugar))
		k := solubility(t, l, measure.Temperature(at))
		assert.Positive(t, k)
		assert.Greater(t, k, solubility(t, l, measure.Temperature(at+1)))
		assert.Greater(t, k, solubility(t, wine(l.Alcohol, l.Sugar+10), measure.Temperature(at)))
		assert.Greater(t, k, solubility(t, wine(l.Alcohol+1, l.Sugar), measure.Temperature(at)))
	})
}

func TestSolubilityRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range [][3]float64{
		{-1, 0, 20}, {21, 0, 20}, {nan, 0, 20}, {inf, 0, 20},
		{10, -1, 20}, {10, 1e6, 20}, {10, nan, 20}, {10, inf, 20},
		{10, 0, -1}, {10, 0, 40.1}, {10, 0, nan}, {10, 0, inf},
	} {
		l := wine(measure.Strength(c[0]), measure.Content(c[1]))
		k, err := carbonation.Solubility(l, measure.Temperature(c[2]))
		assert.Error(t, err, "%v", c)
		assert.Zero(t, k)
		p, err := carbonation.Filling{At: 20}.InBottle(5, l, measure.Temperature(c[2]), 0)
		assert.Error(t, err, "%v", c)
		assert.Zero(t, p)
		v, err := carbonation.DrawnIn(3, l, measure.Temperature(c[2]), 0)
		assert.Error(t, err, "%v", c)
		assert.Zero(t, v)
	}
}
