package forecast_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
)

// truth is what the yeast of a simulated cellar does.
type truth struct {
	days, over float64 // until within 0.004 of its finish, and that over dry
	limit      float64 // % vol; 0 for none
}

// ferments returns a run of a cellar, with the differences of ferments of one yeast: a logistic fall, read to 0.001.
func (c truth) ferments(n int, dice *rand.Rand) run {
	original := 1.095 + 0.01*dice.Float64()
	dry, _ := alcohol.DryFinish(measure.Gravity(original), alcohol.Fermentable)
	told := 18.0
	finish := float64(dry) + c.over + 0.003*dice.NormFloat64()
	if c.limit > 0 {
		original, told = 1.130, 14
		end, _ := alcohol.FinishOf(1.130, measure.Give(measure.Strength(c.limit+0.4*dice.NormFloat64()), "given"), alcohol.Fermentable)
		finish = float64(end.Gravity)
	}
	days := c.days * math.Exp(0.25*dice.NormFloat64())
	middle := 0.4 * days
	k := math.Log((original-finish)/0.004) / (days - middle)
	r := run{name: fmt.Sprint("moor-", n), yeast: "moor", told: told}
	for day := 0.0; day < 1.6*days+6; day += max(2, days/8) {
		g := finish + (original-finish)*(1+math.Exp(-k*middle))/(1+math.Exp(k*(day-middle)))
		r.points = append(r.points, point{day, math.Round(g*1000+0.5*dice.NormFloat64()) / 1000, 20})
	}
	r.points[0].gravity = original
	return r
}

func (c truth) did(t *testing.T, n int, dice *rand.Rand) (ds []forecast.Did) {
	for i := range n {
		d, ok := c.ferments(i, dice).did()
		require.True(t, ok)
		ds = append(ds, d)
	}
	return ds
}

func ofMoor(told measure.Strength) ferment.Ferment {
	return ferment.Ferment{Yeast: ferment.Yeast{Name: "moor", Tolerance: measure.Give(told, "told")}}
}

func TestSimulatedCellarsAreRecovered(t *testing.T) {
	rates := map[float64]float64{}
	for _, c := range []truth{{days: 8}, {days: 22, over: 0.004}, {days: 45, over: -0.003}} {
		ds := c.did(t, 20, rand.New(rand.NewPCG(7, uint64(c.days))))
		e := forecast.Expect(ds, ofMoor(18))
		assert.Len(t, e.Like, 20)
		assert.InEpsilon(t, c.days, e.Days, 0.20)
		assert.False(t, e.Reached, "18 % is only told")
		assert.True(t, e.Early < c.days && c.days < e.Late)
		dry, _ := alcohol.DryFinish(e.Like[0].Original, alcohol.Fermentable)
		assert.InDelta(t, c.over, float64(e.Finish-dry), 0.002)
		for _, d := range ds {
			rates[c.days] += d.Rate / 20
		}
		t.Logf("%g days: %.1f (%.1f to %.1f); %.3f over dry: %.4f; rate %.2f", c.days, e.Days, e.Early, e.Late, c.over, float64(e.Finish-dry), rates[c.days])
	}
	assert.InDelta(t, math.Log(22.0/8), rates[8]-rates[22], 0.3, "the rates are apart as the days are")
	assert.InDelta(t, math.Log(45.0/22), rates[22]-rates[45], 0.3)
	e := forecast.Expect(truth{days: 30, limit: 12.5}.did(t, 8, rand.New(rand.NewPCG(1, 2))), ofMoor(14))
	assert.True(t, e.Reached)
	assert.InDelta(t, 12.5, float64(e.Tolerance), 0.4, "told 14")
	assert.Equal(t, forecast.AtLimit, e.Like[0].Ended())
}

// TestFewFermentsAreNotWorseThanNone scores the band at two and three readings, over many cellars whose yeasts differ
// as they are believed to, by interval score.
func TestFewFermentsAreNotWorseThanNone(t *testing.T) {
	dice := rand.New(rand.NewPCG(3, 4))
	var score, held, all [7]float64
	for range 40 {
		c := truth{days: 14 * math.Exp(0.6*dice.NormFloat64()), over: 0.004 * dice.NormFloat64()}
		ds, next := c.did(t, 6, dice), c.ferments(6, dice)
		for _, n := range []int{2, 3} {
			for _, few := range []int{0, 1, 2, 6} {
				f := forecast.Of(next.after(n), ds[:few]...)
				for i := n; i <= next.done(); i++ {
					b, g := bandAt(f, next.points[i].day), next.points[i].gravity
					score[few], all[few] = score[few]+b.score(g), all[few]+1
					count(&held[few], b.holds(g))
				}
			}
		}
	}
	for _, few := range []int{1, 2, 6} {
		t.Logf("%d: score %.4f against %.4f, coverage %.2f against %.2f", few, score[few]/all[few], score[0]/all[0], held[few]/all[few], held[0]/all[0])
		assert.Less(t, score[few], score[0], "%d ferments", few)
		assert.Greater(t, held[few]/all[few], 0.80)
	}
}

func TestExperienceIsOfTheYeastTheHoneyAndTheCellar(t *testing.T) {
	did := func(yeast, honey string, days float64, finish measure.Gravity, lost measure.Volume) forecast.Did {
		return forecast.Did{Kind: forecast.Kind{Yeast: yeast, Honey: honey}, ID: yeast + honey, Original: 1.090, Dry: 0.996, Finish: finish, Days: days, Lost: lost}
	}
	heath := ferment.HoneyPart{Lot: "heath", Mass: measure.Give(measure.Mass(1), "1 kg")}
	f := ofMoor(18)
	f.Must.Honey = []ferment.HoneyPart{heath}
	none := forecast.Expect(nil, f)
	yeast := forecast.Expect([]forecast.Did{did("moor", "lime", 30, 0.996, 0.5)}, f)
	honey := forecast.Expect([]forecast.Did{did("other", "heath", 30, 1.003, 0)}, f)
	assert.Greater(t, yeast.Days, honey.Days, "the days are the yeast's")
	assert.Greater(t, honey.Days, none.Days, "another yeast of the cellar says a little")
	assert.Greater(t, yeast.Lost, none.Lost)
	assert.Empty(t, honey.Like)
	ofHoney := forecast.Expect([]forecast.Did{did("other", "heath", 30, 1.003, 0)}, ferment.Ferment{Must: f.Must})
	assert.Greater(t, ofHoney.Finish, measure.Gravity(0.998), "what is left is the honey's")
}

func TestWhatAFermentDid(t *testing.T) {
	r := falling(20, 20)
	for _, day := range []float64{24, 30, 40} {
		r.points = append(r.points, point{day, 0.997, 20})
	}
	d, ok := r.did()
	assert.True(t, ok)
	assert.InDelta(t, 9.6, d.Days, 0.5)
	assert.InDelta(t, 0.997, float64(d.Finish), 0.0005)
	assert.Equal(t, forecast.AtDry, d.Ended())
	r.points = r.points[:8]
	_, ok = r.did()
	assert.False(t, ok, "it still falls")
}
