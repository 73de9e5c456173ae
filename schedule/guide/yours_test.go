package guide_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/guide"
)

func TestYoursListsEachYeastAndHoneyOnce(t *testing.T) {
	did := func(id, yeast, honey string, days float64) forecast.Did {
		return forecast.Did{Kind: forecast.Kind{Yeast: yeast, Honey: honey}, ID: id, Original: 1.090, Finish: 0.998, Dry: 0.996, Alcohol: 12.4, Days: days,
			Pitched: time.Date(2026, 3, 1, 18, 0, 0, 0, time.UTC)}
	}
	s := app.Snapshot{Experience: func() []forecast.Did {
		return []forecast.Did{did("rowan", "moor", "heath-26", 19), did("sorrel", "moor", "", 26), did("elder", "other", "", 9)}
	}}
	c := guide.Yours(s, ferment.Ferment{Yeast: ferment.Yeast{Name: "other"}})
	require.Len(t, c.Parts, 4+3+3+3)
	assert.Equal(t, "elder", c.Parts[0].Head, "the selected one's yeast is first")
	assert.Regexp(t, `^─+●·+ 1.090 to 0.998, 12.4 %, 9 days, Mar 26$`, c.Parts[0].Text, "dry is not said")
	assert.Equal(t, "next", c.Parts[1].Head)
	assert.Regexp(t, `^·*├─*○─*┤ \d+ to \d+ days, near 0.99\d \(.*\); a racking loses 0.2\d L$`, c.Parts[1].Text)
	assert.Contains(t, c.Parts[2].Text, "from 1 of yours with other")
	fed := app.Snapshot{Experience: func() []forecast.Did { return []forecast.Did{did("fed", "moor", "", 0)} }}
	assert.Contains(t, guide.Yours(fed, ferment.Ferment{}).Parts[0].Text, "12.4 %, something was added: no days, Mar 26")
	none := guide.Yours(app.Snapshot{Experience: func() []forecast.Did { return nil }}, ferment.Ferment{})
	assert.Empty(t, none.Parts)
}
