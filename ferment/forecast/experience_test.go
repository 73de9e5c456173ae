package forecast_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
)

// cellarOf returns invented ferments of a yeast with a mean of so many days and so far over dry, with the usual spread
// of a yeast.
func cellarOf(days, over float64, n int, dice *rand.Rand) (ds []forecast.Did) {
	for range n {
		ds = append(ds, forecast.Did{Dry: 0.996, Days: days * math.Exp(0.25*dice.NormFloat64()),
			Finish: measure.Gravity(0.996 + over + 0.003*dice.NormFloat64())})
	}
	return ds
}

func TestSimulatedFermentsAreRecovered(t *testing.T) {
	for _, c := range []struct{ days, over float64 }{{8, 0}, {22, 0.004}, {45, 0.012}} {
		e := forecast.Expect(cellarOf(c.days, c.over, 12, rand.New(rand.NewPCG(7, uint64(c.days)))))
		assert.InEpsilon(t, c.days, e.Days, 0.20)
		assert.InDelta(t, c.over, float64(e.OverDry), 0.002)
		assert.True(t, e.EarlyDays < c.days && c.days < e.LateDays)
	}
}

// TestTwoFermentsAreNotWorseThanNone, by the mean error for the next ferment over many cellars with yeasts drawn from
// the prior.
func TestTwoFermentsAreNotWorseThanNone(t *testing.T) {
	dice := rand.New(rand.NewPCG(3, 4))
	with, without, held := 0.0, 0.0, 0.0
	const cellars = 400
	for range cellars {
		days, over := 14*math.Exp(0.6*dice.NormFloat64()), 0.002+0.005*dice.NormFloat64()
		next := cellarOf(days, over, 1, dice)[0]
		two := forecast.Expect(cellarOf(days, over, 2, dice))
		with += math.Abs(math.Log(two.Days / next.Days))
		without += math.Abs(math.Log(forecast.Expect(nil).Days / next.Days))
		if two.EarlyDays < next.Days && next.Days < two.LateDays {
			held++
		}
	}
	assert.Less(t, with, without)
	assert.Greater(t, held/cellars, 0.85)
}

func TestDidOf(t *testing.T) {
	r := falling(20, 20)
	for _, day := range []float64{24, 30, 40} {
		r.points = append(r.points, point{day, 0.997, 20})
	}
	d, ok := forecast.DidOf(r.after(len(r.points)))
	assert.True(t, ok)
	assert.InDelta(t, 9.6, d.Days, 0.5)
	assert.InDelta(t, 0.997, float64(d.Finish), 0.0005)
	_, ok = forecast.DidOf(r.after(8))
	assert.False(t, ok, "it still falls")
}
