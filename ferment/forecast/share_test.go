package forecast_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
)

// ofShare returns what a simulated ferment did whose honey ferments to a share: a logistic fall of three weeks, read to
// 0.001, whose end differs by 0.002 from what the share says.
func ofShare(t *testing.T, share measure.Share, original float64, dice *rand.Rand, set ...func(*ferment.Ferment)) (forecast.Did, bool) {
	dry, err := alcohol.DryFinish(measure.Gravity(original), share)
	require.NoError(t, err)
	finish := float64(dry) + 0.002*dice.NormFloat64()
	r := run{name: "lime", yeast: "moor", told: 20, points: []point{{0, original, 20}}}
	for day := 2.0; day < 50; day += 4 {
		g := finish + (original-finish)*(1+math.Exp(-4))/(1+math.Exp(0.4*(day-10)))
		r.points = append(r.points, point{day, math.Round(g*1000+0.5*dice.NormFloat64()) / 1000, 20})
	}
	f, end := r.ferment(len(r.points)), r.points[len(r.points)-1]
	f.Must.Honey = []ferment.HoneyPart{{Lot: "lime-26", Mass: measure.Give(measure.Mass(1), "1 kg")}}
	test := ferment.Entry{Did: ferment.ForcedTest, At: ferment.At(dayAt(end.day)), Order: len(f.Log), Gravity: measure.Give(measure.Gravity(end.gravity), "read")}
	f.Log = append(f.Log, test)
	for _, change := range set {
		change(&f)
	}
	return forecast.DidOf(f, ferment.DefaultSettings(time.UTC), dayAt(60))
}

// TestFermentableShareIsRecovered lets honeys of a known share ferment: from honeydew to a honey that leaves little.
func TestFermentableShareIsRecovered(t *testing.T) {
	dice := rand.New(rand.NewPCG(11, 14))
	for _, truth := range []measure.Share{76, 82, 86, 90, 93} {
		var off, all, held float64
		for range 20 {
			var ds []forecast.Did
			for range 6 {
				d, ok := ofShare(t, truth, math.Round(1000*(1.060+0.06*dice.Float64()))/1000, dice)
				require.True(t, ok)
				ds = append(ds, d)
			}
			s, ok := forecast.ShareOf(ds, "lime-26", 86)
			require.True(t, ok)
			assert.Equal(t, 6, s.Of)
			off, all = off+math.Abs(float64(s.Share-truth)), all+1
			if s.Low <= truth && truth <= s.High {
				held++
			}
			one, _ := forecast.ShareOf(ds[:1], "lime-26", 86)
			assert.Greater(t, one.High-one.Low, s.High-s.Low)
			assert.LessOrEqual(t, math.Abs(float64(one.Share-86)), math.Abs(float64(ds[0].Fermented-86)), "few are adjusted toward what is usual")
		}
		t.Logf("%v: off by %.1f, within the spread %.0f of %.0f", truth, off/all, held, all)
		assert.Less(t, off/all, 2.0, truth)
		assert.GreaterOrEqual(t, held/all, 0.85, truth)
	}
}

func TestNoShareIsSuggestedFromWhatDoesNotShowIt(t *testing.T) {
	untested := func(f *ferment.Ferment) { f.Log = f.Log[:len(f.Log)-1] }
	for name, c := range map[string]struct {
		share measure.Share
		set   func(*ferment.Ferment)
		shows bool
	}{
		"high, passed its test":      {74, func(*ferment.Ferment) {}, true},
		"high, perhaps stuck":        {74, untested, false},
		"dry, without a test":        {88, untested, true},
		"two lots":                   {88, func(f *ferment.Ferment) { f.Must.Honey = append(f.Must.Honey, ferment.HoneyPart{Lot: "ivy-25"}) }, false},
		"fruit":                      {88, func(f *ferment.Ferment) { f.Must.Fruit = []ferment.FruitPart{{Name: "bramble"}} }, false},
		"a test that fell":           {74, func(f *ferment.Ferment) { f.Log[len(f.Log)-1].Gravity.Value -= 0.004 }, false},
		"honey fed":                  {88, func(f *ferment.Ferment) { f.Log[4].Did = ferment.Honey }, false},
		"nutrient given":             {88, func(f *ferment.Ferment) { f.Log[1].Did = ferment.Nutrient }, true},
		"of a lot that is not named": {88, func(f *ferment.Ferment) { f.Must.Honey[0].Lot = "" }, false},
	} {
		d, ok := ofShare(t, c.share, 1.090, rand.New(rand.NewPCG(2, 6)), c.set)
		require.True(t, ok || !c.shows, name)
		s, shown := forecast.ShareOf([]forecast.Did{d}, "lime-26", 86)
		assert.Equal(t, c.shows, shown, name)
		if shown {
			assert.Regexp(t, `^from 1 of yours with this lot: \d\d % ferments \(\d\d to \d\d %\)$`, s.String())
		}
	}
	light, ok := ofShare(t, 88, 1.045, rand.New(rand.NewPCG(2, 6)))
	require.True(t, ok)
	assert.Zero(t, light.Fermented, "0.001 is 2 % of a light must")
}
