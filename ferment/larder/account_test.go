package larder_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
)

var now = time.Date(2026, time.December, 1, 9, 0, 0, 0, time.UTC)

func day(n int) ferment.Moment {
	return ferment.At(time.Date(2026, time.September, n, 12, 0, 0, 0, time.UTC))
}

func mass(text string) measure.Given[measure.Mass] {
	m, err := measure.ParseMass(text)
	if err != nil {
		panic(err)
	}
	return m
}

func amount(text string) ferment.Amount {
	q, err := measure.ParseQuantity(text)
	if err != nil {
		panic(err)
	}
	return ferment.Amount{Quantity: q}
}

func must(lot, text string) ferment.Must {
	return ferment.Must{Honey: []ferment.HoneyPart{{Lot: lot, Mass: mass(text)}}}
}

// TestAccount subtracts every take that names the lot. 115.6 g bring 3.6 L from 1.092 to
// 1.100, 28.9 g prime 3.2 L, 2.99 g a bottle of 330 mL (worked examples of the mass
// balance); the sums are arithmetic.
func TestAccount(t *testing.T) {
	lot := ferment.Lot{ID: "lime-26", Mass: mass("8.2 kg"), Taken: day(1),
		Used: []ferment.Use{{At: day(20), Mass: mass("500 g"), For: "table"}}}
	open := ferment.Ferment{ID: "lime-a", Must: must("lime-26", "980 g"), Log: []ferment.Entry{
		{At: day(2), Did: ferment.Pitch},
		{At: day(5), Did: ferment.Honey, Lot: "lime-26", Amount: amount("115.6 g")},
		{At: day(9), Did: ferment.Sorbate},
		{At: day(11), Did: ferment.Honey, Lot: "lime-26", Amount: amount("60 g")},
		{At: day(12), Did: ferment.Honey, Lot: "ivy-26", Amount: amount("400 g")},
		{At: day(13), Did: ferment.Nutrient, Amount: amount("1.5 g")},
	}}
	closed := ferment.Ferment{ID: "lime-0", Past: true, Must: must("lime-26", "1.1 kg"), Log: []ferment.Entry{
		{At: day(3), Did: ferment.Mix},
		{At: day(28), Did: ferment.Prime, Lot: "lime-26", Amount: amount("28.9 g")},
		{At: day(28), Did: ferment.Bottle, Lot: "lime-26", Bottles: []ferment.Bottles{{Count: 9, Honey: mass("2.99 g")}}},
	}}
	bottles := ferment.Ferment{ID: "lime-c", Log: []ferment.Entry{
		{At: day(29), Did: ferment.Bottle, Lot: "lime-26", Bottles: []ferment.Bottles{{Count: 9, Honey: mass("2.99 g")}, {Count: 2}}},
	}}
	part := ferment.Ferment{ID: "lime-d", From: ferment.Origin{Ferment: "lime-a"}, Must: must("lime-26", "980 g")}
	a := larder.Of(lot, []ferment.Ferment{open, closed, bottles, part}, now)
	type take struct {
		by  string
		why larder.Purpose
		g   float64
	}
	var got []take
	for _, x := range a.Takes {
		got = append(got, take{x.By, x.For, x.Mass.Grams()})
	}
	want := []take{
		{"lime-a", larder.ForMust, 980}, {"lime-0", larder.ForMust, 1100}, {"lime-a", larder.ForFeeding, 115.6},
		{"lime-a", larder.ForSweetening, 60}, {"", larder.Elsewhere, 500}, {"lime-0", larder.ForPriming, 28.9}, {"lime-c", larder.ForBottles, 9 * 2.99},
	}
	require.Len(t, got, len(want), "%v", got)
	sum := 0.0
	for i, w := range want {
		assert.Equal(t, w.by, got[i].by)
		assert.Equal(t, w.why, got[i].why)
		assert.InDelta(t, w.g, got[i].g, 1e-6)
		sum += w.g
	}
	assert.InDelta(t, 8200-sum, a.Left.Mass.Grams(), 1e-6)
	assert.InDelta(t, sum, a.Taken().Grams(), 1e-6)
	assert.InDelta(t, 70.7, a.Left.Within.Grams(), 0.1, "half of 0.1 kg twice: the other digits are as nothing beside it")
	assert.False(t, a.Left.Overdrawn())
	assert.Equal(t, 91*24*time.Hour-3*time.Hour, a.Age)
}

// TestUnknownAmountsAreCounted: a take of unknown amount is counted as such, and later
// entries are ignored.
func TestUnknownAmountsAreCounted(t *testing.T) {
	lot := ferment.Lot{ID: "lime-26", Mass: mass("2.00 kg"), Water: measure.Give(measure.Share(17), "17 %")}
	f := ferment.Ferment{ID: "a", Log: []ferment.Entry{
		{At: day(1), Did: ferment.Honey, Lot: "lime-26", Amount: ferment.Amount{Unknown: true}},
		{At: day(2), Did: ferment.Honey, Lot: "lime-26"},
		{At: day(3), Did: ferment.Honey, Lot: "lime-26", Amount: amount("1 cup")},
		{At: day(4), Did: ferment.Honey, Lot: "lime-26", Amount: amount("100 mL")},
		{At: day(120), Did: ferment.Honey, Lot: "lime-26", Amount: amount("1 kg")},
	}}
	a := larder.Of(lot, []ferment.Ferment{f}, now)
	assert.Equal(t, 2, a.Left.Unweighed)
	require.Len(t, a.Takes, 4, "what lies later than now is not taken yet")
	assert.InDelta(t, 336, a.Takes[2].Mass.Grams(), 1, "a US cup of honey weighs 336 g (White 1975 by 236.6 mL)")
	assert.True(t, a.Takes[2].Spoon)
	assert.InDelta(t, 84, a.Takes[2].Within.Grams(), 1, "a quarter of it")
	assert.InDelta(t, 142.1, a.Takes[3].Mass.Grams(), 0.5)
	unweighed := larder.Of(ferment.Lot{ID: "lime-26"}, []ferment.Ferment{f}, now)
	assert.False(t, unweighed.Left.Weighed)
	assert.False(t, unweighed.Left.Gone())
	assert.False(t, unweighed.Left.Overdrawn())
}

func TestOverdrawnBeyondTheScalesError(t *testing.T) {
	for _, c := range []struct {
		lot, took       string
		overdrawn, gone bool
	}{
		{"1 kg", "900 g", false, false},
		{"1 kg", "1000 g", false, true},
		{"1 kg", "1400 g", false, true}, // 1 kg may be 1.4 kg
		{"1 kg", "1600 g", true, true},
		{"1.00 kg", "1010 g", true, true},
		{"2 lb 8 oz", "1150 g", true, true}, // 1134 g, half an ounce is 14 g
		{"2 lb 8 oz", "1140 g", false, true},
	} {
		lot := ferment.Lot{ID: "x", Mass: mass(c.lot)}
		a := larder.Of(lot, []ferment.Ferment{{ID: "a", Must: must("x", c.took)}}, now)
		assert.Equal(t, c.overdrawn, a.Left.Overdrawn(), "%s of %s: %v within %v", c.took, c.lot, a.Left.Mass, a.Left.Within)
		assert.Equal(t, c.gone, a.Left.Gone(), "%s of %s", c.took, c.lot)
	}
}
