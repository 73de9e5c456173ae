package journal

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
)

// Unsaved entries of two cultures remember their culture, and return to it.
func TestUnsavedEntriesReturnToTheirCulture(t *testing.T) {
	const good = "format: 1\ncultures:\n  - {id: hawthorn-1}\n  - {id: sloe-1, log: []}\n"
	dir := cellarWith(t, map[string]string{culturesFile: "cultures: [\n"})
	s := Open(dir, time.UTC, nil)
	for i, id := range []string{"hawthorn-1", "sloe-1"} {
		_, err := s.Append(id, []ferment.Entry{degasAt(i)})
		require.ErrorContains(t, err, "the entry is kept in cultures.unsaved")
	}
	c, err := s.Check(time.Now())
	require.NoError(t, err)
	require.Len(t, c.Remarks, 1)
	assert.Equal(t, "cultures.unsaved: kept here until cultures.yaml is in order: 2 (the board offers each of them then)", c.Remarks[0].String())

	require.NoError(t, os.WriteFile(filepath.Join(dir, culturesFile), []byte(good), 0o666))
	c, err = s.Check(time.Now())
	require.NoError(t, err)
	assert.Empty(t, c.Remarks)
	lost, err := s.Lost(c)
	require.NoError(t, err)
	require.Len(t, lost, 2)
	assert.Equal(t, "{at: 2026-09-13T01:00:00Z, did: degas}"+ofCulture+"sloe-1", lost[1].Text)
	for _, l := range lost {
		_, err := s.Restore(l)
		require.NoError(t, err)
	}
	c, err = s.Load(time.Now())
	require.NoError(t, err)
	for i, k := range c.Cultures {
		require.Len(t, k.Log, 1, k.ID)
		assert.Equal(t, degasAt(i).At.Time, k.Log[0].At.Time.UTC())
	}
	assert.NoFileExists(t, filepath.Join(dir, "cultures.unsaved"))
}

// A line that a full disk cut off is lost alone.
func TestTruncatedUnsavedLineIsSkippedAlone(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": "name: [\n", "ferments/heath.unsaved": "- {at: 2026-09-13T18:"})
	s := Open(dir, time.UTC, nil)
	_, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	require.Error(t, err)
	assert.Equal(t, "- {at: 2026-09-13T18:\n- {at: 2026-09-13T07:00:00Z, did: degas}\n", readFile(t, dir, "ferments/heath.unsaved"))
	assert.Len(t, s.asideEntries("ferments/heath.yaml", time.UTC), 1)
}

// Unsaved entries of a ferment whose file is gone are reported.
func TestUnsavedEntriesOfAMissingFileAreReported(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/gone.unsaved": "- {at: 2026-09-13T18:00:00Z, did: degas}\n", "ferments/empty.unsaved": "\n"})
	c, err := Open(dir, time.UTC, nil).Check(time.Now())
	require.NoError(t, err)
	require.Len(t, c.Remarks, 1)
	assert.Contains(t, c.Remarks[0].String(), "ferments/gone.unsaved: kept here until ferments/gone.yaml is in order: 1")
}

func TestQuoteReturnsTheLine(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": "a\n\x1bb\n"})
	got := Open(dir, time.UTC, nil).Quote([]ferment.Problem{{File: "ferments/heath.yaml", Line: 2}, {File: "ferments/heath.yaml", Line: 9}, {File: "gone.yaml", Line: 1}, {File: "honey.yaml"}})
	assert.Equal(t, "�b", got[0].Text)
	for _, p := range got[1:] {
		assert.Empty(t, p.Text)
	}
}

// An entry that was tried twice while its file was broken is offered once, and dismissed once.
func TestEntryTriedTwiceIsOfferedOnce(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": "name: [\n"})
	s := Open(dir, time.UTC, nil, WithState(t.TempDir()))
	for range 2 {
		_, err := s.Append("heath", []ferment.Entry{degasAt(7)})
		require.Error(t, err)
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments/heath.yaml"), []byte(heath), 0o666))
	c, err := s.Load(time.Now())
	require.NoError(t, err)
	lost, err := s.Lost(c)
	require.NoError(t, err)
	require.Len(t, lost, 1)
	require.NoError(t, s.Dismiss(lost[0]))
	lost, err = s.Lost(c)
	require.NoError(t, err)
	assert.Empty(t, lost)
}

// In a record written by somebody else, lines that are not its entries are skipped, no file outside the cellar is
// touched, and everything is escaped.
func TestForeignRecordIsIgnored(t *testing.T) {
	dir := cellarWith(t, map[string]string{"cellar/ferments/heath.yaml": heath, "outside.unsaved": "- {at: 2026-09-14T07:00:00Z, did: degas}\n"})
	s := Open(filepath.Join(dir, "cellar"), time.UTC, nil, WithState(filepath.Join(dir, "state")))
	require.NoError(t, os.MkdirAll(filepath.Dir(s.recordPath()), 0o777))
	require.NoError(t, os.WriteFile(s.recordPath(), []byte("\x00\xff\n[]\nnull\n{\"id\": 1}\n"+
		`{"id":"1","subject":"heath","file":"../outside.yaml","entry":"{at: 2026-09-14T07:00:00Z, did: degas, note: \"\\e[31mred\\u202e\"}"}`+"\n"+
		`{"id":"2","subject":"../outside","file":"../outside.yaml","entry":"{at: 2026-09-14T07:00:00Z, did: degas}"}`+"\n"+
		`{"id":"3","subject":"heath","entry":"{at: soon}"}`+"\n"), 0o666))
	c, err := s.Load(time.Now())
	require.NoError(t, err)
	lost, err := s.Lost(c)
	require.NoError(t, err)
	require.Len(t, lost, 1)
	assert.Equal(t, "ferments/heath.yaml", lost[0].File)
	assert.Equal(t, "\ufffd[31mred", lost[0].Entry.Note)
	assert.Equal(t, ferment.Harmless(lost[0].Text), lost[0].Text)
	require.NoError(t, s.Dismiss(lost[0]))
	assert.Equal(t, "- {at: 2026-09-14T07:00:00Z, did: degas}\n", readFile(t, dir, "outside.unsaved"))
	lost, err = s.Lost(c)
	require.NoError(t, err)
	assert.Empty(t, lost)
}
