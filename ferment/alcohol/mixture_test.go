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

func TestMixContracts(t *testing.T) {
	// OIML R 22: half a litre of each makes 0.9646 L.
	m, err := alcohol.Mix(alcohol.Liquid{Volume: 0.5}, alcohol.Liquid{Volume: 0.5, Strength: 100})
	require.NoError(t, err)
	assert.InDelta(t, 0.9646, float64(m.Volume), 0.0001)
	assert.InDelta(t, 50/0.9646, float64(m.Strength), 0.01, "the ethanol is still half a litre")
}

func TestSpirit(t *testing.T) {
	cases := []struct {
		medium, to, spirit float64
		exact              float64 // mL of spirit, by OIML R 22
	}{
		{200, 5, 40, 28.60},
		{200, 8, 40, 50.06},
		{500, 5, 95, 27.70},
	}
	for _, c := range cases {
		d, err := alcohol.Spirit(measure.Millilitres(c.medium), measure.Strength(c.to), measure.Strength(c.spirit))
		require.NoError(t, err)
		assert.InDelta(t, c.medium*c.to/(c.spirit-c.to), d.Spirit.Millilitres(), 1e-9)
		assert.InEpsilon(t, c.exact, d.Spirit.Millilitres(), 0.004)
		assert.InDelta(t, c.to, float64(d.Made.Strength), 0.1)
	}
	_, err := alcohol.Spirit(0.2, 8, 5)
	assert.EqualError(t, err, "a spirit of 5.0 % vol cannot bring a medium to 8.0 % vol: it must be stronger, e.g. 40 %")
}

func TestSpiritIsExactWhereStartersAreMade(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		to := measure.Strength(rapid.Float64Range(3, 10).Draw(t, "to"))
		spirit := measure.Strength(rapid.Float64Range(35, 96).Draw(t, "spirit"))
		d, err := alcohol.Spirit(0.25, to, spirit)
		require.NoError(t, err)
		require.InDelta(t, float64(to), float64(d.Made.Strength), 0.1)
		twice, err := alcohol.Spirit(0.5, to, spirit)
		require.NoError(t, err)
		require.InDelta(t, 2*float64(d.Spirit), float64(twice.Spirit), 1e-12)
	})
}

func TestMixKeepsMassAndAlcohol(t *testing.T) {
	mass := func(l alcohol.Liquid) float64 {
		p, err := gravity.EthanolByMass(l.Strength)
		require.NoError(t, err)
		d, err := gravity.EthanolWater(p, 20)
		require.NoError(t, err)
		return float64(l.Volume) * float64(d)
	}
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) alcohol.Liquid {
			return alcohol.Liquid{
				Volume:   measure.Volume(rapid.Float64Range(0.01, 50).Draw(t, name+" volume")),
				Strength: measure.Strength(rapid.Float64Range(0, 100).Draw(t, name+" strength")),
			}
		}
		a, b := draw("a"), draw("b")
		m, err := alcohol.Mix(a, b)
		require.NoError(t, err)
		require.InEpsilon(t, mass(a)+mass(b), mass(m), 1e-9)
		ethanol := func(l alcohol.Liquid) float64 { return float64(l.Volume) * float64(l.Strength) }
		require.InDelta(t, ethanol(a)+ethanol(b), ethanol(m), 1e-6)
	})
}

func TestEffectiveOriginal(t *testing.T) {
	// 3.40 L of 1.105 and 0.20 L without sugar: solids 3.40/3.60 of 273.8 g/L
	// (ICUMSA SPS-4 at 24.86 °Bx) are 258.6, which is 1.0992.
	g, err := alcohol.Effective(1.105, 3.40, 0, 3.60)
	require.NoError(t, err)
	assert.InDelta(t, 1.0992, float64(g), 0.0002)

	rapid.Check(t, func(t *rapid.T) {
		original := measure.Gravity(rapid.Float64Range(1.002, 1.120).Draw(t, "original"))
		v := measure.Volume(rapid.Float64Range(0.5, 20).Draw(t, "volume"))
		fed := measure.Mass(rapid.Float64Range(0, 0.1).Draw(t, "fed"))
		g, err := alcohol.Effective(original, v, fed, v+0.07)
		require.NoError(t, err)
		before, err := gravity.Solids(original)
		require.NoError(t, err)
		after, err := gravity.Solids(g)
		require.NoError(t, err)
		require.InDelta(t, float64(before)*float64(v)+fed.Grams(), float64(after)*float64(v+0.07), 1e-6, "no solids are lost")
		scaled, err := alcohol.Effective(original, 2*v, 2*fed, 2*(v+0.07))
		require.NoError(t, err)
		require.InDelta(t, float64(g), float64(scaled), 1e-12)
	})
}

func TestMixturesOutOfRange(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0, 1e300} {
		volume := measure.Volume(v)
		_, err := alcohol.Mix(alcohol.Liquid{Volume: volume}, alcohol.Liquid{Volume: 1})
		assert.Error(t, err, "mix %v L", v)
		_, err = alcohol.Spirit(volume, 5, 40)
		assert.Error(t, err, "spirit for %v L", v)
		_, err = alcohol.Spirit(1, measure.Strength(v), 40)
		assert.Error(t, err, "spirit to %v %%", v)
		_, err = alcohol.Spirit(1, 5, measure.Strength(v))
		assert.Error(t, err, "spirit of %v %%", v)
		_, err = alcohol.Effective(1.1, volume, 0, 3)
		assert.Error(t, err, "effective %v L", v)
		_, err = alcohol.Effective(measure.Gravity(v), 1, 0, 3)
		assert.Error(t, err, "effective original %v", v)
		if v != 0 {
			_, err = alcohol.Effective(1.1, 1, measure.Mass(v), 1)
			assert.Error(t, err, "effective %v kg", v)
		}
	}
}
