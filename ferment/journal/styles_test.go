package journal_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/measure"
)

// read returns the log in a text, without line numbers.
func read(t require.TestingT, text []byte) (log []ferment.Entry, problems []ferment.Problem) {
	r := journal.ReadFerment("ferments/a.yaml", text, time.UTC)
	require.True(t, r.Readable, "%s\n%s", text, lines(r.Problems))
	for _, e := range r.Value.Log {
		e.Line, e.Order = 0, 0
		log = append(log, e)
	}
	return log, r.Problems
}

// rest returns a text's record without its log.
func rest(text []byte) ferment.Ferment {
	f := journal.ReadFerment("ferments/a.yaml", text, time.UTC).Value
	f.Log, f.Lines, f.Stamp = nil, nil, 0
	return f
}

// written returns an entry as it reads back.
func written(e ferment.Entry) ferment.Entry {
	e.At.Text = e.At.Time.Format(time.RFC3339)
	return e
}

// requireGrown checks that a text is another with entries inserted: all other bytes and all old entries are unchanged.
func requireGrown(t require.TestingT, before []byte, got journal.Insertion, entries ...ferment.Entry) {
	requireBytes(t, before, got)
	require.Equal(t, rest(before), rest(got.Text), "the other keys say what they said\n%s", got.Text)
	oldLog, oldProblems := read(t, before)
	newLog, newProblems := read(t, got.Text)
	require.Len(t, newProblems, len(oldProblems))
	require.Len(t, newLog, len(oldLog)+len(entries), "%s", got.Text)
	at := len(oldLog)
	if len(oldLog) > 0 && !assert.ObjectsAreEqual(oldLog, newLog[:at]) {
		at = 0
	}
	require.Equal(t, oldLog, append(append([]ferment.Entry(nil), newLog[:at]...), newLog[at+len(entries):]...))
	for i, e := range entries {
		require.Equal(t, written(e), newLog[at+i])
	}
	first := strings.Split(strings.ReplaceAll(string(got.Text), "\r\n", "\n"), "\n")[got.Line-1]
	require.Contains(t, first, entries[0].At.Time.Format(time.RFC3339), "the line of the entry")
}

func TestForeignStyles(t *testing.T) {
	files, err := filepath.Glob("../../testdata/cellars/styles/ferments/*.yaml")
	require.NoError(t, err)
	require.Greater(t, len(files), 12)
	gravity, err := measure.ParseGravity("1.050")
	require.NoError(t, err)
	reading := ferment.Entry{At: ferment.At(time.Date(2026, 11, 2, 7, 15, 0, 0, time.UTC)), Gravity: gravity, Note: "clear: nearly, [not] quite # yet\n\"soon\""}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			one, err := journal.Insert(text, degassed())
			require.NoError(t, err)
			requireGrown(t, text, one, degassed())
			two, err := journal.Insert(one.Text, reading, degassed())
			require.NoError(t, err)
			requireGrown(t, one.Text, two, reading, degassed())
		})
	}
}
