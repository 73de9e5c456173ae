package schedule_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

// TestPressureWarnsFromFourFifths of what a bottle stands, also where the
// caution has been seen before. 5 g/L at 11.7 % vol and 30 °C, a point
// unfinished, is 5.5 bar over the air: its gas by Commission Regulation (EEC) 2676/90 a
// bar keeps 1.45 g/L in at 20 °C, and 0.72 of that at 30 (Weiss 1974, and 24.8
// kJ/mol for wine, from memory), and the nitrogen of the air in the neck.
func TestPressureWarnsFromFourFifths(t *testing.T) {
	for _, c := range []struct {
		stands measure.Pressure
		loud   schedule.Loud
		says   string
	}{
		{8, schedule.Note, "^too much sugar bursts"},
		{7, schedule.Note, "^too much sugar bursts"},
		{6.7, schedule.Warn, `^5\.5 bar at 30 °C with 1 point unfinished; the soft-drink bottle is made for 6\.7 bar; too much`},
		{5.6, schedule.Warn, "^5.5 bar at 30 °C"},
	} {
		j := jug{plan: "small-jug bottle-conditioned", gravity: "1.084", log: atRest + "|70d 18:00 forced-test|75d 18:00 forced-test 0.997|77d 08:00 prime 30g"}
		j.settings = func(s *ferment.Settings) {
			s.Bottles = []ferment.BottleKind{
				{Kind: "soft-drink bottle", Holds: measure.Give(measure.Content(6), "6 g/L"), Stands: measure.Give(c.stands, c.stands.String())},
				{Kind: "crown beer bottle", Holds: measure.Give(measure.Content(6), "6 g/L"), Stands: measure.Give(c.stands-2, c.stands.String())},
			}
		}
		got, ok := task(j.day("77d 09:00"), "bottle")
		require.True(t, ok)
		require.NotNil(t, got.Caution, "%s: %s %s", c.stands, got.State, got.Reason)
		assert.Equal(t, c.loud, got.Caution.Loud, "%s", c.stands)
		assert.Regexp(t, c.says, got.Caution.Text, "%s", c.stands)
	}
}

// TestBottlesOfStillMeadAreWarnedAbout: the caution for bottles without fizz shows the pressure of gas and air with 0 to 3 points
// unfinished, and asks to remove gas that alone makes over half a bar. The gas is that at the warmest since the gravity
// was steady. By Commission Regulation (EEC) 2676/90 a wine of 11.7 % vol at 20 °C dissolves 1.45 g/L a bar; a point of
// gravity adds 1.05 g/L: 0.72 bar, less what goes into the neck; the air there adds 0.8 bar at 20 °C, 0.9 at 30.
func TestBottlesOfStillMeadAreWarnedAbout(t *testing.T) {
	for _, c := range []struct {
		ending      string
		temperature string
		hottest     measure.Temperature
		loud        schedule.Loud
		says        string
	}{
		{"still", "20C", 20, schedule.Note, "^0.8 bar at 20 °C with the air; with 1, 2 or 3 points of sugar left 1.5 bar, 2.1 bar or 2.8 bar$"},
		{"still", "20C", 30, schedule.Note, "^1.2 bar at 30 °C with the air; with"},
		{"still", "17C", 30, schedule.Note, "^1.4 bar at 30 °C with the air; with"},
		{"still", "17C", 34, schedule.Warn, "^its gas alone makes 0.7 bar at 34 °C: degas it or wait, else 1.7 bar at 34 °C with the air"},
	} {
		j := jug{plan: "small-jug " + c.ending, gravity: "1.084", log: strings.ReplaceAll(atRest, "18C", "17C") + "|77d 08:00 " + c.temperature}
		j.settings = func(s *ferment.Settings) { s.Hottest = c.hottest }
		got, ok := task(j.day("77d 09:00"), "bottle")
		require.True(t, ok)
		require.NotNil(t, got.Caution)
		assert.Equal(t, c.loud, got.Caution.Loud, "%s", c.temperature)
		assert.Regexp(t, c.says, got.Caution.Text, "%s", c.temperature)
	}
}

// TestTooStrongForThePressure: over 20 % vol no solubility is known (Commission Regulation (EEC) 2676/90); that is
// stated, and no gate opens.
func TestTooStrongForThePressure(t *testing.T) {
	j := jug{plan: "small-jug still", gravity: "1.150", log: strings.ReplaceAll(atRest, "0.997", "0.985")}
	j.ferment = func(f *ferment.Ferment) { f.Yeast.Tolerance = measure.Give(measure.Strength(25), "25 %") }
	c := j.courseAt(at("77d 09:00"))
	require.Greater(t, float64(c.Alcohol.Value), 20.0)
	require.NotNil(t, schedule.StillCaution(c))
	assert.Contains(t, schedule.StillCaution(c).Text, "the pressure in the bottles is not known: alcohol")
	g := gate(j.day("77d 09:00"), ferment.ConditioningGate)
	require.False(t, g.Open)
	found := false
	for _, u := range g.Unmet {
		found = found || u.What == "the pressure" && strings.Contains(u.Frees, "is outside 0 to 20 % vol")
	}
	assert.True(t, found, "%v", g.Unmet)
}
