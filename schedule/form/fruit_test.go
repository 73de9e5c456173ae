package form

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
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
