package course

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

func threeLitres(f *ferment.Ferment) {
	f.Must.Volume, f.Must.Gravity = measure.Give(measure.Volume(3), "3.00 L"), measure.Give(measure.Gravity(1.090), "1.090")
}

// TestFruitInTheSecondary is worked by hand: 3.00 L of an original of 1.090
// (ICUMSA SPS-4: 234.7 g/L of solids, so 704.0 g) get 500 g of brambles with 5 %
// sugar and 88 % water: 25.0 g of sugar and 0.440 kg of water, which take
// 0.440/0.998203 + 0.025 × 0.6225 = 0.4564 L. 729.0 g in 3.4564 L are 210.9 g/L,
// an original of 1.0810; at 0.998 that is 11.0 % vol by Balling. ±2 % of 500 g are
// 10 g in 3.456 L, 2.9 g/L: ±0.17 % vol.
func TestFruitInTheSecondary(t *testing.T) {
	c := after(t, 40, `0 pitch | 20 0.997 | 30 fruit-in 500g of="frozen brambles" | 40 0.998`, threeLitres)
	require.True(t, c.Effective.IsKnown(), c.Effective.Unknown)
	assert.InDelta(t, 1.0810, float64(c.Effective.Value), 0.0004, "0.5 % of the sugar")
	assert.InDelta(t, 3.4564, float64(c.Volume.Value), 0.002)
	require.True(t, c.Alcohol.IsKnown(), c.Alcohol.Unknown)
	assert.InDelta(t, 11.0, float64(c.Alcohol.Value), 0.2)
	assert.Contains(t, c.Alcohol.Assumed, "500 g of frozen brambles with 5.0 % sugar, ±2.0 %: ±0.2 % vol")
	assert.True(t, c.DryFinish.IsKnown())
	assert.True(t, c.Break(1.0/3).IsKnown())
}

// Fruit that is not in the table has a wider uncertainty, and a measured sugar overrides it.
func TestFruitWithMeasuredSugar(t *testing.T) {
	for of, want := range map[string]string{`of=medlars`: "8.0 % sugar, ±4.0 %", `of=brambles sugar=7%`: "7.0 % sugar, ±0.3 %"} {
		c := after(t, 40, `0 pitch | 20 0.997 | 30 fruit-in 500g `+of+` | 40 0.998`, threeLitres)
		assert.Contains(t, c.Alcohol.Assumed, want)
	}
}

// A starter that is built and then pitched counts once.
func TestStarterVolumeCountsOnce(t *testing.T) {
	c := after(t, 5, "-3 starter 180mL | 0 pitch 180mL", threeLitres)
	assert.InDelta(t, 3.18, float64(c.Volume.Value), 1e-9)
	c = after(t, 5, "-3 starter 180mL | 0 pitch", threeLitres)
	assert.InDelta(t, 3.18, float64(c.Volume.Value), 1e-9)
}
