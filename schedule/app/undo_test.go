package app_test

import (
	"strings"
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
	assert.Equal(t, 2, d.UndoCount())

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
	assert.Equal(t, 1, d.UndoCount())
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
	assert.Equal(t, 1, d.UndoCount())
	s.full = ""
	undone, err = d.Undo(time.Time{})
	require.NoError(t, err)
	require.Len(t, undone, 1)
	assert.Equal(t, "lime-a", undone[0].Subject)
	assert.Len(t, *s.log("lime-a"), 3)
	assert.Len(t, *s.log("lime-b"), 3)
	assert.Zero(t, d.UndoCount())
}

// A correction is put in the place of its entry, at the time that it had; what it had settled is asked about, and so is
// what it took from another vessel. A close is not made or unmade by it.
func TestCorrect(t *testing.T) {
	s := holding(jug("heath", 3.6, "3 11:00 pitch|4 08:00 started|5 08:00 1.072"))
	d := app.New(s)
	_, err := d.Done(at(5, 9, 0), []string{"heath"}, app.Wish{Step: "nutrient", Typed: app.Typed{Line: "1.4g"}})
	require.NoError(t, err)
	log := *s.log("heath")
	dose := log[len(log)-1]
	now, err := d.Open(at(6, 9, 0))
	require.NoError(t, err)
	v, _ := now.Find("heath")
	text, ok := app.Retyped(now.Cellar.Settings, now.At, dose)
	require.True(t, ok)
	l, err := app.Instead(now.Cellar.Settings, now.At, dose, strings.Replace(text, "1.4", "1.5", 1))
	require.NoError(t, err)
	assert.Equal(t, dose.At, l.Entry.At)
	assert.Empty(t, app.MeaningInstead(now, v, dose, l.Entry).Unlikely)
	l, err = app.Instead(now.Cellar.Settings, now.At, dose, "degas")
	require.NoError(t, err)
	assert.Equal(t, dose.At, l.Entry.At, "no time typed: the one that it had")
	asks := app.MeaningInstead(now, v, dose, l.Entry).Unlikely
	require.NotEmpty(t, asks)
	assert.Contains(t, asks[len(asks)-1].Says, "was done by it, and would be open again")
	_, err = d.Correct(at(6, 9, 0), "heath", dose, "close", "")
	assert.ErrorContains(t, err, "closing moves the file")
	_, err = d.Correct(at(6, 9, 0), "heath", dose, strings.Replace(text, "1.4", "1.5", 1), "misread")
	require.NoError(t, err)
	log = *s.log("heath")
	assert.Equal(t, "1.5 g", log[len(log)-1].Amount.Text)
	assert.Equal(t, 2, d.UndoCount())
}
