package app_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
)

// TestFirstReadingOfTheMust: in every plan with a pitch the first task is to read the must; a reading settles it, and
// it is not asked if the must was measured or pitched.
func TestFirstReadingOfTheMust(t *testing.T) {
	cellar := ferment.Cellar{Settings: ferment.DefaultSettings(time.UTC), Protocols: journal.Open(t.TempDir(), time.UTC, protocols.Files()).Protocols()}
	for name := range protocols.Files() {
		plan, _ := cellar.Protocols.Named(name)
		if !slices.ContainsFunc(plan.Steps, func(s ferment.Step) bool { return s.Name == "pitch" }) {
			continue
		}
		now := at(3, 15, 0)
		if name == "fruit" { // a day after the sulphite
			now = at(4, 10, 0)
		}
		stateOf := func(log, step string, measured ...string) (schedule.State, int) {
			f := jug("heath", 3.6, log)
			f.Protocol, f.Must.Gravity = name, measure.Given[measure.Gravity]{}
			f.Must.Honey = []ferment.HoneyPart{{Mass: measure.Give(measure.Mass(0.98), "980 g")}}
			for _, m := range measured {
				f.Must.Gravity, _ = measure.ParseGravity(m)
			}
			tasks := app.Plan(f, cellar, now).Day.Tasks
			i := slices.IndexFunc(tasks, func(k schedule.Task) bool { return k.Step == step })
			if i < 0 {
				return "", i
			}
			return tasks[i].State, i
		}
		state, first := stateOf("3 11:00 mix", "must")
		assert.Equal(t, schedule.Due, state, name)
		_, pitch := stateOf("3 11:00 mix", "pitch")
		assert.True(t, pitch < 0 || first < pitch, "%s: must %d, pitch %d", name, first, pitch)
		state, _ = stateOf("3 11:00 mix|"+now.Add(-time.Hour).Format("2 15:04")+" 1.080@20", "must")
		assert.Equal(t, schedule.Done, state, name)
		state, _ = stateOf("3 11:00 mix", "must", "1.082")
		assert.Empty(t, state, name)
		state, _ = stateOf("3 11:00 mix|3 14:00 pitch", "must")
		assert.NotEqual(t, schedule.Due, state, name)
	}
}
