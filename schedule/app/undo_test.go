package app_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/schedule/app"
)

// TestUndo reverts the acts of this run, the latest first, each completely: the degas goes with its dose.
func TestUndo(t *testing.T) {
	s := holding(jug("heath", 3.6, "3 11:00 pitch|4 08:00 started"))
	d := app.New(s)
	_, err := d.Undo(time.Time{})
	assert.ErrorIs(t, err, app.ErrNothingToUndo, "what stood there before is not this run's")

	_, err = d.Log(at(5, 8, 0), []string{"heath"}, typed("1.072"))
	require.NoError(t, err)
	_, err = d.Done(at(5, 9, 0), []string{"heath"}, app.Wish{Step: "nutrient", Typed: app.Typed{Line: "1.4g"}})
	require.NoError(t, err)
	assert.Equal(t, 2, d.CanUndo())

	for _, left := range []int{3, 2} {
		_, err = d.Undo(time.Time{})
		require.NoError(t, err)
		assert.Len(t, *s.log("heath"), left)
	}
	_, err = d.Undo(time.Time{})
	assert.ErrorIs(t, err, app.ErrNothingToUndo)
}

// TestUndoOfAChangedEntry: it stays, with an error, and the next Undo is for the act before; the other jugs of the act
// are reverted.
func TestUndoOfAChangedEntry(t *testing.T) {
	s := lime()
	d := app.New(s)
	for _, what := range []string{"1.070", "degas"} {
		_, err := d.Log(at(5, 9, 0), []string{"lime-a", "lime-b"}, typed(what))
		require.NoError(t, err)
	}
	s.lost = "lime-a"
	undone, err := d.Undo(time.Time{})
	assert.ErrorIs(t, err, errChanged)
	require.Len(t, undone, 1)
	assert.Equal(t, "lime-b", undone[0].Subject)
	assert.Len(t, *s.log("lime-a"), 5)
	assert.Len(t, *s.log("lime-b"), 4)
	assert.Equal(t, 1, d.CanUndo())
}

// TestUndoOnAFullDisk can be repeated, and continues where it stopped.
func TestUndoOnAFullDisk(t *testing.T) {
	s := lime()
	d := app.New(s)
	_, err := d.Log(at(5, 9, 0), []string{"lime-a", "lime-b"}, typed("1.070"))
	require.NoError(t, err)
	s.full = "lime-a"
	undone, err := d.Undo(time.Time{})
	assert.ErrorIs(t, err, errFull)
	assert.Len(t, undone, 1)
	assert.Equal(t, 1, d.CanUndo())
	s.full = ""
	undone, err = d.Undo(time.Time{})
	require.NoError(t, err)
	require.Len(t, undone, 1)
	assert.Equal(t, "lime-a", undone[0].Subject)
	assert.Len(t, *s.log("lime-a"), 3)
	assert.Len(t, *s.log("lime-b"), 3)
	assert.Zero(t, d.CanUndo())
}
