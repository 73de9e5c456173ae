package ferment_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// The fermentable share of a must is its own, else the mean of its lots by mass, with the default for a lot without
// one.
func TestFermentableShareOfTheLots(t *testing.T) {
	share := func(s measure.Share) measure.Given[measure.Share] { return measure.Give(s, s.String()) }
	part := func(lot string, grams float64) ferment.HoneyPart {
		return ferment.HoneyPart{Lot: lot, Mass: measure.Give(measure.Grams(grams), "weighed")}
	}
	c := ferment.Cellar{Settings: ferment.DefaultSettings(nil), Lots: []ferment.Lot{{ID: "fir", Fermentable: share(76)}, {ID: "lime"}}}
	for what, m := range map[string]struct {
		must ferment.Must
		want measure.Given[measure.Share]
	}{
		"a lot that says nothing":    {ferment.Must{Honey: []ferment.HoneyPart{part("lime", 900)}}, measure.Given[measure.Share]{}},
		"no lot":                     {ferment.Must{Honey: []ferment.HoneyPart{part("", 900)}}, measure.Given[measure.Share]{}},
		"honeydew":                   {ferment.Must{Honey: []ferment.HoneyPart{part("fir", 900)}}, share(76)},
		"a quarter of it honeydew":   {ferment.Must{Honey: []ferment.HoneyPart{part("fir", 300), part("lime", 900)}}, share(83.5)},
		"the must's own word":        {ferment.Must{Honey: []ferment.HoneyPart{part("fir", 900)}, Fermentable: share(80)}, share(80)},
		"nobody weighed the portion": {ferment.Must{Honey: []ferment.HoneyPart{{Lot: "fir"}}}, share(76)},
	} {
		f := c.Joined([]ferment.Ferment{{Must: m.must, Stamp: 1}})[0]
		assert.Equal(t, m.want, f.Must.Fermentable, what)
		assert.Equal(t, m.want.Known() && !m.must.Fermentable.Known(), f.Stamp != 1, "%s: read anew where a lot says another share", what)
	}
}
