package journal_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
)

const toStrike = `format: 1
name: x
# the log
log:
  - at: 2026-09-12T18:30:00Z # by hand
    did: pitch
  # a comment of its own
  - {at: 2026-09-13 18:40, gravity: 1.0660, note: "sharp # not a comment"}

  - at: 2026-09-14T07:15:00Z
    did: degas
    note: |
      foam

      to the neck
must:
  volume: 3.6 L
`

// Struck is every entry in turn: the file has the others to the byte, the record has
// what was struck and why, nothing is offered back, and an undo brings the bytes back.
func TestStrikeTakesOneEntryOut(t *testing.T) {
	for i, gone := range []string{
		"  - at: 2026-09-12T18:30:00Z # by hand\n    did: pitch\n",
		"  - {at: 2026-09-13 18:40, gravity: 1.0660, note: \"sharp # not a comment\"}\n",
		"  - at: 2026-09-14T07:15:00Z\n    did: degas\n    note: |\n      foam\n\n      to the neck\n",
	} {
		dir, state := t.TempDir(), t.TempDir()
		file := filepath.Join(dir, "ferments", "x.yaml")
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o777))
		require.NoError(t, os.WriteFile(file, []byte(toStrike), 0o666))
		s := journal.Open(dir, time.FixedZone("", 7200), nil, journal.WithState(state))
		c, err := s.Load(time.Date(2026, 9, 20, 0, 0, 0, 0, time.UTC))
		require.NoError(t, err)
		e := c.Ferments[0].Log[i]
		r, err := s.Strike("x", e, "a typo")
		require.NoError(t, err)
		assert.Equal(t, strings.Replace(toStrike, gone, "", 1), fileText(t, file))
		assert.Equal(t, gone, r.Removed)
		record, err := filepath.Glob(filepath.Join(state, "*", "entries.jsonl"))
		require.NoError(t, err)
		require.Len(t, record, 1)
		assert.Contains(t, fileText(t, record[0]), `"struck":true,"because":"a typo"`)
		lost, err := s.Lost(c)
		require.NoError(t, err)
		assert.Empty(t, lost)
		_, err = s.Strike("x", e, "again")
		assert.ErrorContains(t, err, "the entry is not there as it was shown")
		require.NoError(t, s.Undo(r))
		assert.Equal(t, toStrike, fileText(t, file), "the bytes are back")
		require.NoError(t, os.WriteFile(file, []byte(strings.Replace(toStrike, gone, "", 1)+"note: more\n"), 0o666))
		require.NoError(t, os.Chtimes(file, time.Time{}, time.Now().Add(-time.Hour)))
		require.NoError(t, s.Undo(r))
		c, err = s.Load(time.Date(2026, 9, 20, 0, 0, 0, 0, time.UTC))
		require.NoError(t, err)
		assert.Len(t, c.Ferments[0].Log, 3, "and the entry where the file has changed")
	}
}

// Of any document, an entry that can be struck leaves the others as they were, and its
// bytes come back.
func TestStrikeOfAnyEntryComesBack(t *testing.T) {
	dir, struck, all := t.TempDir(), 0, 0
	file := filepath.Join(dir, "ferments", "x.yaml")
	require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o777))
	rapid.Check(t, func(r *rapid.T) {
		text := document(r)
		was := journal.ReadFerment("a", text, time.UTC)
		if !was.Readable || len(was.Value.Log) == 0 {
			r.Skip("no log")
		}
		require.NoError(r, os.WriteFile(file, text, 0o666))
		require.NoError(r, os.Chtimes(file, time.Time{}, time.Now().Add(-time.Hour)))
		i := rapid.IntRange(0, len(was.Value.Log)-1).Draw(r, "entry")
		s := journal.Open(dir, time.UTC, nil)
		receipt, err := s.Strike("x", was.Value.Log[i], "any")
		if all++; err != nil {
			require.Equal(r, string(text), fileText(t, file), err)
			return
		}
		struck++
		now := journal.ReadFerment("a", []byte(fileText(t, file)), time.UTC)
		require.Len(r, now.Value.Log, len(was.Value.Log)-1)
		require.NoError(r, s.Undo(receipt))
		require.Equal(r, string(text), fileText(t, file))
	})
	require.Greater(t, struck, all/3, "%d of %d", struck, all)
	t.Logf("%d of %d", struck, all)
}

// A corrected entry differs in its value only; comments, quotes and all else stay to the byte, what it said and why is in
// the record, nothing is offered back, and an undo brings the bytes back, also once the file has changed.
func TestCorrectionChangesOnlyWhatDiffers(t *testing.T) {
	with := func(e ferment.Entry, line string) ferment.Entry {
		l := journal.ReadFerment("a", []byte("log:\n  - "+line+"\n"), time.UTC).Value.Log[0]
		l.At = e.At
		return l
	}
	for _, c := range []struct {
		entry         int
		says, was, is string
	}{
		{0, "{at: 2026-09-12, did: mix}", "did: pitch", "did: mix"},
		{2, "{at: 2026-09-12, did: degas, volume: 3.4 L}", "at: 2026-09-14T07:15:00Z\n    did: degas\n    note: |\n      foam\n\n      to the neck\n", "at: 2026-09-14T09:15:00+02:00\n    volume: 3.4 L\n    did: degas\n"},
		{1, `{at: 2026-09-12, gravity: 1.0560, note: "sharp # not a comment"}`, "1.0660", "1.0560"},
		{1, `{at: 2026-09-12, gravity: 1.0660, note: "blunt"}`, `"sharp # not a comment"`, "blunt"},
	} {
		dir, state := t.TempDir(), t.TempDir()
		file := filepath.Join(dir, "ferments", "x.yaml")
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o777))
		require.NoError(t, os.WriteFile(file, []byte(toStrike), 0o666))
		s := journal.Open(dir, time.FixedZone("", 7200), nil, journal.WithState(state))
		before, err := s.Load(time.Date(2026, 9, 20, 0, 0, 0, 0, time.UTC))
		require.NoError(t, err)
		was := before.Ferments[0].Log[c.entry]
		r, err := s.Strike("x", was, "a typo", with(was, c.says))
		require.NoError(t, err, c.is)
		corrected := strings.Replace(toStrike, c.was, c.is, 1)
		require.Equal(t, corrected, fileText(t, file))
		record, err := filepath.Glob(filepath.Join(state, "*", "entries.jsonl"))
		require.NoError(t, err)
		assert.Contains(t, fileText(t, record[0]), `"struck":true,"because":"a typo"`)
		after, err := s.Load(time.Date(2026, 9, 20, 0, 0, 0, 0, time.UTC))
		require.NoError(t, err)
		lost, err := s.Lost(after)
		require.NoError(t, err)
		assert.Empty(t, lost)
		_, err = s.Strike("x", was, "again", was)
		assert.ErrorContains(t, err, "the entry is not there as it was shown")
		require.NoError(t, s.Undo(r))
		require.Equal(t, toStrike, fileText(t, file), "the bytes are back")
		require.NoError(t, os.WriteFile(file, []byte("# more\n"+corrected), 0o666))
		require.NoError(t, os.Chtimes(file, time.Time{}, time.Now().Add(-time.Hour)))
		require.NoError(t, s.Undo(r))
		after, err = s.Load(time.Date(2026, 9, 20, 0, 0, 0, 0, time.UTC))
		require.NoError(t, err)
		assert.Equal(t, entriesOf(before), entriesOf(after), "the entry is back")
		lost, err = s.Lost(after)
		require.NoError(t, err)
		assert.Empty(t, lost)
	}
}

// entriesOf are the entries of the first ferment, without their lines and how their times are written.
func entriesOf(c ferment.Cellar) []ferment.Entry {
	return ferment.Map(c.Ferments[0].Log, func(e ferment.Entry) ferment.Entry { e.Line, e.At.Text = 0, ""; return e })
}

func TestCorrectionDropsNoComment(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "ferments", "x.yaml")
	require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o777))
	text := "format: 1\nlog:\n  - at: 2026-09-12T18:30:00Z\n    note: | # as he said\n      a\n      b\n"
	require.NoError(t, os.WriteFile(file, []byte(text), 0o666))
	s := journal.Open(dir, time.UTC, nil)
	c, err := s.Load(time.Date(2026, 9, 20, 0, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	is := c.Ferments[0].Log[0]
	is.Note = "c"
	_, err = s.Strike("x", c.Ferments[0].Log[0], "", is)
	assert.EqualError(t, err, "ferments/x.yaml: nothing was written: a comment of yours would go with it (change it in the editor)")
	assert.Equal(t, text, fileText(t, file))
}

// Of any document, an entry that can be corrected leaves every other as it was, and its bytes come back.
func TestCorrectionOfAnyEntryComesBack(t *testing.T) {
	dir, corrected, all := t.TempDir(), 0, 0
	file := filepath.Join(dir, "ferments", "x.yaml")
	require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o777))
	rapid.Check(t, func(r *rapid.T) {
		text := document(r)
		was := journal.ReadFerment("a", text, time.UTC)
		if !was.Readable || len(was.Value.Log) == 0 {
			r.Skip("no log")
		}
		require.NoError(r, os.WriteFile(file, text, 0o666))
		require.NoError(r, os.Chtimes(file, time.Time{}, time.Now().Add(-time.Hour)))
		i := rapid.IntRange(0, len(was.Value.Log)-1).Draw(r, "entry")
		is := was.Value.Log[i]
		any := anyEntry(r)
		switch rapid.IntRange(0, 2).Draw(r, "what") {
		case 0:
			is.At, is.Of = any.At, any.Of
		case 1:
			is.Note = any.Note
		case 2:
			is = any
		}
		s := journal.Open(dir, time.UTC, nil)
		receipt, err := s.Strike("x", was.Value.Log[i], "any", is)
		if all++; err != nil {
			require.Equal(r, string(text), fileText(t, file), err)
			return
		}
		corrected++
		now := journal.ReadFerment("a", []byte(fileText(t, file)), time.UTC).Value.Log
		require.Len(r, now, len(was.Value.Log))
		for j := range now {
			want := was.Value.Log[j]
			if j == i {
				want = is
			}
			now[j].Line, want.Line, now[j].Order, want.Order = 0, 0, 0, 0
			require.Equal(r, want.Note, now[j].Note)
			require.Equal(r, want.Of, now[j].Of)
			require.True(r, want.At.Time.Equal(now[j].At.Time))
		}
		kept := fileText(t, file)
		from, added := int(receipt.Offset), len(receipt.Text)
		require.Equal(r, string(text), kept[:from]+receipt.Removed+kept[from+added:], "all else is as it was")
		require.NoError(r, s.Undo(receipt))
		require.Equal(r, string(text), fileText(t, file))
	})
	require.Greater(t, corrected, all/2, "%d of %d", corrected, all)
	t.Logf("%d of %d", corrected, all)
}

func TestStrikeOfTheOnlyEntryLeavesALog(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "ferments", "x.yaml")
	require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o777))
	require.NoError(t, os.WriteFile(file, []byte("format: 1\nlog:\n-\n  at: 2026-09-12T18:30:00Z\n  did: pitch\n"), 0o666))
	s := journal.Open(dir, time.UTC, nil)
	c, err := s.Load(time.Date(2026, 9, 20, 0, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	r, err := s.Strike("x", c.Ferments[0].Log[0], "a typo")
	require.NoError(t, err)
	assert.Equal(t, "format: 1\nlog:\n", fileText(t, file))
	require.NoError(t, s.Undo(r))
	assert.Contains(t, fileText(t, file), "did: pitch")
}

func TestStrikeRefusesBrackets(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "ferments", "x.yaml")
	require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o777))
	text := "format: 1\nlog: [{at: 2026-09-12T18:30:00Z, did: pitch}]\n"
	require.NoError(t, os.WriteFile(file, []byte(text), 0o666))
	s := journal.Open(dir, time.UTC, nil)
	c, err := s.Load(time.Date(2026, 9, 20, 0, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	_, err = s.Strike("x", c.Ferments[0].Log[0], "a typo")
	assert.EqualError(t, err, "ferments/x.yaml: nothing was written: the log is between brackets (change it in the editor)")
	assert.Equal(t, text, fileText(t, file))
}

// What can be taken back is known to the next program, the latest last, twenty at most.
func TestWrittenLasts(t *testing.T) {
	dir, state := t.TempDir(), t.TempDir()
	at := time.Date(2026, 9, 20, 8, 0, 0, 0, time.UTC)
	s := journal.Open(dir, time.UTC, nil, journal.WithState(state))
	for i := range 25 {
		s.SetWritten(append(s.Written(), ferment.Written{At: at.Add(time.Duration(i) * time.Hour),
			Receipts: []ferment.Receipt{{Subject: "x", Text: "text", Entries: []ferment.Entry{{At: ferment.At(at), Did: ferment.Degas}}}}}))
	}
	got := journal.Open(dir, time.UTC, nil, journal.WithState(state)).Written()
	require.Len(t, got, 20)
	assert.True(t, at.Add(24*time.Hour).Equal(got[19].At))
	assert.Equal(t, ferment.Degas, got[19].Receipts[0].Entries[0].Did)
	assert.Empty(t, journal.Open(dir, time.UTC, nil).Written(), "nothing outside of a program without a state folder")
}

func fileText(t *testing.T, file string) string {
	t.Helper()
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	return string(data)
}
