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

// wild are values for which no figure may return a number.
var wild = []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1e300, 1e300, -1, 0}

func TestFromBrixAgainstTheNBSTable(t *testing.T) {
	for _, r := range published.Table(t, "01-brix-sg.csv") {
		b := r.Number(t, "brix")
		if b > 84 {
			continue
		}
		g, err := gravity.FromBrix(measure.Brix(b))
		require.NoError(t, err)
		// NBS C440 weighs in air, SPS-4 in vacuo: 2e-4 apart up to 60 °Bx, then wider.
		tolerance := 2e-4
		if b > 60 {
			tolerance = 6e-4
		}
		assert.InDelta(t, r.Number(t, "sg_nbs"), float64(g), tolerance, "NBS C440 table 114, %v °Bx", b)
		assert.InDelta(t, r.Number(t, "sg_sps4_vac"), float64(g), 6e-6, "ICUMSA SPS-4 (1998), five decimals, %v °Bx", b)
		if b > 60 {
			continue
		}
		back, err := gravity.ToBrix(measure.Gravity(r.Number(t, "sg_nbs")))
		require.NoError(t, err)
		assert.InDelta(t, b, float64(back), 0.05, "NBS C440 table 114, %v °Bx", b)
	}
}

func TestGravityBelowWater(t *testing.T) {
	// The cubic for °P over the ASBC table (from memory), continued below 1, and
	// a line through its slope there: both are continuations, not measurements.
	for sg, plato := range map[measure.Gravity]float64{0.998: -0.52, 0.996: -1.04, 0.990: -2.62} {
		b, err := gravity.ToBrix(sg)
		require.NoError(t, err)
		assert.InDelta(t, plato, float64(b), 0.03, "%v", sg)
	}
}

func TestScales(t *testing.T) {
	cases := []struct {
		sg             measure.Gravity
		oechsle, baume float64
		solids         float64 // g/L: 10 °Bx ρ, ICUMSA SPS-4 density at the printed °Bx
	}{
		{1.03998, 39.98, 145 - 145/1.03998, 103.81},
		{1.08292, 82.92, 145 - 145/1.08292, 216.20},
		{1.12906, 129.06, 145 - 145/1.12906, 338.11},
	}
	for _, c := range cases {
		oe, err := gravity.ToOechsle(c.sg)
		require.NoError(t, err)
		be, err := gravity.ToBaume(c.sg)
		require.NoError(t, err)
		s, err := gravity.Solids(c.sg)
		require.NoError(t, err)
		assert.InDelta(t, c.oechsle, float64(oe), 1e-9)
		assert.InDelta(t, c.baume, float64(be), 1e-9)
		assert.InDelta(t, c.solids, float64(s), 0.02)
	}
	// Worked by hand from the definition: 145 − 145/1.160 = 20.
	be, err := gravity.ToBaume(1.160)
	require.NoError(t, err)
	assert.InDelta(t, 20, float64(be), 1e-9)
}

func TestScalesThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sg := measure.Gravity(rapid.Float64Range(0.9801, 1.4484).Draw(t, "gravity"))
		b, err := gravity.ToBrix(sg)
		require.NoError(t, err)
		oe, err := gravity.ToOechsle(sg)
		require.NoError(t, err)
		be, err := gravity.ToBaume(sg)
		require.NoError(t, err)
		for scale, back := range map[string]func() (measure.Gravity, error){
			"brix":    func() (measure.Gravity, error) { return gravity.FromBrix(b) },
			"oechsle": func() (measure.Gravity, error) { return gravity.FromOechsle(oe) },
			"baume":   func() (measure.Gravity, error) { return gravity.FromBaume(be) },
		} {
			g, err := back()
			require.NoError(t, err, scale)
			require.InDelta(t, float64(sg), float64(g), 1e-12, scale)
		}
	})
}

func TestSolidsThereAndBack(t *testing.T) {
	for c := measure.Content(0); c <= 1200; c += 7 {
		g, err := gravity.FromSolids(c)
		require.NoError(t, err)
		back, err := gravity.Solids(g)
		require.NoError(t, err)
		require.InDelta(t, float64(c), float64(back), 1e-9)
	}
}

func TestBrixRisesWithGravity(t *testing.T) {
	last := measure.Brix(-100)
	for sg := gravity.Lowest; sg <= gravity.Highest; sg += 0.0005 {
		b, err := gravity.ToBrix(sg)
		require.NoError(t, err)
		require.Greater(t, b, last)
		last = b
	}
}

func TestEndsOfTheScales(t *testing.T) {
	for _, g := range []measure.Gravity{gravity.Lowest, gravity.Highest} {
		b, err := gravity.ToBrix(g)
		require.NoError(t, err)
		back, err := gravity.FromBrix(b)
		require.NoError(t, err)
		_, err = gravity.ToBrix(back)
		require.NoError(t, err)
	}
	_, err := gravity.ToBrix(1.5)
	assert.EqualError(t, err, "gravity 1.5 is outside 0.98 to 1.44854")
	for name, refuses := range map[string]func(float64) error{
		"brix":    func(v float64) error { _, err := gravity.ToBrix(measure.Gravity(v)); return err },
		"solids":  func(v float64) error { _, err := gravity.Solids(measure.Gravity(v)); return err },
		"density": func(v float64) error { _, err := gravity.DensityOf(measure.Gravity(v)); return err },
		"oechsle": func(v float64) error { _, err := gravity.ToOechsle(measure.Gravity(v)); return err },
		"baume":   func(v float64) error { _, err := gravity.ToBaume(measure.Gravity(v)); return err },
		"break":   func(v float64) error { _, err := gravity.Break(measure.Gravity(v), 0.996, 0.5); return err },
	} {
		for _, v := range append(wild, 0.9799, 1.4486) {
			assert.Error(t, refuses(v), "%s of %v", name, v)
		}
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1e300, 1e300, -5.3, 85.01} {
		_, err := gravity.FromBrix(measure.Brix(v))
		assert.Error(t, err, "%v °Bx", v)
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), -1, 1201} {
		_, err := gravity.FromSolids(measure.Content(v))
		assert.Error(t, err, "%v g/L", v)
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 145, 200} {
		_, err := gravity.FromBaume(gravity.Baume(v))
		assert.Error(t, err, "%v °Bé", v)
		_, err = gravity.FromOechsle(gravity.Oechsle(10 * v))
		assert.Error(t, err, "%v °Oe", 10*v)
	}
}

func TestBreak(t *testing.T) {
	// Worked by hand: OG 1.100, finish 0.997, a fall of 0.103.
	for fraction, want := range map[float64]float64{0: 1.100, 1. / 3: 1.0657, 0.5: 1.0485, 2. / 3: 1.0313, 1: 0.997} {
		g, err := gravity.Break(1.100, 0.997, fraction)
		require.NoError(t, err)
		assert.InDelta(t, want, float64(g), 0.0001, "%v", fraction)
	}
	for _, fraction := range []float64{-0.1, 1.1, math.NaN()} {
		_, err := gravity.Break(1.100, 0.997, fraction)
		assert.Error(t, err)
	}
	_, err := gravity.Break(0.997, 1.100, 0.5)
	assert.EqualError(t, err, "the finish 1.1000 is above the original gravity 0.9970")
}
