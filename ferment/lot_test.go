package ferment_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

func kilos(v float64) measure.Given[measure.Mass] {
	return measure.Give(measure.Grams(1000*v), "weighed")
}

// TestLeft takes off what names the lot and nothing else (arithmetic).
func TestLeft(t *testing.T) {
	jug := ferment.Ferment{Must: ferment.Must{Honey: []ferment.HoneyPart{{Lot: "lime-26", Mass: kilos(1)}, {Lot: "ivy-26", Mass: kilos(2)}, {Lot: "lime-26"}}},
		Log: []ferment.Entry{
			{Did: ferment.Honey, Lot: "lime-26", Amount: ferment.Amount{Quantity: measure.Of(250, "g")}},
			{Did: ferment.Honey, Lot: "lime-26", Amount: ferment.Amount{Unknown: true}},
			{Did: ferment.Honey, Amount: ferment.Amount{Quantity: measure.Of(500, "g")}},
		}}
	lot := ferment.Lot{ID: "lime-26", Mass: kilos(4), Used: []ferment.Use{{Mass: kilos(0.5)}, {}}}
	left, ok := lot.Left([]ferment.Ferment{jug, jug})
	assert.True(t, ok)
	assert.InDelta(t, 1000, left.Grams(), 1e-9)
	_, ok = ferment.Lot{ID: "ivy-26"}.Left([]ferment.Ferment{jug})
	assert.False(t, ok, "nobody weighed it")
}
