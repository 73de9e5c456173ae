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

func TestRefractometer(t *testing.T) {
	cases := []struct {
		original, reads measure.Brix
		want            float64 // by a fit of hobby readings and balances, from memory
	}{
		{23.8, 8.6, 0.996},
		{23.8, 15.1, 1.0394},
		{11.0, 4.2, 1.0014},
	}
	for _, c := range cases {
		g, err := alcohol.Refractometer(c.original, c.reads)
		require.NoError(t, err)
		assert.InDelta(t, c.want, float64(g), 0.003, "%v falling to %v", c.original, c.reads)
	}
}

func TestRefractometerOfADryMead(t *testing.T) {
	// A dry mead from 1.0855 shows about 7.1 °Bx (from memory), within 0.5: half a
	// °Bx is near 0.0025.
	original, err := gravity.ToBrix(1.0855)
	require.NoError(t, err)
	dry, err := alcohol.DryFinish(1.0855, alcohol.Fermentable)
	require.NoError(t, err)
	for _, reads := range []measure.Brix{7.1 - 0.5, 7.1 + 0.5} {
		g, err := alcohol.Refractometer(original, reads)
		require.NoError(t, err)
		assert.Equal(t, reads < 7.1, g < dry, "%v is %v", reads, g)
	}
}

func TestRefractometerAtTheStart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		original := measure.Brix(rapid.Float64Range(1, 50).Draw(t, "original"))
		start, err := gravity.FromBrix(original)
		require.NoError(t, err)
		for _, above := range []measure.Brix{0, 0.4} {
			g, err := alcohol.Refractometer(original, original+above)
			require.NoError(t, err)
			require.Equal(t, start, g)
		}
		// And the result does not jump just below the original.
		g, err := alcohol.Refractometer(original, original-1e-6)
		require.NoError(t, err)
		require.InDelta(t, float64(start), float64(g), 1e-6)
	})
}

func TestRefractometerFallsWithTheReading(t *testing.T) {
	for original := measure.Brix(2); original <= 50; original += 4 {
		last := measure.Gravity(2)
		for reads := original; ; reads -= 0.25 {
			g, err := alcohol.Refractometer(original, reads)
			if err != nil {
				break // under 0, or less than the lightest liquid shows
			}
			require.Less(t, g, last, "%v at %v", original, reads)
			last = g
		}
		if original > 6 {
			require.Less(t, last, measure.Gravity(0.985), "%v", original)
		}
	}
}

func TestRefractometerRefuses(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0, 51, 1e300} {
		_, err := alcohol.Refractometer(measure.Brix(v), 8)
		assert.Error(t, err, "original %v", v)
		_, err = alcohol.Refractometer(20, measure.Brix(v))
		assert.Error(t, err, "reading %v", v)
	}
	_, err := alcohol.Refractometer(20, 24)
	assert.ErrorContains(t, err, "refractometer reading 24 °Bx is outside")
	assert.ErrorContains(t, err, "where the must began with 20.0 °Bx")
}

func TestCompensatedAgainstThePrintedTables(t *testing.T) {
	for _, name := range []string{"05b-refractometer-temperature-oiv.csv", "05c-refractometer-temperature-gost.csv"} {
		for _, r := range published.Table(t, name) {
			for column, cell := range r {
				if column == "t_c" || cell == "" {
					continue
				}
				reads := measure.Brix(published.Row{"r": column[1:]}.Number(t, "r"))
				b, err := alcohol.Compensated(reads, measure.Temperature(r.Number(t, "t_c")))
				require.NoError(t, err)
				// Both tables give two decimals and differ by 0.02.
				assert.InDelta(t, r.Number(t, column), float64(b-reads), 0.025, "%s: %v at %s °C", name, reads, r["t_c"])
			}
		}
	}
	for reads, want := range map[measure.Brix]float64{10: 0.74, 30: 0.79} {
		b, err := alcohol.Compensated(reads, 30)
		require.NoError(t, err)
		assert.InDelta(t, want, float64(b-reads), 0.03, "ICUMSA (from memory), %v at 30 °C", reads)
	}
	b, err := alcohol.Compensated(12, 20)
	require.NoError(t, err)
	assert.Equal(t, measure.Brix(12), b)
	for _, v := range []float64{math.NaN(), math.Inf(1), -1, 4.9, 30.1} {
		_, err := alcohol.Compensated(12, measure.Temperature(v))
		assert.Error(t, err, "%v °C", v)
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), -1, 75.1} {
		_, err := alcohol.Compensated(measure.Brix(v), 15)
		assert.Error(t, err, "%v °Bx", v)
	}
}

func TestCorrectedFindsTheAlcohol(t *testing.T) {
	h := gravity.Hydrometer{Calibrated: 20}
	g, err := alcohol.Corrected(h, 0.9932, 30, 1.100)
	require.NoError(t, err)
	s, err := alcohol.FromGravities(1.100, g)
	require.NoError(t, err)
	known, err := h.Correct(0.9932, 30, s)
	require.NoError(t, err)
	assert.InDelta(t, float64(known), float64(g), 1e-7, "the alcohol and the gravity agree")
	must, err := h.Correct(0.9932, 30, 0)
	require.NoError(t, err)
	assert.Greater(t, g, must, "alcohol expands more than water")

	fresh, err := alcohol.Corrected(h, 1.0969, 30, 1.100)
	require.NoError(t, err)
	assert.InDelta(t, 1.100, float64(fresh), 0.0005, "a must on the day")
	above, err := alcohol.Corrected(h, 1.110, 20, 1.100)
	require.NoError(t, err)
	assert.InDelta(t, 1.110, float64(above), 1e-9, "fed since: taken as must")
	_, err = alcohol.Corrected(h, 1.050, 20, 0)
	assert.Error(t, err)
	_, err = alcohol.Corrected(h, 1.050, 50, 1.100)
	assert.EqualError(t, err, "temperature of the sample 50 °C is outside 0 to 40 °C")
}
