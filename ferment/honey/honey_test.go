package honey

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/gravity"
	"cellar/jugkeeper/ferment/internal/published"
	"cellar/jugkeeper/ferment/measure"
)

// IHC Harmonised Methods 2009 = AOAC 969.38: the table is rounded to 0.0001 in
// the index, 0.04 % of water; the equation meets every row to 0.022.
func TestWaterByRefractiveIndex(t *testing.T) {
	for _, row := range published.Table(t, "06a-honey-moisture-ri.csv") {
		w, err := Water(gravity.Index(row.Number(t, "n20")), 20)
		require.NoError(t, err)
		assert.InDelta(t, row.Number(t, "moisture_pct"), float64(w), 0.03, "n = %s", row["n20"])
	}
}

// The constant printed as 1.73190 is −0.26810: 1.4966 is 16.0 % (Chataway 1932, revised by Wedmore 1955).
func TestWedmoreConstantIsInBarNotation(t *testing.T) {
	w, err := Water(1.4966, 20)
	require.NoError(t, err)
	assert.InDelta(t, 16.0, float64(w), 0.03)
	warm, err := Water(1.4966-0.00023*5, 25)
	require.NoError(t, err)
	assert.InDelta(t, float64(w), float64(warm), 1e-9, "0.00023 a kelvin, from memory")
}

func TestIndexAndBrixRoundTrip(t *testing.T) {
	for w := measure.Share(12.5); w <= 25.5; w += 0.5 {
		n, err := Index(w)
		require.NoError(t, err)
		back, err := Water(n, 20)
		require.NoError(t, err)
		assert.InDelta(t, float64(w), float64(back), 1e-9)
		b, err := BrixOf(w)
		require.NoError(t, err)
		again, err := WaterByBrix(b)
		require.NoError(t, err)
		assert.InDelta(t, float64(w), float64(again), 0.01)
		assert.Greater(t, 100-float64(b), float64(w), "honey is drier than 100 less a sugar refractometer's reading says")
	}
}

// White 1975, from memory.
func TestDensityOfHoney(t *testing.T) {
	for _, row := range published.Table(t, "06b-honey-sg.csv") {
		g, err := Gravity(measure.Share(row.Number(t, "moisture_pct")))
		require.NoError(t, err)
		assert.InDelta(t, row.Number(t, "sg_20_20"), float64(g), 0.0005)
	}
	between, err := Gravity(17.5)
	require.NoError(t, err)
	assert.InDelta(t, (1.4237+1.4171)/2, float64(between), 1e-9)
}

// Recipe-book form: a Delaware extension leaflet gives 3 to 3.5 lb in a US gallon of
// water for 1.095; 3.25 lb of honey with 17.2 % water is 1.0976 by hand.
func TestHoneyIntoWater(t *testing.T) {
	gallon := measure.Volume(3.785411784)
	g := func(pounds float64) float64 {
		r, err := IntoWater(measure.Mass(pounds*0.45359237), gallon, Typical)
		require.NoError(t, err)
		return float64(r.Gravity)
	}
	assert.Less(t, g(3.0), 1.095)
	assert.Greater(t, g(3.5), 1.095)
	assert.InDelta(t, 1.0976, g(3.25), 0.004)
}

// Worked by hand: grams for a litre of honey with 17.2 % water.
func TestHoneyForAGravity(t *testing.T) {
	for g, grams := range map[measure.Gravity]float64{1.040: 125, 1.060: 188, 1.080: 252, 1.100: 315, 1.120: 379} {
		r, err := ForGravity(g, 1, Typical)
		require.NoError(t, err)
		assert.InDelta(t, grams, r.Honey.Grams(), 0.006*grams, "%v", g)
		back, err := FromMass(r.Honey, 1, Typical)
		require.NoError(t, err)
		assert.InDelta(t, float64(g), float64(back.Gravity), 1e-6)
		into, err := IntoWater(r.Honey, r.Water, Typical)
		require.NoError(t, err)
		assert.InDelta(t, float64(g), float64(into.Gravity), 1e-4, "the same must by its water")
		assert.InDelta(t, 1, float64(into.Volume), 1e-3)
		triple, err := ForGravity(g, 3, Typical)
		require.NoError(t, err)
		assert.InDelta(t, 3*r.Honey.Grams(), triple.Honey.Grams(), 1e-6, "it scales with the volume")
	}
}

// Common practice, no source: 900 g of honey made up to 3.75 L ends dry, between
// 0.996 and 1.000, at around 10 % vol. Assumed: 17.2 % water in the honey, a bought
// yeast that bears 14 %.
func TestNineHundredGramsOfHoneyMakeTenPerCent(t *testing.T) {
	r, err := FromMass(0.900, 3.75, Typical)
	require.NoError(t, err)
	end, err := alcohol.FinishOf(r.Gravity, measure.Give(measure.Strength(14), "14 %"), alcohol.Fermentable)
	require.NoError(t, err)
	assert.GreaterOrEqual(t, float64(end.Gravity), 0.996)
	assert.LessOrEqual(t, float64(end.Gravity), 1.000)
	assert.InDelta(t, 10, float64(end.Alcohol), 1)
}

func TestImpossibleValuesAreRefused(t *testing.T) {
	nan := math.NaN()
	for name, err := range map[string]error{
		"NaN gravity":    second(ForGravity(measure.Gravity(nan), 1, 17)),
		"gravity of one": second(ForGravity(1.000, 1, 17)),
		"no volume":      second(ForGravity(1.080, 0, 17)),
		"dry honey":      second(ForGravity(1.080, 1, 0)),
		"huge volume":    second(FromMass(1, 1e9, 17)),
		"negative honey": second(IntoWater(-1, 1, 17)),
		"no honey index": second(Water(1.33, 20)),
		"hot index":      second(Water(1.49, 90)),
		"lower by honey": second(Sweeten(Mead{3, 1.010, 10}, 1.000, 17)),
		"wet density":    second(Gravity(22)),
		"infinite blend": second(Blend(Mead{measure.Volume(math.Inf(1)), 1, 1})),
	} {
		assert.Error(t, err, name)
	}
}

func TestWildNumbersAreRefused(t *testing.T) {
	figures := map[string]func(v float64) error{
		"for gravity":       func(v float64) error { return second(ForGravity(measure.Gravity(v), 1, 17)) },
		"for volume":        func(v float64) error { return second(ForGravity(1.080, measure.Volume(v), 17)) },
		"for honey":         func(v float64) error { return second(ForGravity(1.080, 1, measure.Share(v))) },
		"from mass":         func(v float64) error { return second(FromMass(measure.Mass(v), 1, 17)) },
		"into water":        func(v float64) error { return second(IntoWater(1, measure.Volume(v), 17)) },
		"index":             func(v float64) error { return second(Water(gravity.Index(v), 20)) },
		"index of water":    func(v float64) error { return second(Index(measure.Share(v))) },
		"reading":           func(v float64) error { return second(WaterByBrix(measure.Brix(v))) },
		"reading of water":  func(v float64) error { return second(BrixOf(measure.Share(v))) },
		"density":           func(v float64) error { return second(Density(measure.Share(v))) },
		"raise volume":      func(v float64) error { return second(Correct(measure.Volume(v), 1.02, 1.03, 17)) },
		"raise from":        func(v float64) error { return second(Correct(3, measure.Gravity(v), 1.1, 17)) },
		"raise to":          func(v float64) error { return second(Correct(3, 1.02, measure.Gravity(v), 17)) },
		"sweeten volume":    func(v float64) error { return second(Sweeten(Mead{measure.Volume(v), 1, 10}, 1.01, 17)) },
		"sweeten from":      func(v float64) error { return second(Sweeten(Mead{3, measure.Gravity(v), 10}, 1.19, 17)) },
		"sweeten to":        func(v float64) error { return second(Sweeten(Mead{3, 1, 10}, measure.Gravity(v), 17)) },
		"sweeten by":        func(v float64) error { return second(SweetenBy(Mead{Volume: 3}, measure.Content(v), 17)) },
		"dissolved honey":   func(v float64) error { return second(Dissolved(measure.Mass(v), 17)) },
		"lower volume":      func(v float64) error { return second(Correct(measure.Volume(v), 1.1, 1.09, 17)) },
		"lower from":        func(v float64) error { return second(Correct(3, measure.Gravity(v), 1.09, 17)) },
		"lower to":          func(v float64) error { return second(Correct(3, 1.1, measure.Gravity(v), 17)) },
		"blend of a volume": func(v float64) error { return second(Blend(Mead{measure.Volume(v), 1, 10})) },
		"blend of gravity":  func(v float64) error { return second(Blend(Mead{1, measure.Gravity(v), 10})) },
	}
	for name, refuses := range figures {
		for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 0, 1e300} {
			assert.Error(t, refuses(v), "%s of %v", name, v)
		}
	}
	assert.EqualError(t, second(Gravity(22)), "water in honey 22 % is outside 13 to 21 %")
}

func second[T any](_ T, err error) error { return err }
