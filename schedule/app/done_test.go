package app_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// TestDone: the planned amount if none is given, acts that go first a minute before, and the step if the act alone is
// ambiguous.
func TestDone(t *testing.T) {
	started := "3 11:00 pitch|4 08:00 started"
	for _, c := range []struct {
		what, log string
		wish      app.Wish
		want      []string // written at 5 October, 09:00
	}{
		{"a step without an amount", started, app.Wish{Step: "degas"}, []string{"09:00:00 degas"}},
		{"by its act, with what goes first", started, app.Wish{Step: "nutrient", Typed: app.Typed{Line: "1.5g"}}, []string{"08:59:00 degas", "09:00:00 nutrient nutrient-1 1.5 g"}},
		{"in whatever case", started, app.Wish{Step: "Degas"}, []string{"09:00:00 degas"}},
		{"degassed 60 min before", started + "|5 08:00 degas", app.Wish{Step: "nutrient-1", Typed: app.Typed{Line: "1.5g"}}, []string{"08:00:00 degas", "09:00:00 nutrient nutrient-1 1.5 g"}},
		{"degassed 61 min before", started + "|5 07:59 degas", app.Wish{Step: "nutrient-1", Typed: app.Typed{Line: "1.5g"}}, []string{"08:59:00 degas", "09:00:00 nutrient nutrient-1 1.5 g"}},
		{"an unknown amount stays one", started, app.Wish{Step: "nutrient-1", Typed: app.Typed{Line: "unknown"}}, []string{"08:59:00 degas", "09:00:00 nutrient nutrient-1 unknown"}},
		{"at another time", started, app.Wish{Step: "degas", Typed: app.Typed{Line: "07:30"}}, []string{"07:30:00 degas"}},
		{"early, by its name", started, app.Wish{Step: "rack"}, []string{"09:00:00 rack rack"}},
		{"an act of no step", started, app.Wish{Step: "chill"}, []string{"09:00:00 chill"}},
		{"a reminder", started + "|4 09:00 remind=2026-10-05 ;wash the bung", app.Wish{Step: "reminder"}, []string{"09:00:00 reminder"}},
	} {
		s := holding(jug("heath", 3.6, c.log))
		kept, err := app.New(s).Done(at(5, 9, 0), []string{"heath"}, c.wish)
		require.NoError(t, err, c.what)
		assert.Equal(t, c.want, written(s, "heath", len(c.want)), c.what)
		assert.Equal(t, "heath", kept.Receipts[0].Subject, c.what)
	}
}

// TestDoneSettles: the task is done afterwards, also one of the person's own.
func TestDoneSettles(t *testing.T) {
	s := holding(jug("heath", 3.6, "3 11:00 pitch|4 08:00 started|4 09:00 remind=2026-10-05 ;wash the bung"))
	d := app.New(s)
	for _, step := range []string{"degas", "nutrient-1", "reminder"} {
		_, err := d.Done(at(5, 9, 0), []string{"heath"}, app.Wish{Step: step})
		require.NoError(t, err)
		_, v := vessel(s, "heath", at(5, 9, 1))
		assert.True(t, isDone(v, step), step)
	}
}

func isDone(v app.Vessel, step string) bool { return has(v, step, schedule.Done) }

func has(v app.Vessel, step string, state schedule.State) bool {
	for _, task := range v.Day.Tasks {
		if task.Step == step && task.State == state {
			return true
		}
	}
	return false
}

// TestRefused: a gate, a stop or the spacing forbids it and nothing is written, unless there is a typed reason, which
// is recorded with what it overrides.
func TestRefused(t *testing.T) {
	for _, c := range []struct {
		what, log, step string
		verdict         string
		says            string // part of the message
		overrode        string
	}{
		{"a dose before the start", "4 11:00 pitch", "nutrient-1", "held", "no sign of fermentation", "started"},
		{"a second dose too soon", "3 11:00 pitch|4 08:00 started|5 07:30 nutrient 1g", "nutrient", "too soon", "not before 19:30", "spacing"},
		{"a bottling on the second day", "3 11:00 pitch|4 08:00 started", "bottle", "shut", "still bottling is not ready", "still bottling"},
		{"with mould seen", "3 11:00 pitch|4 08:00 look seen=mould", "rack", "stop", "mould was seen in it", "mould"},
	} {
		s := holding(jug("heath", 3.6, c.log))
		d := app.New(s)
		for _, reason := range []string{"", "  "} {
			_, err := d.Done(at(5, 9, 0), []string{"heath"}, app.Wish{Step: c.step, Typed: app.Typed{Because: reason}})
			var refused *app.Refused
			require.ErrorAs(t, err, &refused, c.what)
			assert.Equal(t, c.verdict, refused.No.Verdict, c.what)
			assert.ErrorContains(t, err, c.says, c.what)
			assert.ErrorContains(t, err, "--because", c.what)
			assert.Len(t, *s.log("heath"), len(lines(c.log)), "%s: nothing is written", c.what)
		}
		_, err := d.Done(at(5, 9, 0), []string{"heath"}, app.Wish{Step: c.step, Typed: app.Typed{Because: "it spilled"}})
		require.NoError(t, err, c.what)
		log := *s.log("heath")
		assert.Equal(t, c.overrode, log[len(log)-1].Overrode, c.what)
		assert.Equal(t, "it spilled", log[len(log)-1].Because, c.what)
	}
}

// TestRefusalForOneStopsAll: nothing is written to any vessel.
func TestRefusalForOneStopsAll(t *testing.T) {
	s := holding(jug("heath", 3.6, "3 11:00 pitch|4 08:00 started"), jug("sloe", 3.6, "4 11:00 pitch"))
	_, err := app.New(s).Done(at(5, 9, 0), []string{"heath", "sloe"}, app.Wish{Step: "nutrient"})
	var refused *app.Refused
	require.ErrorAs(t, err, &refused)
	assert.Equal(t, "sloe", refused.Vessel.ID())
	assert.Len(t, *s.log("heath"), 2)

	// A person who gives a reason for one vessel has seen the refusals of the others.
	*s.log("heath") = append(*s.log("heath"), line("5 08:00 look seen=mould"))
	_, err = app.New(s).Done(at(5, 9, 0), []string{"sloe", "heath"}, app.Wish{Step: "nutrient"})
	require.ErrorAs(t, err, &refused)
	assert.Equal(t, "sloe", refused.Vessel.ID())
	require.ErrorContains(t, err, "no sign of fermentation")
	require.ErrorContains(t, err, "mould was seen in it")
	assert.Equal(t, 1, strings.Count(err.Error(), "--because"))
}

// TestDoneNeedsATask: a word that is not a step, and a measurement without a value.
func TestDoneNeedsATask(t *testing.T) {
	s := holding(jug("heath", 3.6, "3 11:00 pitch|4 08:00 started"))
	d := app.New(s)
	for step, says := range map[string]string{
		"stir":        `heath has no step or act "stir": its plan has must, pitch, air, check`,
		"gravity":     "gravity needs a reading, e.g. jugkeeper log heath 1.046@23",
		"ph":          "ph needs a reading, e.g. jugkeeper log heath ph3.4",
		"temperature": "temperature needs a reading, e.g. jugkeeper log heath 19.5C",
		"volume":      "volume needs a reading, e.g. jugkeeper log heath vol3.4L",
	} {
		_, err := d.Done(at(5, 9, 0), []string{"heath"}, app.Wish{Step: step})
		assert.ErrorContains(t, err, says)
	}
	assert.Len(t, *s.log("heath"), 2)
}

// TestSkip skips the due task with its reason, by its act or its step.
func TestSkip(t *testing.T) {
	s := holding(jug("heath", 3.6, "3 11:00 pitch|4 08:00 started"))
	d := app.New(s)
	for _, step := range []string{"degas", "nutrient", "gravity"} {
		_, err := d.Skip(at(5, 9, 0), []string{"heath"}, app.Wish{Step: step, Typed: app.Typed{Because: "away"}})
		require.NoError(t, err)
	}
	assert.Equal(t, []string{"09:00:00 degas away", "09:00:00 nutrient-1 away", "09:00:00 gravity away"}, written(s, "heath", 3))
	_, v := vessel(s, "heath", at(5, 9, 1))
	for _, step := range []string{"degas", "nutrient-1", "gravity"} {
		assert.True(t, has(v, step, schedule.Skipped), step)
	}
	_, err := d.Skip(at(5, 9, 0), []string{"heath"}, app.Wish{Step: "stir", Typed: app.Typed{Because: "away"}})
	var unknown *app.UnknownStep
	assert.ErrorAs(t, err, &unknown)
}
