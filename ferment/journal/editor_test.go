package journal

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
)

// A change by an editor or another program between reading and writing is kept, however it saves.
func TestEditBetweenReadAndWriteIsKept(t *testing.T) {
	edited := strings.Replace(heath, "# the end", "# the very end", 1)
	for what, save := range map[string]func(path string) error{
		"truncates and writes": func(path string) error { return os.WriteFile(path, []byte(edited), 0o666) },
		"renames over it": func(path string) error {
			if err := os.WriteFile(path+"~", []byte(edited), 0o666); err != nil {
				return err
			}
			return os.Rename(path+"~", path)
		},
		"moves it away first": func(path string) error {
			if err := os.Rename(path, path+".bak"); err != nil {
				return err
			}
			return os.WriteFile(path, []byte(edited), 0o666)
		},
	} {
		dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
		s := Open(dir, time.UTC, nil)
		_, err := s.Load(time.Now())
		require.NoError(t, err)
		require.NoError(t, save(filepath.Join(dir, "ferments/heath.yaml")), what)
		assert.True(t, s.Changed(), what)
		_, err = s.Append("heath", []ferment.Entry{degasAt(7)})
		require.NoError(t, err)
		got := readFile(t, dir, "ferments/heath.yaml")
		assert.Contains(t, got, "# the very end", what)
		assert.Len(t, entriesIn(t, dir, "heath"), 2, what)
		c, err := s.Load(time.Now())
		require.NoError(t, err)
		assert.Empty(t, c.Problems, what)
		assert.Len(t, c.Ferments[0].Log, 2, what)
	}
}

// While an editor has emptied the file and not written it yet, nothing is written; the entry is kept next to the file
// and offered.
func TestEntryWhileAnEditorWrites(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil, WithState(t.TempDir()))
	path := filepath.Join(dir, "ferments/heath.yaml")
	require.NoError(t, os.Truncate(path, 0))
	_, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	require.ErrorContains(t, err, "the entry is kept in ferments/heath.unsaved")
	require.NoError(t, os.WriteFile(path, []byte(heath), 0o666)) // the editor goes on
	c, err := s.Load(time.Now())
	require.NoError(t, err)
	lost, err := s.Lost(c)
	require.NoError(t, err)
	require.Len(t, lost, 1, "once, though the record has it too")
	_, err = s.Restore(lost[0])
	require.NoError(t, err)
	assert.Len(t, entriesIn(t, dir, "heath"), 2)
	c, err = s.Load(time.Now())
	require.NoError(t, err)
	lost, err = s.Lost(c)
	require.NoError(t, err)
	assert.Empty(t, lost)
	assert.NoFileExists(t, filepath.Join(dir, "ferments/heath.unsaved"))
}

// When a stale buffer is saved over new entries again and again, each entry is offered, and restored once.
func TestStaleBufferSavedOverEntries(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil, WithState(t.TempDir()), WithWait(func(time.Duration) {}))
	path := filepath.Join(dir, "ferments/heath.yaml")
	for i := range 5 {
		_, err := s.Append("heath", []ferment.Entry{degasAt(i)})
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(path, []byte(heath), 0o666))
	}
	for left := 5; left > 0; left-- {
		c, err := s.Load(time.Now())
		require.NoError(t, err)
		lost, err := s.Lost(c)
		require.NoError(t, err)
		require.Len(t, lost, left)
		_, err = s.Restore(lost[0])
		require.NoError(t, err)
	}
	assert.Len(t, entriesIn(t, dir, "heath"), 6)
}

// A conflict copy of a sync program is reported and left alone; it is not read and does not prevent writing.
func TestConflictCopyIsReportedAndLeftAlone(t *testing.T) {
	for _, name := range []string{"heath (conflicted copy 2026-09-13).yaml", "heath.sync-conflict-20260913-070000-ABCDEFG.yaml", "heath~HEAD.yaml", "heath 2.yaml"} {
		copied := strings.Replace(heath, "sheltered", "windy", 1)
		dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath, "ferments/" + name: copied})
		s := Open(dir, time.UTC, nil)
		c, err := s.Check(time.Now())
		require.NoError(t, err)
		require.Len(t, c.Ferments, 1, name)
		require.Len(t, c.Remarks, 1, name)
		assert.Contains(t, c.Remarks[0].String(), "ferments/"+name+": is not read", name)
		_, err = s.Append("heath", []ferment.Entry{degasAt(7)})
		require.NoError(t, err)
		assert.Equal(t, copied, readFile(t, dir, "ferments/"+name))
	}
}

// Merge marks make the file unreadable, with their line, and nothing is written into it.
func TestConflictMarksAreReportedWithTheirLine(t *testing.T) {
	torn := strings.Replace(heath, "log:\n", "<<<<<<< here\nlog:\n", 1)
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": torn, "ferments/lime.yaml": heath})
	s := Open(dir, time.UTC, nil)
	c, err := s.Check(time.Now())
	require.NoError(t, err)
	require.Len(t, c.Ferments, 1)
	require.NotEmpty(t, c.Problems)
	assert.Equal(t, "ferments/heath.yaml:7:1: a merge left <<<<<<< here (keep one of the two texts, and take the marks out)", c.Problems[0].String())
	_, err = s.Append("heath", []ferment.Entry{degasAt(7)})
	assert.ErrorContains(t, err, "the entry is kept in ferments/heath.unsaved")
	assert.Equal(t, torn, readFile(t, dir, "ferments/heath.yaml"))
}

// A cellar that goes away while it is polled, and comes back unchanged or changed, is noticed both times and not
// created meanwhile.
func TestCellarGoesAwayAndComesBack(t *testing.T) {
	dir := cellarWith(t, map[string]string{"cellar/ferments/heath.yaml": heath, "cellar/honey.yaml": "lots: []\n"})
	cellar, away := filepath.Join(dir, "cellar"), filepath.Join(dir, "away")
	s := Open(cellar, time.UTC, nil, WithWait(func(time.Duration) {}))
	_, err := s.Load(time.Now())
	require.NoError(t, err)
	for range 3 {
		require.NoError(t, os.Rename(cellar, away))
		assert.True(t, s.Changed(), "gone")
		_, err := s.Load(time.Now())
		var missing *MissingError
		require.ErrorAs(t, err, &missing)
		assert.False(t, s.Changed(), "still gone")
		_, err = s.Append("heath", []ferment.Entry{degasAt(7)})
		require.Error(t, err)
		assert.NoDirExists(t, cellar)

		require.NoError(t, os.Rename(away, cellar))
		assert.True(t, s.Changed(), "back")
		c, err := s.Load(time.Now())
		require.NoError(t, err)
		require.Len(t, c.Ferments, 1)
		assert.Empty(t, c.Problems)
		assert.False(t, s.Changed())
	}
	_, err = s.Append("heath", []ferment.Entry{degasAt(7)})
	require.NoError(t, err)
}

// An identical entry is not written twice; one with any difference is.
func TestRepeatedEntryIsNotDoubled(t *testing.T) {
	for _, text := range []string{heath, "log: [{at: 2026-09-12, did: pitch}]\n", "name: x\n", strings.ReplaceAll(heath, "\n", "\r\n")} {
		dir := cellarWith(t, map[string]string{"ferments/heath.yaml": text})
		s := Open(dir, time.UTC, nil, WithState(t.TempDir()))
		e := degasAt(7)
		e.Note = "smell: bread, a \"little\""
		first, err := s.Append("heath", []ferment.Entry{e})
		require.NoError(t, err)
		assert.False(t, first.Stood)
		once := readFile(t, dir, "ferments/heath.yaml")
		again, err := s.Append("heath", []ferment.Entry{e})
		require.NoError(t, err)
		assert.True(t, again.Stood)
		assert.Equal(t, once, readFile(t, dir, "ferments/heath.yaml"))
		require.NoError(t, s.Undo(again), "there is nothing of it to take back")
		assert.Equal(t, once, readFile(t, dir, "ferments/heath.yaml"))

		for _, other := range []func(*ferment.Entry){
			func(e *ferment.Entry) { e.At.Time = e.At.Time.Add(time.Second) },
			func(e *ferment.Entry) { e.Note = "smell: bread" },
			func(e *ferment.Entry) { e.Did = ferment.Look },
		} {
			e := e
			other(&e)
			got, err := s.Append("heath", []ferment.Entry{e, e})
			require.NoError(t, err)
			assert.False(t, got.Stood)
		}
	}
}

// TestFileOfTheSameSizeAndTimeIsReadAgain: another file with the same size and time is noticed.
func TestFileOfTheSameSizeAndTimeIsReadAgain(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	path := filepath.Join(dir, "ferments/heath.yaml")
	s := Open(dir, time.UTC, nil)
	_, err := s.Load(time.Now())
	require.NoError(t, err)
	was, err := os.Stat(path)
	require.NoError(t, err)
	folder, err := os.Stat(filepath.Dir(path))
	require.NoError(t, err)

	other := filepath.Join(t.TempDir(), "other.yaml")
	require.NoError(t, os.WriteFile(other, []byte(heath), 0o666))
	require.NoError(t, os.Chtimes(other, was.ModTime(), was.ModTime()))
	assert.False(t, s.Changed(), "not yet")
	require.NoError(t, os.Rename(other, path))
	require.NoError(t, os.Chtimes(filepath.Dir(path), folder.ModTime(), folder.ModTime()))
	for place, had := range map[string]os.FileInfo{path: was, filepath.Dir(path): folder} {
		is, err := os.Stat(place)
		require.NoError(t, err)
		require.Equal(t, had.Size(), is.Size())
		require.True(t, had.ModTime().Equal(is.ModTime()))
	}
	assert.True(t, s.Changed())
}
