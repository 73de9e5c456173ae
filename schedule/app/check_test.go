package app_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
)

// TestCheck lists problems and remarks with their lines, including an entry that a stale editor buffer has lost.
func TestCheck(t *testing.T) {
	dir := t.TempDir()
	const text = "name: Heath\nlog:\n  - {at: 2026-10-03 11:00, did: pitch}\n  - {at: 2026-10-04 08:00, gravity: 1.080}\n  - {at: 2026-10-04 08:00, gravity: 1.080}\n"
	path := filepath.Join(dir, "ferments", "heath.yaml")
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o777))
	require.NoError(t, os.WriteFile(path, []byte(text), 0o666))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "honey.yaml"), []byte("lots:\n  - {id: a, mas: 1 kg}\n"), 0o666))
	d := app.New(journal.Open(dir, time.UTC, protocols.Files(), journal.WithState(t.TempDir())))
	_, err := d.Log(at(5, 9, 0), []string{"heath"}, ferment.Entry{Did: ferment.Degas})
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o666))

	problems, remarks, err := d.Check(at(5, 10, 0))
	require.NoError(t, err)
	require.Len(t, problems, 1)
	assert.Equal(t, "  - {id: a, mas: 1 kg}", problems[0].Text)
	require.Len(t, remarks, 2)
	assert.Equal(t, "ferments/heath.yaml: an entry of 2026-10-05 09:00 that was given is not in the file (the board offers it back)", remarks[0].String())
	assert.Equal(t, "{at: 2026-10-05T09:00:00Z, did: degas}", remarks[0].Text)
	assert.Equal(t, 5, remarks[1].Line)
	assert.Equal(t, "  - {at: 2026-10-04 08:00, gravity: 1.080}", remarks[1].Text)
}

// TestCheckOfAStoreInMemory: only what was read.
func TestCheckOfAStoreInMemory(t *testing.T) {
	s := lime()
	s.cellar.Problems = []ferment.Problem{{File: "a"}}
	problems, remarks, err := app.New(s).Check(at(5, 10, 0))
	require.NoError(t, err)
	assert.Len(t, problems, 1)
	assert.Empty(t, remarks)
}
