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
	assert.ErrorContains(t, s.Undo(receipt), "does not stand there as it was written")
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

func TestAnEntryWithoutAPlaceIsKeptBeside(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": "format: 1\nname: [unclosed\n"})
	s := Open(dir, time.UTC, nil)
	_, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	var failed *WriteError
	require.ErrorAs(t, err, &failed)
	assert.Equal(t, "ferments/heath.unsaved", failed.Kept)
	assert.Contains(t, readFile(t, dir, "ferments/heath.unsaved"), "did: degas")
	assert.Equal(t, "format: 1\nname: [unclosed\n", readFile(t, dir, "ferments/heath.yaml"))
}

func TestLoadCostsABrokenFileAlone(t *testing.T) {
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

func TestASymbolicLinkAndTheModeStay(t *testing.T) {
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

func TestAnEntryLostToAStaleEditorIsOfferedBack(t *testing.T) {
	dir, state := cellarWith(t, map[string]string{"ferments/heath.yaml": heath}), t.TempDir()
	s := Open(dir, time.UTC, nil, WithState(state))
	_, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	require.NoError(t, err)
	lost := func() []Lost {
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

func TestAnUndoneEntryIsNotOfferedBack(t *testing.T) {
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

func TestCreateNeverWritesOver(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil)
	assert.ErrorContains(t, s.Create("heath", []byte("format: 1\n")), "has a file already")
	assert.ErrorContains(t, s.Create("../heath", []byte("format: 1\n")), "no name for a ferment")
	require.NoError(t, s.Create("lime", []byte("format: 1\n")))
	assert.Equal(t, heath, readFile(t, dir, "ferments/heath.yaml"))
}
