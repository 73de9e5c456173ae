package tui

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/tui/intent"
)

// A reminder is settled like any task, by its step, because it is not an act.
func TestReminderIsSettled(t *testing.T) {
	s := newShelf()
	f := s.log("heath")
	f.Log = append(slices.Clone(f.Log), ferment.Entry{At: ago(hours(10)), Order: 2, Remind: ferment.At(morning.Truncate(hours(24))), Note: "wash the bung"})
	d := drive(t, s, 80, 24)
	d.shows("HEATH", "reminder", "wash the bung")
	d.model = d.is().selecting("heath", "reminder")
	d.keys("space", "enter").shows("✓ kept: HEATH done: reminder")
	last := d.log("heath")[1]
	assert.Equal(t, "reminder", last.Step)
	assert.Empty(t, last.Did)
	d.lacks("● today    reminder")
	d.keys("u").shows("taken back: HEATH done: reminder", "it is due again")
	require.Len(t, d.log("heath"), 1)
}

func (m Model) selecting(subject, step string) Model {
	return m.with(OnBoard, m.board().SelectTask(m.frame(), intent.Task{Subject: subject, Step: step, Occurrence: 1}))
}
