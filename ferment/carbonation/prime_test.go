package carbonation_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/measure"
)

// From the conventional atomic weights of IUPAC: C₆H₁₂O₆ → 2 C₂H₅OH + 2 CO₂.
func TestPrimingYield(t *testing.T) {
	for _, c := range []struct {
		of    carbonation.Sugar
		water measure.Share
		want  float64
	}{
		{carbonation.Glucose, 0, 0.4886},
		{carbonation.Sucrose, 0, 0.5144},
		{carbonation.GlucoseMonohydrate, 0, 0.444},
		{carbonation.Honey, 17.2, 0.4886 * 0.828 * 0.92},
		{carbonation.Honey, 20, 0.4886 * 0.80 * 0.92},
	} {
		got, err := carbonation.PrimingYield(c.of, c.water)
		require.NoError(t, err)
		assert.InEpsilon(t, c.want, got, 5e-4, string(c.of))
	}
	for _, bad := range []measure.Share{0, 9, 31, measure.Share(math.NaN())} {
		got, err := carbonation.PrimingYield(carbonation.Honey, bad)
		assert.Error(t, err)
		assert.Zero(t, got)
	}
	_, err := carbonation.PrimingYield("sand", 18)
	assert.EqualError(t, err, `"sand" is not a sugar for priming (honey, sucrose, glucose or glucose monohydrate, e.g. honey)`)
}

func batch() carbonation.Priming {
	return carbonation.Priming{
		Volume: 3.2, Liquid: wine(6.1, 0), Warmest: 19, Target: 5, Size: 0.33,
		Left:  measure.Give[measure.Content](1.5, "1.5 g/L"),
		Sugar: carbonation.Honey, Water: measure.Give[measure.Share](17.2, "17.2 %"), Dissolved: measure.Give[measure.Volume](0, "0 mL"),
	}
}

// By stoichiometry: 3.5 g/L of gas from 0.3722 of each gram; 1 % as the
// figure promises. The alcohol: 46.069 g of ethanol with 44.009 g of gas, and
// 7.892 g/L of it are 1 % vol.
func TestPrime(t *testing.T) {
	for _, c := range []struct {
		what                        string
		change                      func(*carbonation.Priming)
		perLitre, perBottle, batchG float64
		assumed                     int
	}{
		{"honey", func(*carbonation.Priming) {}, 9.404, 3.103, 30.09, 2},
		{"wetter honey", func(p *carbonation.Priming) { p.Water = measure.Give[measure.Share](20, "20 %") }, 9.733, 3.212, 31.15, 2},
		{"honey unmeasured", func(p *carbonation.Priming) { p.Water = measure.Given[measure.Share]{} }, 9.404, 3.103, 30.09, 3},
		{"sucrose", func(p *carbonation.Priming) { p.Sugar = carbonation.Sucrose }, 6.804, 2.245, 21.77, 1},
		{"glucose", func(p *carbonation.Priming) { p.Sugar = carbonation.Glucose }, 7.163, 2.364, 22.92, 1},
		{"bottle known", func(p *carbonation.Priming) { p.Bottle = bottle(t, "crown beer bottle") }, 9.404, 3.103, 30.09, 1},
		{"flat", func(p *carbonation.Priming) { p.Left.Value = 0 }, 13.434, 4.433, 42.99, 2},
		{"in 100 mL", func(p *carbonation.Priming) { p.Dissolved = measure.Give[measure.Volume](0.1, "100 mL") }, 9.404, 3.103, 31.03, 2},
		{"in the usual 160 mL", func(p *carbonation.Priming) { p.Dissolved.Text = "" }, 9.404, 3.103, 31.60, 3},
	} {
		p := batch()
		c.change(&p)
		got, err := carbonation.Prime(p)
		require.NoError(t, err, c.what)
		assert.InEpsilon(t, c.perLitre, float64(got.PerLitre), 0.01, c.what)
		assert.InEpsilon(t, c.perBottle, got.PerBottle.Grams(), 0.01, c.what)
		assert.InEpsilon(t, c.batchG, got.Batch.Grams(), 0.01, c.what)
		assert.InEpsilon(t, float64(p.Target-p.Left.Value)*46.069/44.009/7.892, float64(got.Alcohol), 0.001, c.what)
		thinned := 6.1 * 3.2 * c.perLitre / c.batchG // as much alcohol in more liquid
		assert.InDelta(t, thinned+float64(got.Alcohol), float64(got.Strength), 0.01, c.what)
		assert.Len(t, got.Assumed, c.assumed, c.what)
	}
}

// If nobody says how much CO₂ is left, the dose assumes that of one atmosphere at the
// warmest.
func TestPrimeCountsTheGasLeft(t *testing.T) {
	p := batch()
	p.Left = measure.Given[measure.Content]{}
	left, err := carbonation.GasLeft(p.Liquid, p.Warmest)
	require.NoError(t, err)
	got, err := carbonation.Prime(p)
	require.NoError(t, err)
	assert.Equal(t, left, got.Left)
	p.Warmest = 25
	warmer, err := carbonation.Prime(p)
	require.NoError(t, err)
	assert.Greater(t, warmer.PerLitre, got.PerLitre)
}

func TestPrimeRefuses(t *testing.T) {
	nan := math.NaN()
	for what, spoil := range map[string]func(*carbonation.Priming){
		"no volume":          func(p *carbonation.Priming) { p.Volume = 0 },
		"NaN volume":         func(p *carbonation.Priming) { p.Volume = measure.Volume(nan) },
		"no bottle size":     func(p *carbonation.Priming) { p.Size = 0 },
		"infinite bottle":    func(p *carbonation.Priming) { p.Size = measure.Volume(math.Inf(1)) },
		"NaN alcohol":        func(p *carbonation.Priming) { p.Liquid.Alcohol = measure.Strength(nan) },
		"spirit":             func(p *carbonation.Priming) { p.Liquid.Alcohol = 40 },
		"boiling":            func(p *carbonation.Priming) { p.Left.Text = ""; p.Warmest = 100 },
		"NaN left":           func(p *carbonation.Priming) { p.Left.Value = measure.Content(nan) },
		"negative left":      func(p *carbonation.Priming) { p.Left.Value = -1 },
		"NaN target":         func(p *carbonation.Priming) { p.Target = measure.Content(nan) },
		"no target":          func(p *carbonation.Priming) { p.Target = 0 },
		"huge target":        func(p *carbonation.Priming) { p.Target = 300 },
		"dry honey":          func(p *carbonation.Priming) { p.Water.Value = 0 },
		"no sugar":           func(p *carbonation.Priming) { p.Sugar = "" },
		"still-wine bottle":  func(p *carbonation.Priming) { p.Bottle = bottle(t, "still-wine bottle") },
		"more than it holds": func(p *carbonation.Priming) { p.Bottle = bottle(t, "crown beer bottle"); p.Target = 6 },
	} {
		p := batch()
		spoil(&p)
		got, err := carbonation.Prime(p)
		assert.Error(t, err, what)
		assert.Zero(t, got, what)
	}
	p := batch()
	p.Target = 1.5
	_, err := carbonation.Prime(p)
	assert.EqualError(t, err, "it has 1.5 g/L of CO₂ already: aim higher than that, not at 1.5 g/L")
}

// Common practice, no source: 3 mL of honey in a small filled bottle carbonate
// it to between 4 and 7 g/L. Assumed: honey of 17.2 % water and 1.42 kg/L; a
// bottle of 330 to 355 mL; a ferment that has lost all its gas, or has kept
// what 12 % vol holds at 20 °C.
func TestSmallSpoonOfHoney(t *testing.T) {
	full, err := carbonation.GasLeft(wine(12, 0), 20)
	require.NoError(t, err)
	for _, left := range []measure.Content{0, full} {
		for _, size := range []measure.Volume{0.33, 0.355} {
			got, err := carbonation.Primed(left, measure.Grams(3*1.42), carbonation.Honey, 17.2, size)
			require.NoError(t, err)
			assert.Greater(t, got, measure.Content(4), "%v in %v", left, size)
			assert.Less(t, got, measure.Content(7), "%v in %v", left, size)
		}
	}
}

// A primed bottle reaches the target, and twice the batch takes twice the sugar.
func TestPrimeAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := batch()
		p.Left.Value = measure.Content(rapid.Float64Range(0, 2).Draw(t, "left"))
		p.Target = p.Left.Value + measure.Content(rapid.Float64Range(0.1, 10).Draw(t, "rise"))
		p.Size = measure.Volume(rapid.Float64Range(0.1, 2).Draw(t, "size"))
		p.Sugar = rapid.SampledFrom([]carbonation.Sugar{carbonation.Honey, carbonation.Sucrose, carbonation.Glucose}).Draw(t, "sugar")
		d, err := carbonation.Prime(p)
		require.NoError(t, err)
		got, err := carbonation.Primed(p.Left.Value, d.PerBottle, p.Sugar, 17.2, p.Size)
		require.NoError(t, err)
		assert.InDelta(t, float64(p.Target), float64(got), 1e-9)
		p.Volume *= 2
		twice, err := carbonation.Prime(p)
		require.NoError(t, err)
		assert.InDelta(t, 2*d.Batch.Grams(), twice.Batch.Grams(), 1e-9)
		assert.InDelta(t, d.PerBottle.Grams(), twice.PerBottle.Grams(), 1e-12)
	})
}

func TestPrimedRefuses(t *testing.T) {
	for _, bad := range []float64{-1, 1e6, math.NaN(), math.Inf(1)} {
		_, err := carbonation.Primed(measure.Content(bad), 0.003, carbonation.Sucrose, 0, 0.33)
		assert.Error(t, err)
		_, err = carbonation.Primed(1, measure.Mass(bad), carbonation.Sucrose, 0, 0.33)
		assert.Error(t, err)
		_, err = carbonation.Primed(1, 0.003, carbonation.Honey, measure.Share(bad), 0.33)
		assert.Error(t, err)
		_, err = carbonation.Primed(1, 0.003, carbonation.Sucrose, 0, measure.Volume(bad))
		assert.Error(t, err)
	}
}
