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

// lostNow are the entries that the store offers.
func lostNow(t *testing.T, s *Store) []ferment.Lost {
	t.Helper()
	c, err := s.Load(time.Now())
	require.NoError(t, err)
	lost, err := s.Lost(c)
	require.NoError(t, err)
	return lost
}

// A ferment by hand under a name of last year is not offered last year's
// entries; its own, also those of its beginning, it is.
func TestANameUsedAgain(t *testing.T) {
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

// A new ferment that the program makes under a name of last year begins without
// entries, and is offered none.
func TestANewFermentOfAnOldName(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil, WithState(t.TempDir()))
	_, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	require.NoError(t, err)
	require.NoError(t, os.Remove(filepath.Join(dir, "ferments/heath.yaml")))
	_, err = s.Apply(ferment.Change{Ferments: []ferment.Ferment{{ID: "heath", Name: "Heath again"}}})
	require.NoError(t, err)
	assert.Empty(t, lostNow(t, s))
}
