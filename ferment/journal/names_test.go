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

// lostNow returns the entries that the store offers.
func lostNow(t *testing.T, s *Store) []ferment.Lost {
	t.Helper()
	c, err := s.Load(time.Now())
	require.NoError(t, err)
	lost, err := s.Lost(c)
	require.NoError(t, err)
	return lost
}

// A ferment made by hand with a name of last year is not offered last year's entries; its own are offered, including
// its first.
func TestNameUsedAgain(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	path := filepath.Join(dir, "ferments/heath.yaml")
	s := Open(dir, time.UTC, nil, WithState(t.TempDir()), WithWait(func(time.Duration) {}))
	for i := range 3 {
		_, err := s.Append("heath", []ferment.Entry{degasAt(i)})
		require.NoError(t, err)
	}
	this := strings.ReplaceAll(heath, "2026-", "2027-")
	require.NoError(t, os.WriteFile(path, []byte(this), 0o666))
	assert.Empty(t, lostNow(t, s))
	next := degasAt(9)
	next.At.Time = next.At.Time.AddDate(1, 0, 0)
	_, err := s.Append("heath", []ferment.Entry{next})
	require.NoError(t, err)
	assert.Empty(t, lostNow(t, s))
	require.NoError(t, os.WriteFile(path, []byte(this), 0o666))
	require.Len(t, lostNow(t, s), 1)
	assert.True(t, sameEntry(lostNow(t, s)[0].Entry, next))
	_, err = s.Restore(lostNow(t, s)[0])
	require.NoError(t, err)
	text := readFile(t, dir, "ferments/heath.yaml")
	require.NoError(t, os.WriteFile(path, []byte(strings.Replace(text, "2027-09-12T18:30", "2027-09-12T17:00", 1)), 0o666))
	assert.Empty(t, lostNow(t, s), "the time of its first entry was corrected")
	_, err = s.Append("heath", []ferment.Entry{{At: ferment.At(next.At.Time.Add(time.Hour)), Did: ferment.Degas}})
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o666))
	assert.Len(t, lostNow(t, s), 1, "what was given since is of the same ferment")
}

// A new ferment with a name of last year starts without entries, and none are offered.
func TestNewFermentOfAnOldName(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil, WithState(t.TempDir()))
	_, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	require.NoError(t, err)
	require.NoError(t, os.Remove(filepath.Join(dir, "ferments/heath.yaml")))
	_, err = s.Apply(ferment.Change{Ferments: []ferment.Ferment{{ID: "heath", Name: "Heath again"}}})
	require.NoError(t, err)
	assert.Empty(t, lostNow(t, s))
}

// A closed ferment that an editor saved again counts once, as the open one, under its name and under another; a twin
// pitched at the same time is another ferment.
func TestClosedFermentSavedAgain(t *testing.T) {
	twin := strings.ReplaceAll(strings.ReplaceAll(heath, "HEATH", "HEATH-B"), "sheltered hives", "second jug")
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath, "ferments/past/heath.yaml": heath,
		"ferments/past/heath-of-2026.yaml": heath, "ferments/past/heath-b.yaml": twin})
	s := Open(dir, time.UTC, nil)
	c, err := s.Check(time.Now())
	require.NoError(t, err)
	past, problems, err := s.Past(time.Now())
	require.NoError(t, err)
	for _, rest := range [][]ferment.Ferment{c.Past, past} {
		require.Len(t, rest, 1)
		assert.Equal(t, "heath-b", rest[0].ID)
	}
	require.Len(t, problems, 2)
	assert.Subset(t, c.Problems, problems)
	assert.Equal(t, "ferments/heath.yaml: is closed too, as ferments/past/heath-of-2026.yaml, and counts once "+
		"(remove one of the two; another ferment needs a name and a pitch of its own)", problems[0].String())
}

// Files that look like those of the cellar but are not read are reported, except backups and swap files.
func TestFilesThatAreNotRead(t *testing.T) {
	told := map[string]string{"honey.yml": "the ending is .yaml (rename it to honey.yaml)", "cultures (copy 1).yaml": "ferments are in",
		"lime.yaml": "ferments are in", "cellar-conflict.yaml": "ferments are in", "ferments/lime.yml": "rename it to lime.yaml",
		"ferments/lime.YAML": "rename it to lime.yaml", "ferments/lime (conflict).yml": "a copy?", "ferments/past/a b.yaml": "a copy?", "protocols/own.yml": "rename it to own.yaml"}
	silent := []string{"honey.yaml~", ".honey.yaml.swp", "#honey.yaml#", "honey.yaml.bak", "notes.txt", "ferments/.#heath.yaml", "ferments/heath.yaml.orig", "ferments/heath.unsaved"}
	files := map[string]string{"ferments/heath.yaml": heath}
	for name := range told {
		files[name] = "lots: []\n"
	}
	for _, name := range silent {
		files[name] = "x"
	}
	c, err := Open(cellarWith(t, files), time.UTC, nil).Check(time.Now())
	require.NoError(t, err)
	assert.Empty(t, c.Problems)
	for _, r := range c.Remarks {
		if r.File != "ferments/heath.unsaved" {
			assert.Contains(t, r.Message, "is not read: ", r.File)
			assert.Contains(t, r.Message, told[r.File], r.File)
			assert.Contains(t, told, r.File)
		}
	}
	assert.Len(t, c.Remarks, len(told)+1)
}
