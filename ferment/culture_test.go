package ferment_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// TestWhatIsLeftOfACulture: the sums are arithmetic.
func TestWhatIsLeftOfACulture(t *testing.T) {
	at := func(day int) ferment.Moment {
		return ferment.At(time.Date(2026, time.October, day, 12, 0, 0, 0, time.UTC))
	}
	volume := func(text string) measure.Given[measure.Volume] {
		v, err := measure.ParseVolume(text)
		require.NoError(t, err)
		return v
	}
	amount := func(text string) ferment.Amount {
		q, err := measure.ParseQuantity(text)
		require.NoError(t, err)
		return ferment.Amount{Quantity: q}
	}
	grown := ferment.Entry{At: at(1), Did: ferment.Passage, Medium: volume("500 mL")}
	jug := func(id string, log ...ferment.Entry) ferment.Ferment {
		return ferment.Ferment{ID: id, Yeast: ferment.Yeast{Kind: ferment.Wild, Culture: "plum-1"}, Log: log}
	}
	pitched := func(day int, text string) ferment.Entry {
		return ferment.Entry{At: at(day), Did: ferment.Pitch, Amount: amount(text)}
	}
	unknown := ferment.Entry{At: at(3), Did: ferment.Pitch, Amount: ferment.Amount{Unknown: true}}
	other := jug("other", pitched(2, "100 mL"))
	other.Yeast.Culture = "sloe-1"
	for _, c := range []struct {
		name   string
		log    []ferment.Entry
		jugs   []ferment.Ferment
		left   float64 // mL
		known  bool
		jugged int
	}{
		{name: "no medium is written", log: []ferment.Entry{{At: at(1), Did: ferment.Collect}}},
		{name: "whole", log: []ferment.Entry{grown}, left: 500, known: true},
		{name: "over two jugs", log: []ferment.Entry{grown}, jugs: []ferment.Ferment{jug("a", pitched(2, "180 mL")), jug("b", pitched(2, "200 mL")), other}, left: 120, known: true, jugged: 2},
		{name: "more than there was", log: []ferment.Entry{grown}, jugs: []ferment.Ferment{jug("a", pitched(2, "300 mL")), jug("b", pitched(2, "300 mL"))}, left: -100, known: true, jugged: 2},
		{name: "bought yeast by the gram", log: []ferment.Entry{grown}, jugs: []ferment.Ferment{jug("a", pitched(2, "180 mL"), pitched(6, "1 g"))}, left: 320, known: true, jugged: 1},
		{name: "an unknown amount", log: []ferment.Entry{grown}, jugs: []ferment.Ferment{jug("a", unknown)}, left: 500, known: true, jugged: 1},
		{name: "measured since, and some thrown away", log: []ferment.Entry{grown, {At: at(3), Volume: volume("250 mL")}, {At: at(4), Lost: volume("50 mL")}},
			jugs: []ferment.Ferment{jug("a", pitched(2, "180 mL")), jug("b", pitched(5, "150 mL"))}, left: 50, known: true, jugged: 1},
		{name: "a starter for one jug, for two", log: []ferment.Entry{grown},
			jugs: []ferment.Ferment{jug("a", ferment.Entry{At: at(2), Did: ferment.Starter, Amount: amount("360 mL")}, pitched(4, "180 mL")), jug("b", pitched(4, "180 mL"))}, left: 500, known: true, jugged: 2},
		{name: "fed again", log: []ferment.Entry{grown, {At: at(9), Did: ferment.Passage, Medium: volume("200 mL")}}, jugs: []ferment.Ferment{jug("a", pitched(2, "180 mL"))}, left: 200, known: true},
		{name: "to come", log: []ferment.Entry{grown}, jugs: []ferment.Ferment{jug("a", pitched(25, "180 mL"))}, left: 500, known: true},
		{name: "thrown away", log: []ferment.Entry{grown, {At: at(9), Did: ferment.Discard}}},
	} {
		s := ferment.Culture{ID: "plum-1", Log: c.log}.Stock(c.jugs, at(20).Time)
		assert.Equal(t, c.known, s.Known, c.name)
		assert.InDelta(t, c.left, s.Left.Millilitres(), 1e-6, c.name)
		assert.Len(t, s.Pitched, c.jugged, c.name)
	}
}
