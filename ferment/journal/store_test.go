package journal

import (
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

const heath = `# by hand
format: 1
name: Heath, sheltered hives
tag: HEATH
must: {volume: 3.6 L, gravity: 1.084}   # measured

log:
  - at: 2026-09-12T18:30:00+01:00
    did: pitch
    amount: 0.9 g

# the end
`

func cellarWith(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		path := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o777))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o666))
		old := time.Now().Add(-time.Minute) // old, so that no write waits
		require.NoError(t, os.Chtimes(path, old, old))
	}
	return dir
}

func readFile(t *testing.T, dir, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, name))
	require.NoError(t, err)
	return string(data)
}

func degasAt(hour int) ferment.Entry {
	return ferment.Entry{At: ferment.At(time.Date(2026, 9, 13, 0, 0, 0, 0, time.UTC).Add(time.Duration(hour) * time.Hour)), Did: ferment.Degas}
}

func TestAppendAddsLinesAndUndoTakesThemOut(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil)
	g, _ := measure.ParseGravity("1.050")
	receipt, err := s.Append("heath", []ferment.Entry{degasAt(7), {At: ferment.At(time.Date(2026, 9, 13, 7, 5, 0, 0, time.UTC)), Gravity: g, Note: "bread: and heather"}})
	require.NoError(t, err)
	got := readFile(t, dir, "ferments/heath.yaml")
	want := strings.Replace(heath, "    amount: 0.9 g\n", "    amount: 0.9 g\n"+
		"  - at: 2026-09-13T07:00:00Z\n    did: degas\n  - at: 2026-09-13T07:05:00Z\n    gravity: 1.050\n    note: \"bread: and heather\"\n", 1)
	assert.Equal(t, want, got, "only lines were added")
	assert.Equal(t, 11, receipt.Line)

	require.NoError(t, s.Undo(receipt))
	assert.Equal(t, heath, readFile(t, dir, "ferments/heath.yaml"))
	assert.ErrorContains(t, s.Undo(receipt), "left alone")
}

func TestUndoLeavesAChangedEntryAlone(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil)
	receipt, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	require.NoError(t, err)
	edited := strings.Replace(readFile(t, dir, "ferments/heath.yaml"), "did: degas", "did: degas # lively", 1)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments/heath.yaml"), []byte(edited), 0o666))
	assert.ErrorContains(t, s.Undo(receipt), "is not there as it was written")
	assert.Equal(t, edited, readFile(t, dir, "ferments/heath.yaml"))
}

func TestTwoStoresLoseNothing(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	var both sync.WaitGroup
	for who := range 2 {
		both.Add(1)
		go func() {
			defer both.Done()
			s := Open(dir, time.UTC, nil)
			for i := range 60 {
				_, err := s.Append("heath", []ferment.Entry{degasAt(2*i + who)})
				assert.NoError(t, err)
			}
		}()
	}
	both.Wait()
	r := ReadFerment("ferments/heath.yaml", []byte(readFile(t, dir, "ferments/heath.yaml")), time.UTC)
	assert.Empty(t, r.Problems)
	assert.Len(t, r.Value.Log, 121)
}

func TestEntryForABrokenFileIsKeptAside(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": "format: 1\nname: [unclosed\n"})
	s := Open(dir, time.UTC, nil)
	_, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	var failed *WriteError
	require.ErrorAs(t, err, &failed)
	assert.Equal(t, "ferments/heath.unsaved", failed.Kept)
	assert.Contains(t, readFile(t, dir, "ferments/heath.unsaved"), "did: degas")
	assert.Equal(t, "format: 1\nname: [unclosed\n", readFile(t, dir, "ferments/heath.yaml"))
}

func TestLoadLeavesOutOnlyTheBrokenFile(t *testing.T) {
	dir := cellarWith(t, map[string]string{
		"ferments/heath.yaml":                     heath,
		"ferments/lime.yaml":                      strings.Replace(heath, "HEATH", "LIME", 1) + "foo: 1\n",
		"ferments/heath (conflicted copy 1).yaml": heath,
		"cellar.yaml":                             "format: 1\nmorning: \"06:30\"\n",
		"honey.yaml":                              "format: 1\nlots:\n  - {id: heath-26, mass: 8 kg}\n",
		"cultures.yaml":                           "format: 1\ncultures:\n  - {id: hawthorn-1, protocol: wild-culture}\n",
	})
	c, err := Open(dir, time.UTC, nil).Load(time.Now())
	require.NoError(t, err)
	require.Len(t, c.Ferments, 1)
	assert.Equal(t, "heath", c.Ferments[0].ID)
	require.Len(t, c.Problems, 1)
	assert.Equal(t, "ferments/lime.yaml", c.Problems[0].File)
	assert.Len(t, c.Remarks, 1, "the conflict copy is told of")
	assert.Equal(t, 6*time.Hour+30*time.Minute, c.Settings.Morning)
	assert.Len(t, c.Lots, 1)
	assert.Len(t, c.Cultures, 1)
}

func TestLoadSeesAChangeAndKeepsTheLastGoodState(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	waited := 0
	s := Open(dir, time.UTC, nil, WithWait(func(time.Duration) { waited++ }))
	_, err := s.Load(time.Now())
	require.NoError(t, err)
	assert.False(t, s.Changed())

	path := filepath.Join(dir, "ferments/heath.yaml")
	require.NoError(t, os.WriteFile(path, nil, 0o666))
	assert.True(t, s.Changed())
	c, err := s.Load(time.Now())
	require.NoError(t, err)
	assert.Equal(t, 1, waited, "an editor may be in the middle of it")
	require.Len(t, c.Ferments, 1, "the last good state stays")
	assert.NotEmpty(t, c.Problems)

	require.NoError(t, os.WriteFile(path, []byte(heath), 0o666))
	c, err = s.Load(time.Now())
	require.NoError(t, err)
	assert.Empty(t, c.Problems)
}

func TestSymbolicLinkAndTheModeStay(t *testing.T) {
	dir := cellarWith(t, map[string]string{"elsewhere/heath.yaml": heath, "ferments/.keep": ""})
	real := filepath.Join(dir, "elsewhere/heath.yaml")
	require.NoError(t, os.Chmod(real, 0o640))
	link := filepath.Join(dir, "ferments/heath.yaml")
	require.NoError(t, os.Symlink(real, link))
	_, err := Open(dir, time.UTC, nil).Append("heath", []ferment.Entry{degasAt(7)})
	require.NoError(t, err)
	info, err := os.Lstat(link)
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&os.ModeSymlink)
	info, err = os.Stat(real)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o640), info.Mode().Perm())
	assert.Contains(t, readFile(t, dir, "elsewhere/heath.yaml"), "did: degas")
}

func TestEntryLostToAStaleEditorIsOfferedBack(t *testing.T) {
	dir, state := cellarWith(t, map[string]string{"ferments/heath.yaml": heath}), t.TempDir()
	s := Open(dir, time.UTC, nil, WithState(state))
	_, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	require.NoError(t, err)
	lost := func() []ferment.Lost {
		c, err := s.Load(time.Now())
		require.NoError(t, err)
		l, err := s.Lost(c)
		require.NoError(t, err)
		return l
	}
	assert.Empty(t, lost())
	require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments/heath.yaml"), []byte(heath), 0o666))
	require.Len(t, lost(), 1)
	assert.Equal(t, heath, readFile(t, dir, "ferments/heath.yaml"), "never put back unasked")
	_, err = s.Restore(lost()[0])
	require.NoError(t, err)
	assert.Empty(t, lost())
	assert.Equal(t, 1, strings.Count(readFile(t, dir, "ferments/heath.yaml"), "did: degas"))
}

func TestUndoneEntryIsNotOfferedBack(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil, WithState(t.TempDir()))
	receipt, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	require.NoError(t, err)
	require.NoError(t, s.Undo(receipt))
	c, err := s.Load(time.Now())
	require.NoError(t, err)
	l, err := s.Lost(c)
	require.NoError(t, err)
	assert.Empty(t, l)
}

func TestUndoKeepsWhatWasAddedToAnEntry(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil)
	receipt, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	require.NoError(t, err)
	edited := strings.Replace(readFile(t, dir, "ferments/heath.yaml"), "did: degas\n", "did: degas\n    note: lively\n", 1)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments/heath.yaml"), []byte(edited), 0o666))
	assert.ErrorContains(t, s.Undo(receipt), "something was added to the entry since")
	assert.Equal(t, edited, readFile(t, dir, "ferments/heath.yaml"), "the note would fall to the entry above")
}

func TestUndoFindsItsEntryAmongNewerOnes(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s, other := Open(dir, time.UTC, nil), Open(dir, time.UTC, nil)
	receipt, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	require.NoError(t, err)
	_, err = other.Append("heath", []ferment.Entry{degasAt(8)})
	require.NoError(t, err)
	edited := "# a line more\n" + readFile(t, dir, "ferments/heath.yaml")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments/heath.yaml"), []byte(edited), 0o666))
	require.NoError(t, s.Undo(receipt))
	assert.Equal(t, strings.Replace(edited, receipt.Text, "", 1), readFile(t, dir, "ferments/heath.yaml"))
}

func TestEntriesAreWrittenInTheCellarsZone(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath, "cellar.yaml": "timezone: Europe/Dublin\n"})
	s := Open(dir, time.UTC, nil)
	_, err := s.Load(time.Now())
	require.NoError(t, err)
	_, err = s.Append("heath", []ferment.Entry{degasAt(7)})
	require.NoError(t, err)
	assert.Contains(t, readFile(t, dir, "ferments/heath.yaml"), "at: 2026-09-13T08:00:00+01:00")
}

func TestFileThatOnlyLooksNewIsNotReadAgain(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil)
	load := func() ferment.Ferment {
		c, err := s.Load(time.Now())
		require.NoError(t, err)
		require.Len(t, c.Ferments, 1)
		return c.Ferments[0]
	}
	first := &load().Log[0]
	require.NoError(t, os.Chtimes(filepath.Join(dir, "ferments/heath.yaml"), time.Time{}, time.Now().Add(time.Hour)))
	assert.True(t, s.Changed())
	assert.Same(t, first, &load().Log[0], "the text is the same, so what it said is remembered")
	assert.False(t, s.Changed())
	require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments/heath.yaml"), []byte(heath+"#"), 0o666))
	assert.NotSame(t, first, &load().Log[0])
}

func TestBrokenFileIsWaitedForOnce(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	path := filepath.Join(dir, "ferments/heath.yaml")
	waited := 0
	s := Open(dir, time.UTC, nil, WithWait(func(d time.Duration) {
		assert.Equal(t, 300*time.Millisecond, d)
		if waited++; waited == 1 { // the editor finishes writing
			require.NoError(t, os.WriteFile(path, []byte(heath+"# more\n"), 0o666))
		}
	}))
	load := func() ferment.Cellar {
		c, err := s.Load(time.Now())
		require.NoError(t, err)
		return c
	}
	load()
	require.NoError(t, os.WriteFile(path, []byte("format: 1\nname: [\n"), 0o666))
	assert.Empty(t, load().Problems)
	assert.Equal(t, 1, waited)

	require.NoError(t, os.WriteFile(path, []byte("format: 1\nname: [\n"), 0o666))
	for range 3 {
		c := load()
		require.Len(t, c.Problems, 1)
		require.Len(t, c.Ferments, 1)
		assert.Equal(t, ferment.Pitch, c.Ferments[0].Log[0].Did, "the last good state")
	}
	assert.Equal(t, 2, waited, "a file that stays broken is not waited for again")
}

func TestUnsavedEntriesAreOfferedOnceTheFileIsFixed(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": "name: [\n"})
	s := Open(dir, time.UTC, nil)
	_, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	require.Error(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments/heath.yaml"), []byte(heath), 0o666))
	c, err := s.Load(time.Now())
	require.NoError(t, err)
	lost, err := s.Lost(c)
	require.NoError(t, err)
	require.Len(t, lost, 1)
	_, err = s.Restore(lost[0])
	require.NoError(t, err)
	assert.Contains(t, readFile(t, dir, "ferments/heath.yaml"), "did: degas")
	assert.NoFileExists(t, filepath.Join(dir, "ferments/heath.unsaved"))
}

func TestDismissedEntryIsNotOfferedAgain(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil, WithState(t.TempDir()))
	_, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	require.NoError(t, err)
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

func TestChangedValueIsNotALoss(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil, WithState(t.TempDir()))
	g, _ := measure.ParseGravity("1.050")
	_, err := s.Append("heath", []ferment.Entry{{At: degasAt(7).At, Gravity: g}})
	require.NoError(t, err)
	edit := func(old, new string) []ferment.Lost {
		edited := strings.Replace(readFile(t, dir, "ferments/heath.yaml"), old, new, 1)
		require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments/heath.yaml"), []byte(edited), 0o666))
		c, err := s.Load(time.Now())
		require.NoError(t, err)
		lost, err := s.Lost(c)
		require.NoError(t, err)
		return lost
	}
	assert.Empty(t, edit("gravity: 1.050", "gravity: 1.052\n    note: read again"))
	assert.Len(t, edit("gravity: 1.052", "ph: 3.4"), 1, "another measurement is another entry")
}

func TestTruncatedRecordLineIsSkippedAlone(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil, WithState(t.TempDir()))
	require.NoError(t, os.MkdirAll(filepath.Dir(s.recordPath()), 0o777))
	require.NoError(t, os.WriteFile(s.recordPath(), []byte(`{"id":"1","subj`), 0o666))
	_, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	require.NoError(t, err)
	notes, err := s.recorded(time.UTC, func(note) bool { return true })
	require.NoError(t, err)
	assert.Len(t, notes, 1)
}

func TestEntryWithoutRecordIsWrittenWithANotice(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath, "state": "a file, where a folder is wanted"})
	s := Open(dir, time.UTC, nil, WithState(filepath.Join(dir, "state")))
	_, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	require.NoError(t, err)
	assert.Contains(t, readFile(t, dir, "ferments/heath.yaml"), "did: degas")
	c, err := s.Load(time.Now())
	require.NoError(t, err)
	require.Len(t, c.Remarks, 1)
	assert.Contains(t, c.Remarks[0].Message, "entries go to their files alone")
}

func TestLeftOverFilesAreRemovedAfterADay(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/.jugkeeper-1-1.tmp": "", "ferments/.jugkeeper-1-2.tmp": "", ".other.tmp": ""})
	now := time.Now()
	require.NoError(t, os.Chtimes(filepath.Join(dir, "ferments/.jugkeeper-1-1.tmp"), now, now.Add(-25*time.Hour)))
	require.NoError(t, os.Chtimes(filepath.Join(dir, ".other.tmp"), now, now.Add(-25*time.Hour)))
	_, err := Open(dir, time.UTC, nil).Load(now)
	require.NoError(t, err)
	assert.NoFileExists(t, filepath.Join(dir, "ferments/.jugkeeper-1-1.tmp"))
	assert.FileExists(t, filepath.Join(dir, "ferments/.jugkeeper-1-2.tmp"), "a day has not passed")
	assert.FileExists(t, filepath.Join(dir, ".other.tmp"), "not ours")
}

func TestWriteNewNeverOverwrites(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.yaml")
	require.NoError(t, os.WriteFile(path, []byte("old"), 0o666))
	assert.ErrorIs(t, writeNew(path, []byte("new")), os.ErrExist)
	assert.ErrorIs(t, claim(path+"x", path), os.ErrExist)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "old", string(text))
}

func TestCheckSeesTheCellarAsAWhole(t *testing.T) {
	dir := cellarWith(t, map[string]string{
		"ferments/a.yaml":       "name: x\ntag: B\nprotocol: smal-jug\n",
		"ferments/b.yaml":       "tag: HEATHER\n",
		"ferments/c.yaml":       "tag: X\n",
		"ferments/d.yaml":       "{tag: x, must: {volume: 1 gal}}\n",
		"ferments/D.yaml":       "tag: 蜜蜜蜜é\n",
		"ferments/past/e.yaml":  "tagg: x\n",
		"ferments/past/f g.yml": "",
		"ferments/past/f.yaml~": "",
		"protocols/mine.yaml":   "name: mine\nsteps:\n  - {step: a, do: degas, due: nowhere-step + 1 d}\n",
		"ferments/x y.yaml":     "tag: Q\n",
	})
	c, err := Open(dir, time.UTC, map[string][]byte{"small-jug": []byte("name: small-jug\nsteps: [{step: pitch, do: pitch, due: mix}]\n")}).Check(time.Now())
	require.NoError(t, err)
	var told []string
	for _, p := range append(c.Problems, c.Remarks...) {
		told = append(told, p.String())
	}
	want := []string{
		`ferments/D.yaml: its name is that of d in other letters (rename one, e.g. bh-b.yaml)`,
		`ferments/D.yaml:1:6: tag "蜜蜜蜜é" is wider than six columns (e.g. tag: BH-A)`,
		`ferments/a.yaml:2:6: tag "B" is the name of another ferment (give it one of its own, e.g. tag: BH-A)`,
		`ferments/a.yaml:3:11: protocol "smal-jug" is not known (did you mean protocol: small-jug)`,
		`ferments/b.yaml:1:6: tag "HEATHER" is wider than six columns (e.g. tag: BH-A)`,
		`ferments/c.yaml:1:6: tag "X" is on d too (give each its own, e.g. tag: BH-A and tag: BH-B)`,
		`ferments/d.yaml: its name is that of D in other letters (rename one, e.g. bh-b.yaml)`,
		`ferments/d.yaml:1:7: tag "x" is on c too (give each its own, e.g. tag: BH-A and tag: BH-B)`,
		`ferments/past/e.yaml:1:1: "tagg" is no key of a ferment (did you mean tag, e.g. tag: BH-A)`,
	}
	require.Greater(t, len(told), len(want))
	assert.Equal(t, want, told[:len(want)])
	rest := strings.Join(told[len(want):], "\n")
	assert.Contains(t, rest, "protocols/mine.yaml:3:31: ")
	assert.Contains(t, rest, "ferments/d.yaml:1:25: volume \"1 gal\" is taken as US gallons")
	assert.Contains(t, rest, "ferments/x y.yaml: is not read")
	assert.Contains(t, rest, "ferments/past/f g.yml: is not read")
	assert.Len(t, told, len(want)+4)
}
