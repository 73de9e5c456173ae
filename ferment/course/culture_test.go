package course

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// grown returns the course of a culture so many days after it was collected.
func grown(t *testing.T, days float64, log string) *Course {
	t.Helper()
	k := ferment.Culture{ID: "hawthorn-2", Log: logOf(t, log), Verdict: "trying"}
	return OfCulture(k, ferment.DefaultSettings(time.UTC), ferment.DefaultLimits(), pitchedAt.Add(time.Duration(days*24*float64(time.Hour))))
}

// TestPassageStartsANewMedium: a higher gravity after it is not a rise (common practice, no source).
func TestPassageStartsANewMedium(t *testing.T) {
	log := "0 collect | 0.1 passage 1.036 step=w1 | 5 1.020 | 5.1 passage 1.040 step=w2 | 8 1.022 | 8.1 prove 1.084 | 13 1.041 | 22 1.022"
	c := grown(t, 22, log)
	for _, r := range c.Readings {
		assert.Empty(t, r.Doubt, "%s", r.Typed)
	}
	assert.InDelta(t, 1.022, float64(c.Gravity.Value.Gravity), 1e-9)
	rose := grown(t, 14, "0 collect | 8.1 prove 1.084 | 13 1.041 | 14 1.060")
	require.Len(t, rose.Conditions, 1, "without a passage a rise is one")
	assert.Equal(t, ReadingInDoubt, rose.Conditions[0].Name)
}

// A culture has no conditions of a must.
func TestCultureHasNoMust(t *testing.T) {
	c := grown(t, 40, "0 collect | 0.1 prove 1.084 | 5 1.060 | 12 1.059 | 39 1.059 seen=film")
	require.Len(t, c.Conditions, 1)
	assert.Equal(t, Film, c.Conditions[0].Name)
	assert.Nil(t, c.CannotTell)
	assert.False(t, c.Nitrogen.Wanted.IsKnown())
	assert.False(t, c.Finish.IsKnown())
}

// TestUnprovedCulture: no finish is assumed for a culture of any kind until its tolerance is given.
func TestUnprovedCulture(t *testing.T) {
	for _, c := range []struct {
		yeast  ferment.Yeast
		proved bool
	}{
		{ferment.Yeast{}, true},
		{ferment.Yeast{Kind: ferment.Bought}, true},
		{ferment.Yeast{Kind: ferment.Slurry}, true},
		{ferment.Yeast{Kind: ferment.Wild}, false},
		{ferment.Yeast{Kind: ferment.Wild, Tolerance: measure.Give(measure.Strength(9), "9 %")}, false},
		{ferment.Yeast{Kind: ferment.Slurry, Culture: "hawthorn-2"}, false},
		{ferment.Yeast{Culture: "hawthorn-2"}, false},
		{ferment.Yeast{Kind: ferment.Slurry, Culture: "hawthorn-2", Tolerance: measure.Give(measure.Strength(9), "9 %")}, true},
	} {
		got := after(t, 5, "0 pitch | 4 1.060", func(f *ferment.Ferment) { f.Yeast = c.yeast })
		assert.Equal(t, c.proved, got.Finish.IsKnown(), "%+v", c.yeast)
		assert.True(t, got.DryFinish.IsKnown(), "the breaks of the nutrient have it")
	}
}

// TestVerdictOfTheCultureHoldsForItsFerments: as of the moment asked for.
func TestVerdictOfTheCultureHoldsForItsFerments(t *testing.T) {
	k := ferment.Culture{ID: "hawthorn-2", Verdict: "trying", Log: logOf(t, "0 collect | 20 verdict verdict=usable")}
	usable := ferment.Condition{Kind: ferment.HasVerdict, Word: "usable"}
	for days, want := range map[float64]bool{19: false, 21: true} {
		c := after(t, days, "0 mix", func(f *ferment.Ferment) {
			f.Yeast = ferment.Yeast{Kind: ferment.Wild, Culture: k.ID}
			*f = ferment.Cellar{Cultures: []ferment.Culture{{ID: "other"}, k}}.Joined([]ferment.Ferment{*f})[0]
		})
		holds, _ := c.Holds(usable)
		assert.Equal(t, want, holds, "day %v", days)
	}
}
