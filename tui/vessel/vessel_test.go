package vessel

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
)

// The vessel here is invented; its figures are only for the page.

var now = time.Date(2026, time.October, 7, 7, 4, 0, 0, time.UTC)

func hoursAgo(n int) time.Time { return now.Add(-time.Duration(n) * time.Hour) }

func heath() app.Vessel {
	settings := ferment.DefaultSettings(time.UTC)
	log := []*ferment.Entry{
		{At: ferment.At(hoursAgo(96)), Did: ferment.Pitch, Line: 20},
		{At: ferment.At(hoursAgo(12)), Gravity: measure.Give(measure.Gravity(1.0605), "1.0605"), Line: 24,
			Sample: measure.Give(measure.Temperature(23), "23 °C")},
		{At: ferment.At(hoursAgo(2)), Did: ferment.Nutrient, Amount: ferment.Amount{Quantity: measure.Of(0.7, "g")}, Line: 27,
			Overrode: "nutrient", Because: "spilled half of the first"},
	}
	c := &course.Course{
		Settings: settings, Entries: log, Stage: course.Working,
		Later: []*ferment.Entry{{At: ferment.At(now.Add(time.Hour)), Did: ferment.Degas, Line: 31}},
		Pitch: course.Event{At: hoursAgo(96), Known: true},
		Readings: []course.Reading{{At: hoursAgo(12), Gravity: 1.0612, Typed: "1.0605", Line: 24,
			Sample: measure.Give(measure.Temperature(23), "23 °C"), From: course.Hydrometer}},
		Original:  course.Original{Figure: course.Known(measure.Gravity(1.106)), Source: course.Measured},
		Finish:    course.Figure[measure.Gravity]{Value: 0.9961, Assumed: "86 % of the solids go"},
		Alcohol:   course.Unknown[measure.Strength]("the label is in doubt"),
		SugarGone: course.Known(course.Gone{Share: 0.41}), Pace: course.Known(11.2), PaceSince: hoursAgo(36),
		Volume:      course.Figure[measure.Volume]{Value: 3.35, Assumed: "3.40 less four samples"},
		PH:          course.Known(measure.PH(3.4)),
		PHAt:        hoursAgo(12),
		Temperature: course.Unknown[measure.Span[measure.Temperature]]("never read"),
		Conditions:  []course.Condition{{Name: course.Sluggish, Why: "2 points a day", Look: []string{"the temperature: 15 °C", "the pH"}}},
	}
	c.Gravity = course.Known(c.Readings[0])
	tasks := []schedule.Task{
		{Step: "degas", Occurrence: 9, Do: "degas", State: schedule.Lapsed, Settled: hoursAgo(40), Reason: "replaced by the next"},
		{Step: "degas", Occurrence: 8, Do: "degas", State: schedule.Lapsed, Settled: hoursAgo(64), Reason: "replaced by the next"},
		{Step: "gravity", Occurrence: 1, Do: "gravity", State: schedule.Waiting, Due: now.Add(30 * time.Hour)},
		{Step: "nutrient-4", Occurrence: 1, Do: "nutrient", State: schedule.Held, Frees: "gravity", Reason: "the reading is 41 h old, the limit is 36 h",
			Amount: &schedule.Amount{Known: true, Number: 0.7, Unit: "g", Of: "ammonium phosphate", How: "a quarter of 116 mg/L in 3.35 L"}},
	}
	gates := []schedule.Gate{
		{Name: ferment.SteadyGate, Open: true, Says: "three readings since 5 Sep"},
		{Name: ferment.ConditioningGate, Unmet: []course.Unmet{
			{What: "a forced test", Frees: "100 mL, dry yeast, 25 °C, five to seven days"}, {What: "a soft bottle"}}},
	}
	return app.Vessel{
		Ferment: ferment.Ferment{ID: "heath", Tag: "HEATH", Name: "heather, sheltered hives"},
		Course:  c, Day: schedule.Day{Tasks: tasks, Gates: gates},
	}
}

func page(t *testing.T, width int) string {
	t.Helper()
	v := heath()
	var needs []words.Line
	for _, task := range v.Day.Tasks {
		if task.State == schedule.Held {
			needs = append(needs, words.LineOf(task, v, now))
		}
	}
	return Page(theme.Theme{}, width, v, needs, now)
}

func TestPageNamesTheSourcesOfItsFigures(t *testing.T) {
	text := page(t, 76)
	for _, row := range []string{
		"   gravity     1.061 Tue 19:04\n",
		"   original    1.106 measured\n",
		"   finish      0.996 expected ¹\n",
		"   alcohol     ·     the label is in doubt\n",
		"   falling    11.2   points/d ²\n",
		"   volume      3.35  L ³\n",
		"   ¹ 86 % of the solids go\n",
		"   ² since Mon 19:04\n",
		"   ³ 3.40 less four samples\n",
		"   pH          3.4   Tue 19:04\n",
	} {
		assert.Contains(t, text, row)
	}
	assert.NotContains(t, text, "never read")
}

func TestPageStartsWithTheAnswer(t *testing.T) {
	text := page(t, 80)
	head, answer, _ := strings.Cut(text, "\n\n")
	assert.Regexp(t, `^   HEATH    .* working, day 4$`, head)
	assert.True(t, strings.HasPrefix(answer, "            ◆ held    nutrient 4, 0.7 g ammonium phosphate"), text)
	assert.Contains(t, text, "△ warn    sluggish: 2 points a day\n"+strings.Repeat(" ", 22)+"1. the temperature: 15 °C\n"+strings.Repeat(" ", 22)+"2. the pH\n")
	assert.NotContains(t, text, "\x00")
	assert.Contains(t, text, "→ course  falling 11.2 points a day")
}

// The checklists before bottling are shown from clearing on, with everything that is missing.
func TestGatesAreShownWhenTheyAreNear(t *testing.T) {
	assert.NotContains(t, page(t, 80), "before bottling")
	v := heath()
	v.Course.Stage = course.Clearing
	text := Page(theme.Theme{}, 80, v, nil, now)
	assert.Contains(t, text, "✓ ready   steady: three readings since 5 Sep")
	assert.Contains(t, text, "◆ not yet bottle-conditioning: 2 things missing")
	assert.Contains(t, text, "a forced test: 100 mL, dry yeast, 25 °C,")
	assert.Contains(t, text, "a soft bottle\n")
}

// A task for now is in the answer, with how its amount was calculated; the plan does not repeat it, and names a missed
// one once.
func TestPlanExplainsADoseOnce(t *testing.T) {
	text := page(t, 80)
	assert.Contains(t, text, "a quarter of 116 mg/L in 3.35 L")
	assert.Equal(t, 1, strings.Count(text, "× missed"))
	assert.Equal(t, 1, strings.Count(text, "nutrient 4"))
	assert.Contains(t, text, "○ coming  gravity")
}

// From 96 columns on the log is beside the plan.
func TestPlanAndLogSideBySide(t *testing.T) {
	assert.Regexp(t, `plan +log, newest first|plan +in the future`, page(t, 100))
	assert.NotRegexp(t, `plan +(log|in the future)`, page(t, 80))
}

func TestLogIsNewestFirstAndCorrected(t *testing.T) {
	text := page(t, 80)
	newest, older := strings.Index(text, "nutrient, 0.7 g"), strings.Index(text, "1.0605 at 23 °C; corrected 1.0612")
	require.Positive(t, newest)
	require.Positive(t, older)
	assert.Less(t, newest, older)
	assert.Contains(t, text, "nutrient, 0.7 g, overrode nutrient,")
	assert.Contains(t, text, "because spilled half of the first")
	assert.Contains(t, text, "in the future, not counted\n   08:04           degas\n")
}

func TestPageFitsEveryWidth(t *testing.T) {
	for width := 60; width <= 140; width++ {
		for _, row := range strings.Split(page(t, width), "\n") {
			require.LessOrEqual(t, ansi.StringWidth(row), width, row)
		}
	}
}

func TestPageStaysWhereItIsScrolledTo(t *testing.T) {
	f := screen.Frame{Width: 80, Height: 24, Snapshot: app.Snapshot{At: now, Vessels: []app.Vessel{heath()}}}
	do := func(m Model, as ...intent.Action) Model {
		for _, a := range as {
			next, _ := m.Do(f, a)
			m = next.(Model)
		}
		return m
	}
	line := func(m Model) int {
		_, n := m.File(f)
		return n
	}
	m := do(New("heath").Show(f).(Model), slices.Repeat([]intent.Action{intent.Down}, 7)...)
	require.Equal(t, 7, m.top)
	assert.Equal(t, 7, m.Show(f).(Model).top)
	end := do(m, intent.Bottom)
	assert.Equal(t, 31, line(end), "the first entry in sight")
	assert.Equal(t, 31, line(do(m, intent.Top)), "the first of all where none is in sight")
	assert.Equal(t, end.top, do(end, intent.Down, intent.PageDown).top)
	f.Snapshot.Vessels = nil
	assert.Contains(t, m.Show(f).View(f), "it is not in the cellar any more")
}

func TestSeekGoesFromOneFindToTheNext(t *testing.T) {
	f := screen.Frame{Width: 80, Height: 20, Snapshot: app.Snapshot{At: now, Vessels: []app.Vessel{heath()}}}
	m := New("heath").Show(f).(Model)
	first, found := m.Seek(f, "GRAVITY", false)
	assert.True(t, found)
	next, found := first.(Model).Seek(f, "gravity", true)
	assert.True(t, found)
	assert.Greater(t, next.(Model).top, first.(Model).top)
	_, found = m.Seek(f, "no such words", false)
	assert.False(t, found)
}

func TestThoseThatStoppedEarlyAreCounted(t *testing.T) {
	n := forecast.Next{Like: make([]forecast.Did, 3), Early: 7, Late: 19}
	assert.Equal(t, "From 3 of yours with this yeast: done in 7 to 19 days, near 0.997.", fromYours(n, "0.997"))
	n.Stopped = 2
	assert.Equal(t, "From 3 of yours with this yeast: 2 stopped early; one that does not is done in 7 to 19 days, near 0.997.", fromYours(n, "0.997"))
}
