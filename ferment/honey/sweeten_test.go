package honey

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/measure"
)

// Worked by hand with the °Bx of NBS C440 table 114 (1.092 22.01, 1.100 23.77, 1.112
// 26.37): the must weighs 3.924 kg and takes 3.924 × 1.758/(82.8 − 23.77) = 116.9 g of
// honey; 3.996 kg take 3.996 × (26.37/23.77 − 1) = 0.437 kg of water.
func TestCorrectingAMust(t *testing.T) {
	up, err := Raise(3.6, 1.092, 1.100, 0, Typical)
	require.NoError(t, err)
	assert.InDelta(t, 116.9, up.Honey.Grams(), 0.35)
	assert.InDelta(t, 3.680, float64(up.Volume), 0.001)
	water, after, err := Lower(3.6, 1.112, 1.100)
	require.NoError(t, err)
	assert.InDelta(t, 0.4375, float64(water), 0.001)
	assert.InDelta(t, 4.037, float64(after), 0.001)
}

func TestRaisedAndLoweredKeepTheirSolids(t *testing.T) {
	held := func(t require.TestingT, v measure.Volume, g measure.Gravity) float64 {
		s, err := gravity.Solids(g)
		require.NoError(t, err)
		return float64(v) * float64(s)
	}
	rapid.Check(t, func(t *rapid.T) {
		v := measure.Volume(rapid.Float64Range(0.5, 60).Draw(t, "volume"))
		low := measure.Gravity(rapid.Float64Range(1.005, 1.150).Draw(t, "low"))
		high := low + measure.Gravity(rapid.Float64Range(0.0005, 0.050).Draw(t, "more"))
		w := measure.Share(rapid.Float64Range(14, 23).Draw(t, "water"))

		up, err := Raise(v, low, high, 0, w)
		require.NoError(t, err)
		require.InEpsilon(t, held(t, v, low)+Solids(up.Honey, w).Grams(), held(t, up.Volume, high), 1e-9)
		require.InEpsilon(t, float64(v)*float64(low)*waterDensity+float64(up.Honey), float64(up.Volume)*float64(high)*waterDensity, 1e-9)

		water, after, err := Lower(v, high, low)
		require.NoError(t, err)
		require.InEpsilon(t, held(t, v, high), held(t, after, low), 1e-9)
		require.InEpsilon(t, float64(v)*float64(high)+float64(water), float64(after)*float64(low), 1e-9)
	})
}

func TestMoreHoneyForASweeterMead(t *testing.T) {
	last := measure.Mass(-1)
	for to := measure.Gravity(0.996); to <= 1.040; to += 0.001 {
		s, err := Raise(3.3, 0.996, to, 14, 18)
		require.NoError(t, err)
		require.Greater(t, s.Honey, last)
		last = s.Honey
	}
}

// The closed form with a fixed volume of dissolved sugar, 13.5 lb to a US gallon (27 CFR
// 24.181), is an independent way to the same honey.
func TestSweeteningAgainstTheVolumeOfSugar(t *testing.T) {
	for _, c := range []Mead{{3.0, 1.000, 6}, {3.05, 0.997, 11.5}, {3.3, 0.996, 14}} {
		to := c.Gravity + 0.015
		s, err := Raise(c.Volume, c.Gravity, to, c.Alcohol, Typical)
		require.NoError(t, err)
		h := float64(c.Volume) * 0.015 * waterDensity / (1 - float64(to)*waterDensity*float64(Takes(1, Typical)))
		assert.InEpsilon(t, h, float64(s.Honey), 0.005, "%v", c)
		assert.InEpsilon(t, float64(c.Volume+Takes(s.Honey, Typical)), float64(s.Volume), 0.0005, "%v", c)
	}
}

func TestSweeteningKeepsAlcoholAndMass(t *testing.T) {
	s, err := Raise(3.05, 0.997, 1.012, 11.5, 18.1)
	require.NoError(t, err)
	assert.InDelta(t, 3.05*11.5, float64(s.Volume)*float64(s.Alcohol), 1e-9, "alcohol is only spread")
	mass := 3.05*0.997*waterDensity + float64(s.Honey)
	assert.InDelta(t, 1.012, mass/waterDensity/float64(s.Volume), 1e-9, "mass over volume is the gravity asked for")
	half, err := Raise(3.05/2, 0.997, 1.012, 11.5, 18.1)
	require.NoError(t, err)
	assert.InDelta(t, s.Honey.Grams()/2, half.Honey.Grams(), 1e-9)
	// 50 g of honey to a litre raise gravity by about 0.0155 (common practice, no source).
	fifty, err := Raise(1, 0.997, 0.997+0.0155, 12, Typical)
	require.NoError(t, err)
	assert.InDelta(t, 50, fifty.Honey.Grams(), 1.5)
}

// Worked by hand: 3.45 L of 13.9 % at 0.996 and 0.15 L of water make 13.32 % at 0.9962;
// 14 % and 9 % make 12 % as 3 to 2.
func TestBlends(t *testing.T) {
	b, err := Blend(Mead{3.45, 0.996, 13.9}, Mead{0.15, 1, 0})
	require.NoError(t, err)
	assert.InDelta(t, 13.32, float64(b.Alcohol), 0.01)
	assert.InDelta(t, 0.9962, float64(b.Gravity), 0.0001)
	x, y, err := Parts(14, 9, 12)
	require.NoError(t, err)
	assert.InDelta(t, 1.5, x/y, 1e-9)
	_, _, err = Parts(14, 9, 15)
	assert.Error(t, err)
}

func TestBlendsKeepWhatIsInThem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) Mead {
			return Mead{
				measure.Volume(rapid.Float64Range(0.01, 50).Draw(t, name)),
				measure.Gravity(rapid.Float64Range(0.985, 1.150).Draw(t, name)),
				measure.Strength(rapid.Float64Range(0, 20).Draw(t, name)),
			}
		}
		a, b, c := draw("a"), draw("b"), draw("c")
		all, err := Blend(a, b, c)
		require.NoError(t, err)
		first, err := Blend(a, b)
		require.NoError(t, err)
		then, err := Blend(first, c)
		require.NoError(t, err)
		require.InEpsilon(t, float64(all.Gravity), float64(then.Gravity), 1e-12, "in whatever order")
		spirit := func(m Mead) float64 { return float64(m.Volume) * float64(m.Alcohol) }
		weight := func(m Mead) float64 { return float64(m.Volume) * float64(m.Gravity) }
		require.InDelta(t, spirit(a)+spirit(b)+spirit(c), spirit(all), 1e-9)
		require.InDelta(t, weight(a)+weight(b)+weight(c), weight(all), 1e-9)
	})
}

func TestPartsMakeTheStrengthWanted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := measure.Strength(rapid.Float64Range(0, 20).Draw(t, "a"))
		b := a + measure.Strength(rapid.Float64Range(0.5, 20).Draw(t, "more"))
		to := a + (b-a)*measure.Strength(rapid.Float64Range(0, 1).Draw(t, "between"))
		x, y, err := Parts(a, b, to)
		require.NoError(t, err)
		require.InDelta(t, float64(to), (x*float64(a)+y*float64(b))/(x+y), 1e-9)
	})
}
