package app_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
)

// TestMeaningOfAReading: the change since the last reading and its pace (arithmetic), the breaks passed and when, and
// the effect on the plan. Of a must of 1.084 that ends near 0.996 a third is gone at 1.0548.
func TestMeaningOfAReading(t *testing.T) {
	s := holding(jug("heath", 3.6, "3 11:00 pitch|4 08:00 started|4 12:00 nutrient 1.4g step=nutrient-1|5 07:00 1.072"))
	snapshot, v := vessel(s, "heath", at(7, 7, 0))
	m := app.Meaning(snapshot, v, typed("1.052"))
	require.NotNil(t, m.Reading)
	require.NotNil(t, m.Since)
	assert.InDelta(t, 1.052, float64(m.Reading.Gravity), 1e-4)
	assert.InDelta(t, -20, m.Points, 0.1)
	assert.InDelta(t, 10, m.PerDay, 0.1, "two days")
	require.Len(t, m.Passed, 1)
	assert.Equal(t, [2]int{1, 3}, [2]int{m.Passed[0].Of, m.Passed[0].In})
	assert.InDelta(t, 1.0548, float64(m.Passed[0].Gravity), 5e-4)
	share := (1.072 - float64(m.Passed[0].Gravity)) / 0.020
	assert.InDelta(t, 48*share, m.Passed[0].At.Sub(at(5, 7, 0)).Hours(), 0.5, "on the line between the two readings")
	assert.True(t, m.SugarGone.IsKnown())
	assert.InDelta(t, 32/87.6, m.SugarGone.Value.Share, 0.01)
	assert.InDelta(t, 4.3, float64(m.Alcohol.Value), 0.3, "32 points of 1.084, about 131 % vol a unit (common practice)")
	assert.Contains(t, effectsOn(m, "gravity"), schedule.Done)
	assert.Empty(t, m.Unlikely)
	assert.Len(t, *s.log("heath"), 4, "nothing is written")
}

func effectsOn(m app.Preview, step string) []schedule.State {
	var states []schedule.State
	for _, e := range m.Effects {
		if e.Task.Step == step {
			states = append(states, e.Task.State)
		}
	}
	return states
}

// TestMeaningFreesAndCloses: a fresh reading frees what was held for it; one below the limit closes it.
func TestMeaningFreesAndCloses(t *testing.T) {
	s := holding(jug("heath", 3.6, "3 11:00 pitch|4 08:00 started|4 12:00 nutrient 1.4g step=nutrient-1|5 07:00 1.072"))
	snapshot, v := vessel(s, "heath", at(6, 20, 0))
	assert.True(t, has(v, "nutrient-2", schedule.Held))
	for gravity, want := range map[string]schedule.State{"1.060": schedule.Due, "1.052": schedule.Due, "1.046": schedule.Lapsed} {
		assert.Equal(t, []schedule.State{want}, effectsOn(app.Meaning(snapshot, v, typed(gravity)), "nutrient-2"), gravity)
	}
}

// TestMeaningOfAnAct: the notice of a gate, and the questions. Readings less than six hours apart have no pace.
func TestMeaningOfAnAct(t *testing.T) {
	s := holding(jug("heath", 3.6, "4 11:00 pitch"))
	snapshot, v := vessel(s, "heath", at(5, 9, 0))
	m := app.Meaning(snapshot, v, typed("nutrient 1.4g"))
	assert.Equal(t, []string{"held"}, m.Notices)
	assert.Nil(t, m.Reading)

	early := typed("degas")
	early.At = ferment.At(at(4, 10, 0))
	assert.Len(t, app.Meaning(snapshot, v, early).Unlikely, 1)

	s = holding(jug("heath", 3.6, "3 11:00 pitch|5 07:00 1.072"))
	for hour, perDay := range map[int]float64{12: 0, 13: 4} {
		snapshot, v = vessel(s, "heath", at(5, hour, 0))
		assert.InDelta(t, perDay, app.Meaning(snapshot, v, typed("1.071")).PerDay, 0.01, "%d:00", hour)
	}
}

// TestMeaningOnACulture uses the culture's plan.
func TestMeaningOnACulture(t *testing.T) {
	snapshot, v := vessel(lime(), "hawthorn-3", at(4, 15, 0))
	m := app.Meaning(snapshot, v, typed("passage"))
	assert.Equal(t, []schedule.State{schedule.Done}, effectsOn(m, "w1"))
}
