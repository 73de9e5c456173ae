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
	up, err := Correct(3.6, 1.092, 1.100, Typical)
	require.NoError(t, err)
	assert.InDelta(t, 116.9, up.Honey.Grams(), 0.35)
	assert.InDelta(t, 3.680, float64(up.Volume), 0.001)
	down, err := Correct(3.6, 1.112, 1.100, Typical)
	require.NoError(t, err)
	assert.InDelta(t, 0.4375, float64(down.Water), 0.001)
	assert.InDelta(t, 4.037, float64(down.Volume), 0.001)
}

func TestRaiseAndLowerConserveSolids(t *testing.T) {
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

		up, err := Correct(v, low, high, w)
		require.NoError(t, err)
		require.InEpsilon(t, held(t, v, low)+Solids(up.Honey, w).Grams(), held(t, up.Volume, high), 1e-6, "as far as °Brix is turned back")
		require.InEpsilon(t, float64(v)*float64(low)*waterDensity+float64(up.Honey), float64(up.Volume)*float64(high)*waterDensity, 1e-9)

		down, err := Correct(v, high, low, w)
		require.NoError(t, err)
		require.InEpsilon(t, held(t, v, high), held(t, down.Volume, low), 1e-9)
		require.InEpsilon(t, float64(v)*float64(high)+float64(down.Water), float64(down.Volume)*float64(low), 1e-9)
	})
}

// The solids of the sweetened mead without its alcohol (Tabarié's rule: the gravity less
// that of ethanol in water by OIML R 22, plus 1) are those of the dry mead plus those of
// the honey: an independent calculation, within 0.6 %.
func TestSweeteningAgainstTheSolids(t *testing.T) {
	solids := func(m Mead) float64 {
		share, err := gravity.EthanolByMass(m.Alcohol)
		require.NoError(t, err)
		mixture, err := gravity.EthanolWater(share, 20)
		require.NoError(t, err)
		water, err := gravity.Water(20)
		require.NoError(t, err)
		s, err := gravity.Solids(m.Gravity - measure.Gravity(mixture/water) + 1)
		require.NoError(t, err)
		return float64(m.Volume) * float64(s)
	}
	for _, dry := range []Mead{{3.0, 1.000, 6}, {3.05, 0.997, 11.5}, {3.3, 0.996, 14}} {
		last := measure.Mass(0)
		for _, more := range []measure.Gravity{0.005, 0.010, 0.015, 0.020} {
			h, err := Sweeten(dry, dry.Gravity+more, Typical)
			require.NoError(t, err)
			require.Greater(t, h, last)
			last = h
			in, err := Dissolved(h, Typical)
			require.NoError(t, err)
			sweet, err := Blend(dry, in)
			require.NoError(t, err)
			assert.InDelta(t, float64(dry.Gravity+more), float64(sweet.Gravity), 1e-9, "mass over volume is the gravity asked for")
			assert.InDelta(t, float64(dry.Volume)*float64(dry.Alcohol), float64(sweet.Volume)*float64(sweet.Alcohol), 1e-9, "alcohol is only spread")
			assert.InEpsilon(t, solids(dry)+Solids(h, Typical).Grams(), solids(sweet), 0.006, "%v", dry)
		}
	}
	// 50 g of honey to a litre raise gravity by about 0.0155 (common practice, no source).
	fifty, err := Sweeten(Mead{1, 0.997, 12}, 0.997+0.0155, Typical)
	require.NoError(t, err)
	assert.InDelta(t, 50, fifty.Grams(), 1.5)
	_, err = Sweeten(Mead{1, 1.010, 12}, 1.010, Typical)
	assert.Error(t, err)
}

// 30 g/L of solids in what 3 L are then: 3 L take 3.2 % of honey by hand.
func TestSweeteningByContent(t *testing.T) {
	h, err := SweetenBy(Mead{3, 0.997, 12}, 30, 18)
	require.NoError(t, err)
	assert.InDelta(t, 30, Solids(h, 18).Grams()/float64(3+VolumeIn(h, 18)), 1e-9)
	assert.InDelta(t, 112.6, h.Grams(), 0.1, "90 g / 0.82 = 109.8 g, and 2.6 % more for the volume of it")
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

func TestBlendConservesVolumeAndAlcohol(t *testing.T) {
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
