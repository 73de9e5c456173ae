package course

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

func TestGivenCountsStockByItsGrams(t *testing.T) {
	c := after(t, 30, "0 pitch | 20 sulphite 0.2g | 21 sulphite 14mL stock=10% | 22 sulphite unknown | 23 sorbate 0.6g")
	assert.InDelta(t, 1.6, c.Given(ferment.Sulphite).Grams(), 1e-9)
	assert.InDelta(t, 0.6, c.Given(ferment.Sorbate).Grams(), 1e-9)
	assert.Zero(t, c.Given(ferment.Buffer))
}

// TestWarmest: temperatures before the gravity was steady do not count, because gas bubbled away after them.
func TestWarmest(t *testing.T) {
	for _, c := range []struct {
		log     string
		days    float64
		want    measure.Temperature
		assumed string
	}{
		{"0 pitch 24C | 5 1.050 26C | 40 0.997 18C | 50 0.997 17..19C | 64 0.997 17C", 65, 19, ""},
		{"0 pitch 24C | 40 0.997 | 50 0.997 | 64 0.997", 65, 24, "no temperature is recorded since the bubbling ended"},
		{"0 pitch | 40 0.997 | 41 taste 8C", 65, 20, "no temperature is recorded: 20 °C"},
	} {
		got := after(t, c.days, c.log).Warmest()
		assert.Equal(t, c.want, got.Value, c.log)
		assert.Equal(t, c.assumed, got.Assumed, c.log)
	}
}

// TestOtherMeadBringsItsAlcohol: by mass balance, a starter of 0.20 L at 5 % vol in 3.60 L is 0.28 % vol, and a mead
// topped up with itself keeps its strength; drawing off later does not dilute.
func TestOtherMeadBringsItsAlcohol(t *testing.T) {
	smaller := func(f *ferment.Ferment) { f.Must.Volume = measure.Give(measure.Volume(3.4), "3.4 L") }
	plain := after(t, 30, "0 pitch | 20 0.998", smaller).Alcohol.Value
	for _, c := range []struct {
		log  string
		want measure.Strength
	}{
		{"0 pitch 200mL alcohol=5% | 20 0.998", plain + 0.28},
		{"0 pitch 200mL alcohol=5% | 20 0.998 | 25 rack lost=1.8L", plain + 0.28},
		{"0 pitch | 20 0.998 | 25 top-up 0.2L of=lime alcohol=13.5%", plain*3.4/3.6 + 13.5*0.2/3.6},
		{"0 pitch | 20 0.998 | 25 blend 3.4L of=heath alcohol=9%", plain/2 + 4.5},
		{"0 pitch | 20 0.998 | 25 water 0.2L", plain * 3.4 / 3.6},
	} {
		got := after(t, 30, c.log, smaller)
		require.True(t, got.Alcohol.IsKnown(), "%s: %s", c.log, got.Alcohol.Unknown)
		assert.InDelta(t, float64(c.want), float64(got.Alcohol.Value), 0.1, c.log)
	}
	for _, log := range []string{"0 pitch | 20 0.998 | 25 top-up 0.2L of=lime", "0 pitch | 20 0.998 | 25 blend 0.2L of=heath"} {
		assert.False(t, after(t, 30, log, smaller).Alcohol.IsKnown(), "%s: nobody knows what it does", log)
	}
}

// TestDumpedVolume: mead already bottled stays, and a bottle poured away does not count for the vessel.
func TestDumpedVolume(t *testing.T) {
	half := "0 pitch | 40 0.997 | 50 bottle left=0.6L"
	for _, c := range []struct {
		log   string
		over  bool
		stage Stage
	}{
		{"0 pitch | 40 0.997 | 50 dump", true, Slowing},
		{half, false, Slowing},
		{half + " | 51 dump", false, Bottled},
		{half + " | 51 dump | 52 dump", true, Bottled},
		{half + " | 51 dump bottle=3", false, Slowing},
		{"0 pitch | 40 0.997 | 50 bottle | 51 dump bottle=3", false, Bottled},
		{"0 pitch | 40 0.997 | 50 bottle | 51 dump", true, Bottled},
	} {
		got := after(t, 60, c.log)
		assert.Equal(t, c.over, got.Over(), c.log)
		assert.Equal(t, c.stage, got.Stage, c.log)
	}
}
