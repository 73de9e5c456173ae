package journal

import (
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
)

// The test binary is also a program of its own: with one of these variables it
// writes entries into a cellar, or closes and opens a ferment of it, until it is
// done or killed.
const (
	writerVariable = "JOURNAL_TEST_WRITER"
	closerVariable = "JOURNAL_TEST_CLOSER"
)

func TestMain(m *testing.M) {
	if job := os.Getenv(writerVariable); job != "" {
		dir, rest, _ := strings.Cut(job, "|")
		state, count, _ := strings.Cut(rest, "|")
		write(dir, state, count)
		return
	}
	if job := os.Getenv(closerVariable); job != "" {
		dir, count, _ := strings.Cut(job, "|")
		closeAndOpen(dir, count)
		return
	}
	os.Exit(m.Run())
}

func write(dir, state, count string) {
	s := Open(dir, time.UTC, nil, WithState(state))
	n, _ := strconv.Atoi(count)
	for i := range n {
		e := degasAt(i)
		e.Note = strconv.Itoa(os.Getpid())
		if _, err := s.Append("heath", []ferment.Entry{e}); err != nil {
			panic(err)
		}
	}
}

func writer(t *testing.T, dir, state string, count int) *exec.Cmd {
	t.Helper()
	return runner(t, writerVariable, dir+"|"+state+"|"+strconv.Itoa(count))
}

func runner(t *testing.T, variable, job string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), variable+"="+job)
	cmd.Stderr = os.Stderr
	require.NoError(t, cmd.Start())
	return cmd
}

func entriesIn(t *testing.T, dir string) []ferment.Entry {
	t.Helper()
	r := ReadFerment("ferments/heath.yaml", []byte(readFile(t, dir, "ferments/heath.yaml")), time.UTC)
	require.Empty(t, r.Problems)
	return r.Value.Log
}

func TestTwoProgramsLoseNothing(t *testing.T) {
	dir, state := cellarWith(t, map[string]string{"ferments/heath.yaml": heath}), t.TempDir()
	const each = 80
	one, two := writer(t, dir, state, each), writer(t, dir, state, each)
	require.NoError(t, one.Wait())
	require.NoError(t, two.Wait())
	count := map[string]int{}
	for _, e := range entriesIn(t, dir) {
		count[e.Note]++
	}
	assert.Equal(t, map[string]int{"": 1, strconv.Itoa(one.Process.Pid): each, strconv.Itoa(two.Process.Pid): each}, count)
}

// A program killed at any point leaves a whole file; what it had been given is
// in the file or in the record.
func TestAKilledProgramLeavesWholeFiles(t *testing.T) {
	dir, state := cellarWith(t, map[string]string{"ferments/heath.yaml": heath}), t.TempDir()
	before := 1
	for i := range 12 {
		cmd := writer(t, dir, state, 10_000)
		time.Sleep(time.Duration(20+7*i) * time.Millisecond)
		require.NoError(t, cmd.Process.Kill())
		_ = cmd.Wait()
		log := entriesIn(t, dir)
		assert.GreaterOrEqual(t, len(log), before)
		before = len(log)
	}
	s := Open(dir, time.UTC, nil, WithState(state))
	notes, err := s.readNotes()
	require.NoError(t, err)
	assert.Greater(t, before, 12, "the programs had time to write")
	assert.GreaterOrEqual(t, len(notes), before-1, "each entry was recorded before it was written")
	assert.LessOrEqual(t, len(notes), before-1+12)

	_, err = s.Load(time.Now().Add(48 * time.Hour))
	require.NoError(t, err)
	left, err := filepath.Glob(filepath.Join(dir, "ferments", tempPrefix+"*"))
	require.NoError(t, err)
	assert.Empty(t, left)
}

// A write that cannot be done leaves the old file and says why.
func TestAFailedWriteLeavesTheOldFile(t *testing.T) {
	dir := cellarWith(t, map[string]string{"elsewhere/.keep": ""})
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "ferments"), 0o777))
	require.NoError(t, os.Symlink(filepath.Join(dir, "elsewhere", "gone.yaml"), filepath.Join(dir, "ferments", "heath.yaml")))
	_, err := Open(dir, time.UTC, nil).Append("heath", []ferment.Entry{degasAt(7)})
	assert.EqualError(t, err, "ferments/heath.yaml: nothing was written: no such file or directory")

	path := filepath.Join(dir, "folder.yaml")
	require.NoError(t, os.MkdirAll(filepath.Join(path, "full"), 0o777))
	assert.Error(t, replace(path, []byte("new")), "a folder stands in the way")
	left, err := filepath.Glob(filepath.Join(dir, tempPrefix+"*"))
	require.NoError(t, err)
	assert.Empty(t, left, "nothing is left behind")
}
