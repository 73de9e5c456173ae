package schedule_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

func crown(fizz measure.Content) schedule.Filled {
	return schedule.Filled{Bottle: carbonation.Bottle{Kind: "crown beer bottle", Holds: 5.5, Rated: measure.Give[measure.Pressure](7, "7 bar")}, Fizz: fizz}
}

func soft(fizz measure.Content, test bool) schedule.Filled {
	return schedule.Filled{Bottle: carbonation.Bottle{Kind: "soft-drink bottle", Holds: 8}, Fizz: fizz, Test: test}
}

// TestBottlingOf: the bottles decide which gates apply. 5 g/L at 11.7 % vol and 30 °C is 5.5 bar with one point
// unfinished, 6.4 with two: by Commission Regulation (EEC) 2676/90 1.45 g/L dissolve under a bar at 20 °C, and 0.72 of
// that at 30 (Weiss 1974, and 24.8 kJ/mol for wine, from memory); the nitrogen of the air in the neck adds 0.9.
func TestBottlingOf(t *testing.T) {
	tested := atRest + "|70d 18:00 forced-test|75d 18:00 forced-test 0.997"
	weak := crown(5)
	weak.Bottle.Rated = measure.Give[measure.Pressure](4.7, "4.7 bar")
	for _, c := range []struct {
		what, log string
		bottles   []schedule.Filled
		gates     int
		no        string
		near      string
	}{
		{"still", tested, []schedule.Filled{crown(0)}, 1, "", "^$"},
		{"conditioned", tested, []schedule.Filled{crown(5), soft(5, true)}, 1, "", "^$"},
		{"both", tested, []schedule.Filled{crown(0), crown(5), soft(5, true)}, 2, "", "^$"},
		{"nothing chosen", tested, nil, 0, "", "^$"},
		{"no soft bottle", tested, []schedule.Filled{crown(5)}, 1, "bottle-conditioning", "^$"},
		{"a soft bottle to drink", tested, []schedule.Filled{crown(5), soft(5, false)}, 1, "bottle-conditioning", "^$"},
		{"no forced test", atRest, []schedule.Filled{crown(5), soft(5, true)}, 1, "bottle-conditioning", "^6.4 bar at 30 °C with 2 points unfinished; the crown"},
		{"still, without a forced test", atRest, []schedule.Filled{crown(0)}, 1, "", "^$"},
		{"5.5 into a bottle made for 5.5", tested, []schedule.Filled{crown(5.5), soft(5.5, true)}, 1, "", "^5.9 bar"},
		{"5.6 into a bottle made for 5.5", tested, []schedule.Filled{crown(5.6), soft(5, true)}, 1, "bottle-conditioning", "^6.0 bar"},
		{"a weak bottle beside strong ones", tested, []schedule.Filled{weak, soft(5, true)}, 1, "bottle-pressure and bottle-conditioning", "^$"},
		{"not clear, and no test", tested + "|76d 19:00 hazy", []schedule.Filled{crown(0), crown(5)}, 2, "still bottling and bottle-conditioning", "^$"},
		{"mould", tested + "|76d 19:00 look seen=mould", []schedule.Filled{crown(0)}, 1, "mould and still bottling", "^$"},
	} {
		b := schedule.BottlingOf(jug{plan: "small-jug", gravity: "1.084", log: c.log}.course("77d 09:00"), c.bottles)
		assert.Len(t, b.Gates, c.gates, c.what)
		var names []string
		if b.Stop != nil {
			names = append(names, b.Stop.Name)
			assert.NotEmpty(t, b.Stop.Why, c.what)
		}
		for _, g := range b.Gates {
			if !g.Open {
				names = append(names, string(g.Name))
			}
		}
		assert.Equal(t, c.no, strings.Join(names, " and "), c.what)
		assert.Regexp(t, c.near, b.Near, c.what)
	}
}

// TestUnreadableSettingsKeepEveryGateShut: if cellar.yaml cannot be read no limit is known, so nothing passes by the
// usual ones.
func TestUnreadableSettingsKeepEveryGateShut(t *testing.T) {
	c := jug{plan: "small-jug", gravity: "1.084", log: atRest + "|70d 18:00 forced-test|75d 18:00 forced-test 0.997"}.course("77d 09:00")
	c.Settings.Unread = true
	b := schedule.BottlingOf(c, []schedule.Filled{crown(0), crown(5), soft(5, true)})
	require.Len(t, b.Gates, 2)
	for _, g := range b.Gates {
		assert.False(t, g.Open)
		assert.Equal(t, ferment.Unlimited, g.Says)
	}
	assert.Empty(t, b.Near)
}

// TestStillBottlesShowTheirGas: the caution for a bottle without fizz is about the gas left in the mead.
func TestStillBottlesShowTheirGas(t *testing.T) {
	c := jug{plan: "small-jug", gravity: "1.084", log: atRest}.course("77d 09:00")
	b := schedule.BottlingOf(c, []schedule.Filled{crown(0)})
	require.NotNil(t, b.Still)
	assert.Equal(t, *schedule.StillCaution(c), *b.Still)
	assert.Nil(t, schedule.BottlingOf(c, []schedule.Filled{crown(5)}).Still)
}
