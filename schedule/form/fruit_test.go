package form

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/gravity"
)

// TestFruitGoesIn: with the table's values and uncertainty: 500 g of brambles with 5 % sugar, ±2 %, and 88 % water
// (from memory) are 25 g, ±10 g, and 440 g.
func TestFruitGoesIn(t *testing.T) {
	s := cellar(77, nil, lime("lime-a", atRest))
	_, o := rack(s, "what=fruit fruit=bramble fruit-mass='500 g' frozen=yes")
	require.Empty(t, wrong(o))
	assert.Equal(t, "25 g of sugar, ±10 g, and 440 g of water", o.Answer[0])
	e := o.Change.Entries[0].Entries[0]
	assert.Equal(t, ferment.FruitIn, e.Did)
	assert.Equal(t, []string{"500 g", "bramble, frozen", ""}, []string{e.Amount.Text, e.Of, e.Sugar.Text})
	assert.InDelta(t, 3.20+0.4564, float64(afterwards(s, o.Change, "lime-a")), 0.002)
	_, o = rack(s, "what=fruit fruit=bramble fruit-mass='500 g' fruit-sugar='7 %'")
	assert.Equal(t, "7 %", o.Change.Entries[0].Entries[0].Sugar.Text, "what was measured overrides it")
	for text, key := range map[string]string{"fruit= fruit-mass='500 g'": "fruit", "fruit=bramble fruit-mass=": "fruit-mass", "fruit=bramble fruit-mass='500 g' fruit-sugar='20 %'": "fruit-sugar"} {
		_, o := rack(s, "what=fruit "+text)
		assert.Contains(t, wrong(o), key+": ", text)
	}
}

// TestABrambleMeadByHand: 500 g of brambles in secondary, from the form to the label. By hand: 3.2 L of a must of 219.0
// g/L (20.19 °P, NBS C440) have 700.8 g of sugar; 25 g more in 3.656 L are 198.5 g/L. From 20.19 to −0.77 °P Balling has
// 11.70 % vol, 0.3743 L; 25 g more make 25/2.0665 = 12.1 g, 15.3 mL: 10.66 % vol of 3.656 L.
func TestABrambleMeadByHand(t *testing.T) {
	s := cellar(77, nil, lime("lime-a", atRest))
	_, o := rack(s, "what=fruit fruit=bramble fruit-mass='500 g'")
	require.Empty(t, wrong(o))
	s = goesOn(s, o.Change, 12)
	for _, typed := range []string{"0 fruit-out", "20 0.997 18C", "30 0.997 18C clear"} {
		e := logOf(typed)[0]
		e.At = ferment.At(s.At.Add(e.At.Time.Sub(pitched)))
		s = goesOn(s, ferment.Change{Entries: []ferment.Logged{{Subject: "lime-a", Entries: []ferment.Entry{e}}}}, 31)
	}
	c := s.Vessels[0].Course
	solids, err := gravity.Solids(c.Effective.Value)
	require.NoError(t, err)
	assert.InEpsilon(t, 198.5, float64(solids), 0.005, "sugar, in g/L")
	assert.InDelta(t, 10.66, float64(c.Alcohol.Value), 0.2, "alcohol, in % vol")
	assert.Contains(t, c.Alcohol.Assumed, "bramble", "its doubt is told")
	f, ok := Open("bottle", s, "lime-a", nil)
	require.True(t, ok)
	_, o = f.Outcome(Values{"volume": "3.4 L", "fizz-1": "none", Because: "by hand"})
	require.Empty(t, wrong(o), said(o))
	assert.Contains(t, said(o), "about "+c.Alcohol.Value.String(), "the label")
}
