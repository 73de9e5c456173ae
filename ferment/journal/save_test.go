//go:build unix

package journal

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
)

// An editor saves four hundred times in each of three ways while entries are written: by renaming a new file, by
// emptying the file first, and by writing over it. None of its lines is lost where the system can exchange files;
// elsewhere there is a moment between the last look and the rename.
func TestEditorThatSavesMeanwhile(t *testing.T) {
	races := 400
	if testing.Short() {
		races = 60
	}
	over := func(flags int) func(path string, text []byte) error {
		return func(path string, text []byte) error {
			f, err := os.OpenFile(path, flags, 0o666)
			if err != nil {
				return err
			}
			_, err = f.Write(text)
			return errors.Join(err, f.Close())
		}
	}
	for name, save := range map[string]func(path string, text []byte) error{
		"rename": func(path string, text []byte) error {
			return errors.Join(os.WriteFile(path+"~", text, 0o666), os.Rename(path+"~", path))
		},
		"truncate": over(os.O_WRONLY | os.O_TRUNC),
		"over":     over(os.O_WRONLY), // the text only grows
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
			path := filepath.Join(dir, "ferments/heath.yaml")
			s := Open(dir, time.UTC, nil, WithState(t.TempDir()), WithWait(func(time.Duration) {}))
			saved, stop, done := 0, atomic.Bool{}, make(chan int)
			go func() { // an editor reads, waits a moment, compares, and saves
				for saved < races {
					text, err := os.ReadFile(path)
					if err != nil {
						continue
					}
					line := fmt.Sprintf("# by hand %d\n", saved)
					if now, err := os.ReadFile(path); err == nil && bytes.Equal(now, text) && save(path, append(text, line...)) == nil {
						saved++
					}
					time.Sleep(time.Duration(saved%7) * time.Millisecond)
				}
				stop.Store(true)
				done <- saved
			}()
			kept := 0
			for i := 0; !stop.Load(); i++ {
				if _, err := s.Append("heath", []ferment.Entry{degasAt(i)}); err == nil {
					kept++
				}
			}
			hand := <-done
			text := readFile(t, dir, "ferments/heath.yaml")
			copies, err := filepath.Glob(filepath.Join(dir, "ferments", "heath~*.yaml")) // of two saves during a rollback
			require.NoError(t, err)
			for _, c := range copies {
				text += readFile(t, dir, filepath.Join("ferments", filepath.Base(c)))
			}
			lost := 0
			for i := range hand {
				if !strings.Contains(text, fmt.Sprintf("# by hand %d\n", i)) {
					lost++
				}
			}
			t.Logf("%s: %d races, %d entries kept, %d saves by hand, %d of them lost, %d copies", name, races, kept, hand, lost, len(copies))
			allowed := races / 50
			if runtime.GOOS == "linux" {
				allowed = 0
			}
			assert.LessOrEqual(t, lost, allowed)
		})
	}
}

// What an editor writes into a file that it has open is not lost.
func TestEditorThatHasTheFileOpen(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	f, err := os.OpenFile(filepath.Join(dir, "ferments/heath.yaml"), os.O_WRONLY|os.O_APPEND, 0)
	require.NoError(t, err)
	s := Open(dir, time.UTC, nil, WithWait(func(time.Duration) {}))
	if _, err := s.Append("heath", []ferment.Entry{degasAt(9)}); runtime.GOOS == "linux" {
		require.ErrorIs(t, err, errEdited)
	}
	_, err = f.WriteString("# by hand\n")
	require.NoError(t, err)
	require.NoError(t, f.Close())
	if runtime.GOOS == "linux" {
		assert.Equal(t, heath+"# by hand\n", readFile(t, dir, "ferments/heath.yaml"))
	}
	_, err = s.Append("heath", []ferment.Entry{degasAt(9)})
	require.NoError(t, err)
	assert.Len(t, entriesIn(t, dir, "heath"), 2)
}

// A text saved just between reading and renaming is kept, and the entry goes into it.
func TestSaveJustBeforeTheRename(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	path := filepath.Join(dir, "ferments/heath.yaml")
	s := Open(dir, time.UTC, nil)
	assert.ErrorIs(t, s.replace(path, []byte("as it was read"), []byte("new")), errEdited)
	assert.Equal(t, heath, readFile(t, dir, "ferments/heath.yaml"))
	require.NoError(t, s.replace(path, []byte(heath), []byte(heath+"# more\n")))
	assert.Equal(t, heath+"# more\n", readFile(t, dir, "ferments/heath.yaml"))
}

// An editor saves in the moment of the exchange, reads the new text before it is taken back, and saves over what it
// saved first: both of its lines are kept, in the file or in a copy.
func TestEditorThatReadsBeforeTheExchangeIsTakenBack(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	path, file := filepath.Join(dir, "ferments/heath.yaml"), "ferments/heath.yaml"
	save := func(text string) {
		require.NoError(t, os.WriteFile(path+"~", []byte(text), 0o666))
		require.NoError(t, os.Rename(path+"~", path))
	}
	temp, err := writeTemp(filepath.Dir(path), []byte(heath+"# entry\n"), 0o666, path)
	require.NoError(t, err)
	calls := 0
	err = takePlace(func(a, b string) error {
		calls++
		if calls == 1 {
			save(heath + "# by hand 1\n")
			return exchange(a, b)
		}
		open := readFile(t, dir, file)
		err := exchange(a, b)
		if calls == 2 {
			time.AfterFunc(20*time.Millisecond, func() { save(open + "# by hand 2\n") }) // the exchange is over by then
		}
		return err
	}, temp, path, []byte(heath), []byte(heath+"# entry\n"))
	if err == nil {
		t.Skip("files cannot be exchanged here")
	}
	require.ErrorIs(t, err, errEdited)
	require.Eventually(t, func() bool { return strings.Contains(readFile(t, dir, file), "by hand 2") }, 5*time.Second, time.Millisecond)
	text := readFile(t, dir, file)
	copies, err := filepath.Glob(filepath.Join(dir, "ferments", "heath~*.yaml"))
	require.NoError(t, err)
	for _, c := range copies {
		text += readFile(t, dir, filepath.Join("ferments", filepath.Base(c)))
	}
	assert.Contains(t, text, "# by hand 1\n")
}

// A file that is saved slowly, in place, is waited for: with an entry in its first half the rest would be lost.
func TestFileThatIsSavedSlowly(t *testing.T) {
	t.Parallel()
	var whole strings.Builder
	whole.WriteString("format: 1\nname: Heath\nlog:\n")
	for i := range 84 {
		fmt.Fprintf(&whole, "  - {at: 2026-09-13T%02d:%02d:00Z, did: degas}\n", i/60, i%60)
	}
	text := whole.String()
	for _, gap := range []time.Duration{20 * time.Millisecond, 150 * time.Millisecond} {
		dir := cellarWith(t, map[string]string{"ferments/heath.yaml": text})
		path := filepath.Join(dir, "ferments/heath.yaml")
		s := Open(dir, time.UTC, nil)
		f, err := os.OpenFile(path, os.O_WRONLY|os.O_TRUNC, 0)
		require.NoError(t, err)
		half := strings.Index(text[len(text)/2:], "\n") + len(text)/2 + 1
		_, err = f.WriteString(text[:half])
		require.NoError(t, err)
		go func() {
			for rest := text[half:]; rest != ""; {
				time.Sleep(gap)
				n := min(len(rest), 300)
				_, _ = f.WriteString(rest[:n])
				rest = rest[n:]
			}
			f.Close()
		}()
		_, err = s.Append("heath", []ferment.Entry{degasAt(9)})
		require.NoError(t, err)
		assert.Len(t, entriesIn(t, dir, "heath"), 85, "gap %s", gap)
	}
}

// Nothing is written into a file that ends in the middle of an entry: the entry is kept as unsaved.
func TestFileThatIsNotSavedToItsEnd(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": "log:\n  - {at: 2026-09-12, did: pitch}\n  - {at: 2026-09-13, di"})
	_, err := Open(dir, time.UTC, nil, WithWait(func(time.Duration) {})).Append("heath", []ferment.Entry{degasAt(9)})
	assert.ErrorContains(t, err, "the file ends in the middle of an entry")
	assert.ErrorContains(t, err, "the entry is kept in ferments/heath.unsaved")
}

// Two entries of one time and act are offered separately: restoring one does not strike the other.
func TestIdenticalEntriesAreTwo(t *testing.T) {
	at := ferment.Moment{Time: time.Date(2026, 9, 13, 0, 0, 0, 0, time.UTC), DayOnly: true}
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil, WithState(t.TempDir()), WithWait(func(time.Duration) {}))
	_, err := s.Append("heath", []ferment.Entry{{At: at, Note: "one"}, {At: at, Note: "two"}})
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments/heath.yaml"), []byte(heath), 0o666))
	for left := 2; left >= 0; left-- {
		c, err := s.Load(time.Now())
		require.NoError(t, err)
		lost, err := s.Lost(c)
		require.NoError(t, err)
		require.Len(t, lost, left)
		if left > 0 {
			_, err = s.Restore(lost[0])
			require.NoError(t, err)
		}
	}
	assert.Len(t, entriesIn(t, dir, "heath"), 3)
}

// An entry whose time or amount was corrected in the editor is not lost; one of another day is.
func TestCorrectedTimeIsNotALoss(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	s := Open(dir, time.UTC, nil, WithState(t.TempDir()), WithWait(func(time.Duration) {}))
	_, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	require.NoError(t, err)
	text := readFile(t, dir, "ferments/heath.yaml")
	for to, want := range map[string]int{"2026-09-13T08:30": 0, "2026-09-12T23:00": 0, "2026-09-20T07:00": 1} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments/heath.yaml"), []byte(strings.Replace(text, "2026-09-13T07:00", to, 1)), 0o666))
		c, err := s.Load(time.Now())
		require.NoError(t, err)
		lost, err := s.Lost(c)
		require.NoError(t, err)
		assert.Len(t, lost, want, to)
	}
}

// What another program wrote after the cellar was read is not called lost.
func TestEntryOfAnotherProgramIsNotLost(t *testing.T) {
	dir, state := cellarWith(t, map[string]string{"ferments/heath.yaml": heath}), t.TempDir()
	board := Open(dir, time.UTC, nil, WithState(state))
	c, err := board.Load(time.Now())
	require.NoError(t, err)
	_, err = Open(dir, time.UTC, nil, WithState(state)).Append("heath", []ferment.Entry{degasAt(7)})
	require.NoError(t, err)
	lost, err := board.Lost(c)
	require.NoError(t, err)
	assert.Empty(t, lost)
}

// A held lock is waited for two seconds, then the error names its holder; the same can be tried again.
func TestLockHeldByAnotherProgram(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	holds := Open(dir, time.UTC, nil)
	unlock, err := holds.lock()
	require.NoError(t, err)
	waited := time.Duration(0)
	s := Open(dir, time.UTC, nil, WithWait(func(d time.Duration) { waited += d }))
	_, err = s.Append("heath", []ferment.Entry{degasAt(7)})
	assert.ErrorContains(t, err, fmt.Sprintf("another program (pid %d", os.Getpid()))
	assert.ErrorContains(t, err, ") since ")
	assert.LessOrEqual(t, waited, 2*time.Second)
	unlock()
	_, err = s.Append("heath", []ferment.Entry{degasAt(7)})
	assert.NoError(t, err)
}

// Where the folder has no locks, a file that only one program can create is used; that of a dead program is removed.
func TestWithoutSystemLocks(t *testing.T) {
	only := filepath.Join(t.TempDir(), "held")
	require.NoError(t, createOnly(only))
	assert.ErrorIs(t, createOnly(only), errHeld)
	host, _ := os.Hostname()
	require.NoError(t, os.WriteFile(only, []byte("pid 999999999 "+host+"\n"), 0o666))
	assert.ErrorIs(t, createOnly(only), errHeld, "it is looked at again")
	assert.NoError(t, createOnly(only))
}

// Pipes and links in place of files neither block nor lead outside.
func TestPipesAndLinksInThePlaceOfFiles(t *testing.T) {
	elsewhere := filepath.Join(t.TempDir(), "elsewhere")
	for _, name := range []string{"ferments/heath.unsaved", "cellar.yaml", "honey.yaml", "ferments/lime.yaml", ".lock"} {
		for _, kind := range []string{"pipe", "link"} {
			dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
			s := Open(dir, time.UTC, nil, WithState(t.TempDir()), WithWait(func(time.Duration) {}))
			if kind == "pipe" {
				require.NoError(t, syscall.Mkfifo(filepath.Join(dir, name), 0o666))
			} else {
				require.NoError(t, os.Symlink(elsewhere, filepath.Join(dir, name)))
			}
			_, err := s.Check(time.Now())
			require.NoError(t, err)
			_, err = s.Append("heath", []ferment.Entry{degasAt(7)})
			if name == ".lock" {
				assert.ErrorContains(t, err, ".lock is no plain file", kind)
			} else {
				assert.NoError(t, err, "%s %s", name, kind)
			}
			assert.NoFileExists(t, elsewhere)
		}
	}
	dir, state := cellarWith(t, map[string]string{"ferments/heath.yaml": heath}), t.TempDir()
	s := Open(dir, time.UTC, nil, WithState(state))
	require.NoError(t, os.MkdirAll(filepath.Dir(s.recordPath()), 0o777))
	require.NoError(t, syscall.Mkfifo(s.recordPath(), 0o666))
	r, err := s.Append("heath", []ferment.Entry{degasAt(7)})
	require.NoError(t, err)
	assert.Equal(t, "the record is no plain file", r.Alone)
}

// A read-only file is not written, even by root; a file with hard links is not replaced.
func TestFilesThatAreNotWritten(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": heath})
	path := filepath.Join(dir, "ferments/heath.yaml")
	require.NoError(t, os.Chmod(path, 0o444))
	_, err := Open(dir, time.UTC, nil).Append("heath", []ferment.Entry{degasAt(7)})
	assert.ErrorContains(t, err, "marked as not to be written")
	require.NoError(t, os.Chmod(path, 0o644))
	require.NoError(t, os.Link(path, filepath.Join(dir, "second")))
	_, err = Open(dir, time.UTC, nil).Append("heath", []ferment.Entry{degasAt(7)})
	assert.ErrorContains(t, err, "the file has 2 names (hard links)")
	assert.Equal(t, heath, readFile(t, dir, "ferments/heath.yaml"))
}
