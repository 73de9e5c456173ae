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

func TestWaterAgainstPublishedDensities(t *testing.T) {
	for _, r := range published.Table(t, "02a-water-density.csv") {
		d, err := gravity.Water(measure.Temperature(r.Number(t, "t_c")))
		require.NoError(t, err)
		// The sources differ among themselves by 0.005 kg/m³.
		for _, source := range []string{"kell_1975", "tanaka_2001", "iapws95"} {
			assert.InDelta(t, r.Number(t, source), float64(d), 0.006, "%s at %s °C", source, r["t_c"])
		}
		assert.InDelta(t, r.Number(t, "sps4_water"), float64(d), 6e-5, "SPS-4 at %s °C", r["t_c"])
	}
}

func TestSucroseAgainstSPS4(t *testing.T) {
	for _, r := range published.Table(t, "01-brix-sg.csv") {
		if r.Number(t, "brix") > 85 {
			continue
		}
		g, err := gravity.FromBrix(measure.Brix(r.Number(t, "brix")))
		require.NoError(t, err)
		d, err := gravity.DensityOf(g)
		require.NoError(t, err)
		assert.InDelta(t, r.Number(t, "rho_sps4_20c"), float64(d), 6e-4, "ICUMSA SPS-4 (1998), %s °Bx", r["brix"])
	}
}

func TestEthanolAgainstOIML(t *testing.T) {
	for _, r := range published.Table(t, "03a-ethanol-oiml-r22-20c.csv") {
		strength := measure.Strength(r.Number(t, "abv_pct_vol"))
		p, err := gravity.EthanolByMass(strength)
		require.NoError(t, err)
		assert.InDelta(t, r.Number(t, "abw_pct_mass"), float64(p), 6e-5, "OIML R 22, %v", strength)
		d, err := gravity.EthanolWater(p, 20)
		require.NoError(t, err)
		assert.InDelta(t, r.Number(t, "rho_kg_m3"), float64(d), 6e-4, "OIML R 22, %v", strength)
	}
	for _, r := range published.Table(t, "03c-ethanol-oiml-r22-other-t.csv") {
		d, err := gravity.EthanolWater(measure.Share(r.Number(t, "p_pct_mass")), measure.Temperature(r.Number(t, "t_c")))
		require.NoError(t, err)
		assert.InDelta(t, r.Number(t, "rho_kg_m3"), float64(d), 6e-4, "OIML R 22, %s %% at %s °C", r["p_pct_mass"], r["t_c"])
	}
}

func TestEthanolAgainstPerry(t *testing.T) {
	for _, r := range published.Table(t, "03b-ethanol-perry-20c.csv") {
		d, err := gravity.EthanolWater(measure.Share(r.Number(t, "p_pct_mass")), 20)
		require.NoError(t, err)
		// An independent table, on the old millilitre and an older value for water.
		assert.InDelta(t, r.Number(t, "perry_g_ml"), float64(d)/1000, 6e-5, "Perry 1997, %s %% mass", r["p_pct_mass"])
	}
}

func TestEthanolAgainstTheDirective(t *testing.T) {
	// Printed tables of OIML R 22 (from memory), kg/m³ to two decimals at 20 °C.
	for strength, want := range map[measure.Strength]float64{0: 998.20, 10: 984.71, 40: 948.05, 50: 930.14, 100: 789.24} {
		p, err := gravity.EthanolByMass(strength)
		require.NoError(t, err)
		d, err := gravity.EthanolWater(p, 20)
		require.NoError(t, err)
		assert.InDelta(t, want, float64(d), 0.006, "%v", strength)
	}
}

func TestEthanolThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		strength := measure.Strength(rapid.Float64Range(0, 100).Draw(t, "strength"))
		p, err := gravity.EthanolByMass(strength)
		require.NoError(t, err)
		require.LessOrEqual(t, float64(p), float64(strength)+1e-9)
		back, err := gravity.EthanolByVolume(p)
		require.NoError(t, err)
		require.InDelta(t, float64(strength), float64(back), 1e-9)
	})
}

func TestRefractiveIndexAgainstICUMSA(t *testing.T) {
	for _, r := range published.Table(t, "05a-refractive-index-sucrose.csv") {
		b := r.Number(t, "brix")
		n, err := gravity.RefractiveIndex(measure.Brix(b))
		require.NoError(t, err)
		// Five decimals are printed; one unit of the last is 0.007 °Bx.
		assert.InDelta(t, r.Number(t, "n20d"), float64(n), 1e-5, "ICUMSA 1974 as in OIV-MA-AS2-02, %v °Bx (%s)", b, r["source"])
		shown, err := gravity.BrixOf(n)
		require.NoError(t, err)
		assert.InDelta(t, b, float64(shown), 1e-9)
	}
}

func TestAlcoholAloneOnTheRefractometer(t *testing.T) {
	cases := []struct {
		ethanol measure.Share   // % mass
		gravity measure.Gravity // OIML R 22
		index   float64         // CRC Handbook, ethanol-water at 20 °C (from memory), four decimals
	}{
		{0, 1, 1.3330},
		{1, 0.99810, 1.3336},
		{5, 0.99116, 1.3360},
		{10, 0.98362, 1.3395},
	}
	for _, c := range cases {
		n, err := gravity.IndexOfMixture(0, c.ethanol, c.gravity)
		require.NoError(t, err)
		assert.InDelta(t, c.index, float64(n), 2e-4, "%v %% mass", c.ethanol)
	}
	n, err := gravity.IndexOfMixture(0, 9.641, 0.98413)
	require.NoError(t, err)
	b, err := gravity.BrixOf(n)
	require.NoError(t, err)
	assert.InDelta(t, 4.3, float64(b), 0.5, "12 %% vol and no solids: CRC Handbook (from memory)")
}

func TestDensitiesOutOfRange(t *testing.T) {
	refuses := map[string]func(float64) error{
		"water":            func(v float64) error { _, err := gravity.Water(measure.Temperature(v)); return err },
		"ethanol":          func(v float64) error { _, err := gravity.EthanolWater(measure.Share(v), 20); return err },
		"by mass":          func(v float64) error { _, err := gravity.EthanolByMass(measure.Strength(v)); return err },
		"by volume":        func(v float64) error { _, err := gravity.EthanolByVolume(measure.Share(v)); return err },
		"refractive index": func(v float64) error { _, err := gravity.RefractiveIndex(measure.Brix(v)); return err },
		"sugar by index":   func(v float64) error { _, err := gravity.BrixOf(gravity.Index(v)); return err },
		"mixture":          func(v float64) error { _, err := gravity.IndexOfMixture(5, measure.Share(v), 1); return err },
	}
	for name, refuse := range refuses {
		for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1e300, 1e300, -0.001, 100.01} {
			assert.Error(t, refuse(v), "%s of %v", name, v)
		}
	}
	_, err := gravity.Water(40.5)
	assert.EqualError(t, err, "temperature of the water 40.5 °C is outside 0 to 40 °C")
}
