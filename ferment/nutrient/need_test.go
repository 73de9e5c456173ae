package nutrient_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
)

var mg = measure.MilligramsPerLitre

func given(c measure.Content) measure.Given[measure.Content] {
	return measure.Give(c, c.String())
}

// Bisson and Butzke 2000, Am. J. Enol. Vitic. 51:168: 21, 23, 25 and 27 °Bx
// (from memory). The ends are the floor and the ceiling of the rule itself.
func TestBySugar(t *testing.T) {
	for _, c := range []struct {
		sugar measure.Brix
		mg    float64
	}{
		{21, 200}, {23, 250}, {25, 300}, {27, 350},
		{17.8, 120}, {10, 120}, {1, 120}, {33, 350}, {60, 350},
		{19.5, 162.5},
	} {
		got, err := nutrient.BySugar(c.sugar)
		require.NoError(t, err)
		assert.InDelta(t, c.mg, got.MilligramsPerLitre(), 1e-9, "%v °Bx", float64(c.sugar))
	}
}

// The rule of the need worked by hand: least of curve and 200, times demand,
// less the must's own.
func TestNeedOf(t *testing.T) {
	for _, c := range []struct {
		what  string
		must  nutrient.Must
		add   float64
		guess int // sentences of what was assumed
	}{
		{"medium, strong", nutrient.Must{Sugar: 23.8, Demand: nutrient.Medium}, 180, 1},
		{"high, strong", nutrient.Must{Sugar: 23.8, Demand: nutrient.High}, 230, 1},
		{"low, strong", nutrient.Must{Sugar: 23.8, Demand: nutrient.Low}, 130, 1},
		{"no demand named", nutrient.Must{Sugar: 23.8}, 180, 2},
		{"under 21 °Bx the curve counts", nutrient.Must{Sugar: 20, Demand: nutrient.Medium}, 155, 1},
		{"weak: the floor of the curve", nutrient.Must{Sugar: 12, Demand: nutrient.Medium}, 100, 1},
		{"weak and frugal", nutrient.Must{Sugar: 12, Demand: nutrient.Low}, 70, 1},
		{"own measured", nutrient.Must{Sugar: 23.8, Demand: nutrient.Medium, Own: given(mg(60))}, 140, 0},
		{"own of nothing", nutrient.Must{Sugar: 23.8, Demand: nutrient.Medium, Own: given(0)}, 200, 0},
		{"a target overrides curve and demand", nutrient.Must{Sugar: 12, Demand: nutrient.High, Target: given(mg(150))}, 130, 1},
		{"a target needs no sugar", nutrient.Must{Target: given(mg(250)), Own: given(mg(10))}, 240, 0},
		{"never under zero", nutrient.Must{Target: given(mg(50)), Own: given(mg(80))}, 0, 0},
	} {
		got, err := nutrient.NeedOf(c.must)
		require.NoError(t, err, c.what)
		assert.InDelta(t, c.add, got.Add.MilligramsPerLitre(), 1e-9, c.what)
		assert.Len(t, got.Assumed, c.guess, c.what)
	}
}

func TestNeedRefuses(t *testing.T) {
	ok := nutrient.Must{Sugar: 20}
	for what, spoil := range map[string]func(*nutrient.Must){
		"no sugar":        func(m *nutrient.Must) { m.Sugar = 0 },
		"less than none":  func(m *nutrient.Must) { m.Sugar = -3 },
		"a syrup":         func(m *nutrient.Must) { m.Sugar = 60.1 },
		"NaN sugar":       func(m *nutrient.Must) { m.Sugar = measure.Brix(math.NaN()) },
		"infinite sugar":  func(m *nutrient.Must) { m.Sugar = measure.Brix(math.Inf(1)) },
		"unknown demand":  func(m *nutrient.Must) { m.Demand = "greedy" },
		"negative own":    func(m *nutrient.Must) { m.Own = given(mg(-1)) },
		"own in g":        func(m *nutrient.Must) { m.Own = given(20) },
		"NaN own":         func(m *nutrient.Must) { m.Own = given(measure.Content(math.NaN())) },
		"target in g":     func(m *nutrient.Must) { m.Target = given(200) },
		"infinite target": func(m *nutrient.Must) { m.Target = given(measure.Content(math.Inf(1))) },
	} {
		m := ok
		spoil(&m)
		got, err := nutrient.NeedOf(m)
		assert.Error(t, err, what)
		assert.Zero(t, got, what)
	}
	_, err := nutrient.NeedOf(nutrient.Must{Sugar: 90})
	assert.EqualError(t, err, "sugar 90 °Bx is outside 1 to 60 °Bx")
}

// A stronger must never needs less, and never more than 250 mg/L in all.
func TestNeedGrowsWithSugar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(1, 60).Draw(t, "a"), rapid.Float64Range(1, 60).Draw(t, "b")
		demand := rapid.SampledFrom([]nutrient.Demand{nutrient.Low, nutrient.Medium, nutrient.High}).Draw(t, "demand")
		less, err := nutrient.NeedOf(nutrient.Must{Sugar: measure.Brix(min(a, b)), Demand: demand})
		require.NoError(t, err)
		more, err := nutrient.NeedOf(nutrient.Must{Sugar: measure.Brix(max(a, b)), Demand: demand})
		require.NoError(t, err)
		assert.LessOrEqual(t, less.Add, more.Add)
		assert.LessOrEqual(t, more.Wanted, mg(250))
		assert.InDelta(t, float64(more.Wanted), float64(more.Add+more.Own), 1e-12)
	})
}

// The published targets must lie on both sides of what is recommended here, so that it is
// not taken for settled.
func TestPublishedTargetsDisagree(t *testing.T) {
	lowest, highest, before := mg(1000), mg(0), mg(0)
	for _, a := range nutrient.Published() {
		assert.NotEmpty(t, a.Who)
		assert.GreaterOrEqual(t, a.Low, before, "%s stands out of order", a.Who)
		before = a.Low
		assert.LessOrEqual(t, a.Low, a.High, a.Who)
		lowest, highest = min(lowest, a.Low), max(highest, a.High)
	}
	assert.Less(t, lowest, nutrient.EnoughNitrogen)
	assert.Greater(t, highest, nutrient.EnoughNitrogen)
}
