package app_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
)

const rowan = `format: 1
must: {volume: 4 L, gravity: 1.086}
yeast: {name: moor yeast, tolerance: 14 %}
log:
  - {at: 2026-03-01 18:00, did: pitch}
  - {at: 2026-03-07 18:00, gravity: 1.038}
  - {at: 2026-03-18 18:00, gravity: 0.999}
  - {at: 2026-04-02 18:00, gravity: 0.998, did: rack, lost: 0.3 L}
  - {at: 2026-05-02 18:00, gravity: 0.998}
  - {at: 2026-05-03 18:00, did: close}
`

func TestExperienceIsKeptUntilAFileChanges(t *testing.T) {
	dir, state := t.TempDir(), t.TempDir()
	past := filepath.Join(dir, "ferments", "past")
	require.NoError(t, os.MkdirAll(past, 0o777))
	write := func(file, text string) { require.NoError(t, os.WriteFile(file, []byte(text), 0o666)) }
	write(filepath.Join(past, "rowan.yaml"), rowan)
	write(filepath.Join(dir, "ferments", "heath.yaml"), "format: 1\nmust: {volume: 4 L, gravity: 1.086}\nyeast: {name: moor yeast}\nlog:\n  - {at: 2026-09-30 18:00, did: pitch}\n  - {at: 2026-10-02 18:00, gravity: 1.079}\n")
	open := func() app.Snapshot {
		d := app.New(journal.Open(dir, time.UTC, protocols.Files(), journal.WithState(state)))
		s, err := d.Open(at(3, 10, 0))
		require.NoError(t, err)
		return s
	}
	first := open().Experience()
	require.Len(t, first, 1)
	assert.Equal(t, "rowan", first[0].ID)
	assert.InDelta(t, 16, first[0].Days, 2)
	assert.InDelta(t, 0.3, float64(first[0].Lost), 1e-9)

	kept, err := filepath.Glob(filepath.Join(state, "*", "experience.json"))
	require.NoError(t, err)
	require.Len(t, kept, 1)
	text, err := os.ReadFile(kept[0])
	require.NoError(t, err)
	write(kept[0], strings.Replace(string(text), `"ID":"rowan"`, `"ID":"kept"`, 1))
	assert.Equal(t, "kept", open().Experience()[0].ID, "it is not worked out again")
	write(filepath.Join(past, "sorrel.yaml"), strings.ReplaceAll(rowan, "0.998", "0.9965"))
	more := open().Experience()
	require.Len(t, more, 2, "a file came")
	assert.Equal(t, "kept", more[0].ID, "only the new one is worked out")
	write(filepath.Join(past, "rowan.yaml"), rowan+"\n")
	assert.Equal(t, "rowan", open().Experience()[0].ID, "its file changed")
	write(filepath.Join(dir, "ferments", "sorrel.yaml"), rowan)
	assert.Len(t, open().Experience(), 2, "it is open too, and counts once")
	require.NoError(t, os.Remove(filepath.Join(dir, "ferments", "sorrel.yaml")))
	write(kept[0], "{broken")
	assert.Len(t, open().Experience(), 2)
	require.NoError(t, os.Remove(kept[0]))
	again := open()
	assert.Len(t, again.Experience(), 2)

	v, _ := again.Find("heath")
	_, f := app.Foreseen(v)
	assert.Len(t, f.Next.Like, 2, "the forecast has it")
	_, alone := app.Foreseen(app.Plan(v.Ferment, again.Cellar, again.At))
	assert.Empty(t, alone.Next.Like)
	assert.NotEqual(t, fmt.Sprint(alone.Band(again.At, 9)), fmt.Sprint(f.Band(again.At, 9)))
}

// TestExperienceOfAnEarlierDayIsNotKept: a look back to a day before the close must not say later that it never ended.
func TestExperienceOfAnEarlierDayIsNotKept(t *testing.T) {
	dir, state := t.TempDir(), t.TempDir()
	past := filepath.Join(dir, "ferments", "past")
	require.NoError(t, os.MkdirAll(past, 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(past, "rowan.yaml"), []byte(rowan), 0o666))
	on := func(now time.Time) app.Snapshot {
		s, err := app.New(journal.Open(dir, time.UTC, protocols.Files(), journal.WithState(state))).Open(now)
		require.NoError(t, err)
		return s
	}
	assert.Empty(t, on(time.Date(2026, 2, 1, 9, 0, 0, 0, time.UTC)).Experience(), "not pitched yet")
	on(time.Date(2026, 3, 8, 9, 0, 0, 0, time.UTC)).Experience()
	assert.Len(t, on(at(3, 10, 0)).Experience(), 1)
}

func TestOpeningReadsNoExperience(t *testing.T) {
	dir, state := t.TempDir(), t.TempDir()
	past := filepath.Join(dir, "ferments", "past")
	require.NoError(t, os.MkdirAll(past, 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(past, "rowan.yaml"), []byte(rowan), 0o666))
	_, err := app.New(journal.Open(dir, time.UTC, protocols.Files(), journal.WithState(state))).Open(at(3, 10, 0))
	require.NoError(t, err)
	kept, _ := filepath.Glob(filepath.Join(state, "*", "*"))
	assert.Empty(t, kept, "no morning works it out")
}
