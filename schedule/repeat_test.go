package schedule

import (
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// TestAtMost counts every occurrence up to the limit and none after it, including those under an earlier anchor.
func TestAtMost(t *testing.T) {
	first := time.Date(2026, 9, 12, 8, 0, 0, 0, time.UTC)
	daily := ferment.Offset{Number: 1, Unit: ferment.Day}
	for _, c := range []struct {
		atMost, before, n int
		is                bool
	}{
		{3, 0, 2, true}, {3, 0, 3, true}, {3, 0, 4, false},
		{3, 1, 2, true}, {3, 1, 3, false},
		{2, 0, 2, true}, {2, 0, 3, false},
		{0, 0, 400, true},
	} {
		s := series{step: &ferment.Step{Repeat: &ferment.Repeat{Every: daily, AtMost: c.atMost}}, first: known(first), before: c.before}
		_, is := s.due(c.n)
		assert.Equal(t, c.is, is, "%+v", c)
	}
}

// TestUntilIsInclusive: there is an occurrence at the last instant, and none a nanosecond later.
func TestUntilIsInclusive(t *testing.T) {
	first := time.Date(2026, 9, 12, 8, 0, 0, 0, time.UTC)
	s := series{step: &ferment.Step{Repeat: &ferment.Repeat{Every: ferment.Offset{Number: 1, Unit: ferment.Day}}}, first: known(first), until: known(first.AddDate(0, 0, 2))}
	_, is := s.due(3)
	assert.True(t, is)
	s.until = known(first.AddDate(0, 0, 2).Add(-1))
	_, is = s.due(3)
	assert.False(t, is)
}

// TestPersonsReasonKeepsItsUnits: a person's words are shown unchanged, in US units too.
func TestPersonsReasonKeepsItsUnits(t *testing.T) {
	pitched := time.Date(2026, 9, 12, 8, 0, 0, 0, time.UTC)
	step := ferment.Step{Name: "look", Do: string(ferment.Look), Due: ferment.When{Point: ferment.Point{Anchor: string(ferment.Pitch)}}}
	f := ferment.Ferment{ID: "a", Log: []ferment.Entry{
		{At: ferment.At(pitched), Did: ferment.Pitch},
		{At: ferment.At(pitched.Add(time.Hour)), Order: 1, Skipped: "look", Because: "spilled 2 L, the jug stood at 30 cm"},
	}}
	settings := ferment.DefaultSettings(time.UTC)
	settings.Units = measure.US
	for _, task := range Plan(ferment.Protocol{Steps: []ferment.Step{step}}, course.Of(f, settings, settings.Limits, pitched.Add(2*time.Hour))).Tasks {
		if task.Step == "look" {
			assert.Contains(t, task.Reason, "spilled 2 L, the jug stood at 30 cm")
			return
		}
	}
	t.Error("no task look")
}

// Titles and steps fit the narrowest board.
func TestDangerTextsFit(t *testing.T) {
	for _, d := range dangers {
		if d.alarm == nil {
			continue
		}
		for _, s := range []measure.System{measure.Metric, measure.US} {
			a := d.alarm.In(s)
			assert.LessOrEqual(t, utf8.RuneCountInString(a.Head), 36, a.Head)
			assert.NotEmpty(t, a.Ends)
			for _, step := range a.Steps {
				assert.LessOrEqual(t, utf8.RuneCountInString(step), 45, step)
			}
		}
	}
}

// TestWeeklyRound: with a round in the settings all weekly looks are due on the morning
// of that day of the week from then on.
func TestWeeklyRound(t *testing.T) {
	pitched := time.Date(2026, 9, 14, 18, 30, 0, 0, time.UTC) // a Monday
	every := ferment.Offset{Number: 7, Unit: ferment.Day}
	step := ferment.Step{Name: "look", Do: string(ferment.Look), Due: ferment.When{Point: ferment.Point{Anchor: string(ferment.Pitch)}, Offset: every}, Repeat: &ferment.Repeat{Every: every}}
	f := ferment.Ferment{ID: "a", Log: []ferment.Entry{{At: ferment.At(pitched), Did: ferment.Pitch}}}
	settings := ferment.DefaultSettings(time.UTC)
	for round, want := range map[string]string{"": "Mon 21 18:30", "saturday": "Sat 19 07:00", "monday": "Mon 21 07:00"} {
		settings.Round = round
		for _, task := range Plan(ferment.Protocol{Steps: []ferment.Step{step}}, course.Of(f, settings, settings.Limits, pitched.Add(time.Hour))).Tasks {
			if task.Step == "look" && task.Occurrence == 1 {
				assert.Equal(t, want, task.Due.Format("Mon 2 15:04"))
				assert.Equal(t, round != "", task.Round)
			}
		}
	}
}

// TestPlanAhead: with days ahead every time of a step that repeats comes out, up to what ends it.
func TestPlanAhead(t *testing.T) {
	pitched := time.Date(2026, 9, 14, 18, 30, 0, 0, time.UTC)
	daily := ferment.Offset{Number: 1, Unit: ferment.Day}
	after := func(days float64) ferment.When {
		return ferment.When{Point: ferment.Point{Anchor: string(ferment.Pitch)}, Offset: ferment.Offset{Number: days, Unit: ferment.Day}}
	}
	end := after(20)
	step := ferment.Step{Name: "stir", Do: string(ferment.Degas), Due: after(1), Repeat: &ferment.Repeat{Every: daily}, Ends: &end}
	f := ferment.Ferment{ID: "a", Log: []ferment.Entry{{At: ferment.At(pitched), Did: ferment.Pitch}}}
	settings := ferment.DefaultSettings(time.UTC)
	for days, want := range map[int]int{0: 1, 7: 7, 366: 20} {
		n := 0
		for _, task := range PlanAhead(ferment.Protocol{Steps: []ferment.Step{step}}, course.Of(f, settings, settings.Limits, pitched.Add(time.Hour)), days).Tasks {
			if task.Step == "stir" && task.State == Waiting {
				n++
			}
		}
		assert.Equal(t, want, n, "%d days", days)
	}
}
