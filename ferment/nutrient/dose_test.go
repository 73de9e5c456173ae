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

var (
	salt  = nutrient.AmmoniumPhosphate
	yeast = nutrient.YeastDerived
)

func parts(of nutrient.Nutrient, shares ...measure.Share) []nutrient.Part {
	var ps []nutrient.Part
	for _, s := range shares {
		ps = append(ps, nutrient.Part{Share: s, Of: of})
	}
	return ps
}

// (NH₄)₂HPO₄ from the standard atomic weights of IUPAC: 28.014 of 132.056.
func TestNitrogenOfAmmoniumPhosphate(t *testing.T) {
	assert.InEpsilon(t, 28.014/132.056*1000, float64(salt.Nitrogen), 1e-6)
	assert.InEpsilon(t, 212, float64(salt.Nitrogen), 1e-3) // as tables print it
}

// Worked by hand: grams = mg/L × L × share / 212.14.
func TestPlan(t *testing.T) {
	for _, c := range []struct {
		what     string
		need     float64
		litres   measure.Volume
		parts    []nutrient.Part
		grams    []float64
		possible float64
		explain  string
	}{
		{"two halves", 116, 3.55, parts(salt, 50, 50), []float64{0.971, 0.971}, 116, ""},
		{"one dose", 180, 4, parts(salt, 100), []float64{3.394}, 180, ""},
		{"up to the cap", 203, 1, parts(salt, 100), []float64{0.957}, 203, ""},
		{"over the cap, evenly", 230, 3.6, parts(salt, 50, 50), []float64{1.728, 1.728}, 203.65, "of 230 wanted, 204 can come from this salt"},
		{"over the cap, unevenly", 230, 1, parts(salt, 65, 35), []float64{0.624, 0.336}, 203.65, "of 230 wanted, 204 can come from this salt"},
		{"the last part organic", 230, 1, append(parts(salt, 25, 25, 25), parts(yeast, 25)...), []float64{0.271, 0.271, 0.271, 1.4375}, 230, ""},
		{"only the salt is cut", 400, 1, append(parts(salt, 75), parts(yeast, 25)...), []float64{0.96, 2.5}, 303.65, "of 300 wanted, 204 can come from this salt"},
		{"organic has no cap", 400, 2, parts(yeast, 100), []float64{20}, 400, ""},
		{"three quarters of the need", 100, 1, parts(yeast, 40, 35), []float64{1, 0.875}, 75, ""},
		{"shares past the need", 100, 1, parts(yeast, 75, 50), []float64{1.5, 1}, 100, "the shares ask for 125 of the 100 mg/L needed"},
		{"shares past the need, not past the cap", 200, 1, parts(salt, 75, 50), []float64{0.5657, 0.3771}, 200, "the shares ask for 250 of the 200 mg/L needed"},
		{"no need", 0, 3, parts(salt, 50, 50), []float64{0, 0}, 0, ""},
		{"no parts", 100, 3, nil, nil, 0, ""},
	} {
		plan, err := nutrient.Plan(mg(c.need), c.litres, c.parts)
		require.NoError(t, err, c.what)
		require.Len(t, plan.Each, len(c.grams), c.what)
		total := 0.0
		for i, g := range c.grams {
			assert.InDelta(t, g, plan.Each[i].Mass.Grams(), 0.0006, c.what)
			total += plan.Each[i].Mass.Grams()
		}
		assert.InDelta(t, total, plan.Total.Grams(), 1e-9, c.what)
		assert.InDelta(t, c.possible, plan.Possible.MilligramsPerLitre(), 0.01, c.what)
		assert.Equal(t, c.explain, plan.Explain(), c.what)
		assert.Equal(t, c.explain == "", plan.Cut == nutrient.Uncut, c.what)
	}
}

func TestPlanRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	ok := parts(salt, 100)
	for _, c := range []struct {
		what  string
		need  measure.Content
		v     measure.Volume
		parts []nutrient.Part
	}{
		{"negative need", -0.1, 3, ok}, {"NaN need", measure.Content(nan), 3, ok}, {"need in mg", 200, 3, ok},
		{"no volume", 0.2, 0, ok}, {"negative volume", 0.2, -1, ok}, {"huge volume", 0.2, 1e9, ok}, {"infinite volume", 0.2, measure.Volume(inf), ok},
		{"NaN share", 0.2, 3, parts(salt, measure.Share(nan))}, {"negative share", 0.2, 3, parts(salt, -1)}, {"share over 100", 0.2, 3, parts(salt, 101)},
		{"no nitrogen in it", 0.2, 3, parts(nutrient.Nutrient{Name: "chalk", Kind: nutrient.Organic}, 100)},
		{"nothing but nitrogen", 0.2, 3, parts(nutrient.Nutrient{Name: "x", Kind: nutrient.Organic, Nitrogen: 1000}, 100)},
		{"no kind", 0.2, 3, parts(nutrient.Nutrient{Name: "x", Nitrogen: 40}, 100)},
	} {
		plan, err := nutrient.Plan(c.need, c.v, c.parts)
		assert.Error(t, err, c.what)
		assert.Zero(t, plan, c.what)
	}
}

// For any need the caps hold, nitrogen is conserved, and a jug of twice the volume takes
// twice the salt.
func TestPlanKeepsTheCaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		need := mg(rapid.Float64Range(0, 1000).Draw(t, "need"))
		v := measure.Volume(rapid.Float64Range(0.01, 1000).Draw(t, "volume"))
		ps := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) nutrient.Part {
			return nutrient.Part{
				Share: measure.Share(rapid.Float64Range(0, 100).Draw(t, "share")),
				Of:    rapid.SampledFrom([]nutrient.Nutrient{salt, yeast}).Draw(t, "of"),
			}
		}), 0, 5).Draw(t, "parts")
		plan, err := nutrient.Plan(need, v, ps)
		require.NoError(t, err)
		salted, nitrogen := 0.0, 0.0
		for _, d := range plan.Each {
			if d.Of.Kind == nutrient.Ammonium {
				salted += d.Mass.Grams() / float64(v)
			}
			nitrogen += d.Mass.Grams() * float64(d.Of.Nitrogen) / float64(v)
			assert.LessOrEqual(t, d.Nitrogen, d.Wanted*(1+1e-9))
		}
		assert.LessOrEqual(t, salted, float64(nutrient.MostAmmonium)*(1+1e-9))
		assert.LessOrEqual(t, nitrogen, need.MilligramsPerLitre()*(1+1e-8))
		assert.InDelta(t, nitrogen, plan.Possible.MilligramsPerLitre(), 1e-6)
		twice, err := nutrient.Plan(need, 2*v, ps)
		require.NoError(t, err)
		assert.InDelta(t, 2*plan.Total.Grams(), twice.Total.Grams(), 1e-6)
	})
}

// After a whole plan, given dose by dose, there is no room and no cap is exceeded.
func TestRoomAfterAPlan(t *testing.T) {
	for _, need := range []measure.Content{mg(116), mg(230)} {
		plan, err := nutrient.Plan(need, 3.6, parts(salt, 50, 50))
		require.NoError(t, err)
		var so nutrient.Given
		for _, d := range plan.Each {
			room, _, err := nutrient.Room(need, so, salt, 3.6)
			require.NoError(t, err)
			assert.GreaterOrEqual(t, room.Grams(), d.Mass.Grams()-1e-9)
			so, err = so.With(d.Mass, salt, 3.6)
			require.NoError(t, err)
		}
		room, cut, err := nutrient.Room(need, so, salt, 3.6)
		require.NoError(t, err)
		assert.InDelta(t, 0, room.Grams(), 1e-9)
		assert.Equal(t, need == mg(230), cut == nutrient.BySalt)
	}
}

// Worked by hand from 212.14 mg/g, 40 mg/g and 0.96 g/L.
func TestRoom(t *testing.T) {
	for _, c := range []struct {
		what  string
		need  float64
		given nutrient.Given
		of    nutrient.Nutrient
		grams float64
		cut   nutrient.Cut
	}{
		{"nothing given", 116, nutrient.Given{}, salt, 1.0936, nutrient.ByNeed},
		{"half given", 116, nutrient.Given{Nitrogen: mg(58), Ammonium: 0.2734}, salt, 0.5468, nutrient.ByNeed},
		{"the salt is used up", 230, nutrient.Given{Nitrogen: mg(200), Ammonium: 0.943}, salt, 0.034, nutrient.BySalt},
		{"organic may follow it", 230, nutrient.Given{Nitrogen: mg(200), Ammonium: 0.943}, yeast, 1.5, nutrient.ByNeed},
		{"too much given", 100, nutrient.Given{Nitrogen: mg(150)}, yeast, 0, nutrient.ByNeed},
		{"too much salt", 230, nutrient.Given{Ammonium: 1.2}, salt, 0, nutrient.BySalt},
	} {
		room, cut, err := nutrient.Room(mg(c.need), c.given, c.of, 2)
		require.NoError(t, err, c.what)
		assert.InDelta(t, c.grams, room.Grams(), 0.001, c.what)
		assert.Equal(t, c.cut, cut, c.what)
	}
}

func TestRoomRefuses(t *testing.T) {
	nan := measure.Content(math.NaN())
	_, _, err := nutrient.Room(0.1, nutrient.Given{Nitrogen: nan}, salt, 3)
	assert.Error(t, err)
	_, _, err = nutrient.Room(0.1, nutrient.Given{Ammonium: -1}, salt, 3)
	assert.Error(t, err)
	_, _, err = nutrient.Room(0.1, nutrient.Given{}, nutrient.Nutrient{}, 3)
	assert.Error(t, err)
	_, _, err = nutrient.Room(nan, nutrient.Given{}, salt, 3)
	assert.Error(t, err)
	_, err = nutrient.Given{}.With(-1, salt, 3)
	assert.Error(t, err)
	_, err = nutrient.Given{}.With(1, salt, 0)
	assert.Error(t, err)
	_, err = nutrient.Given{}.With(1, nutrient.Nutrient{}, 3)
	assert.Error(t, err)
}

func TestBufferRoom(t *testing.T) {
	for _, c := range []struct {
		given measure.Content
		grams float64
	}{{0, 6}, {0.4, 4.4}, {1.5, 0}, {2, 0}} {
		room, err := nutrient.BufferRoom(c.given, 4)
		require.NoError(t, err)
		assert.InDelta(t, c.grams, room.Grams(), 1e-9)
	}
	_, err := nutrient.BufferRoom(measure.Content(math.NaN()), 4)
	assert.Error(t, err)
	_, err = nutrient.BufferRoom(0, 0)
	assert.Error(t, err)
}
