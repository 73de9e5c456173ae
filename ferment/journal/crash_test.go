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

// The test binary also acts as programs: with one of these variables it writes entries, closes and reopens a ferment
// until it is done or killed, or writes once with a limit on file sizes.
const (
	writerVariable = "JOURNAL_TEST_WRITER"
	closerVariable = "JOURNAL_TEST_CLOSER"
	narrowVariable = "JOURNAL_TEST_NARROW"
)

// programs are the programs by their variables.
var programs = map[string]func(job []string){
	writerVariable: func(job []string) { write(job[0], job[1], job[2], job[3:]) },
	closerVariable: func(job []string) { closeAndOpen(job[0], job[1]) },
}

func TestMain(m *testing.M) {
	for variable, run := range programs {
		if job := os.Getenv(variable); job != "" {
			run(strings.Split(job, "|"))
			return
		}
	}
	os.Exit(m.Run())
}

// write logs so many entries into the files of some ferments in turn.
func write(dir, state, count string, subjects []string) {
	s := Open(dir, time.UTC, nil, WithState(state))
	n, _ := strconv.Atoi(count)
	for i := range n {
		e := degasAt(i)
		e.Note = strconv.Itoa(os.Getpid())
		if _, err := s.Append(subjects[i%len(subjects)], []ferment.Entry{e}); err != nil {
			panic(err)
		}
	}
}

func writer(t *testing.T, dir, state string, count int, subjects ...string) *exec.Cmd {
	t.Helper()
	return runner(t, writerVariable, strings.Join(append([]string{dir, state, strconv.Itoa(count)}, subjects...), "|"))
}

func runner(t *testing.T, variable, job string) *exec.Cmd {
	t.Helper()
	cmd := program(t, variable, job)
	cmd.Stderr = os.Stderr
	require.NoError(t, cmd.Start())
	return cmd
}

// program returns the test binary as a program with a job.
func program(t *testing.T, variable, job string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), variable+"="+job, "GORACE=atexit_sleep_ms=0") // the race detector would delay its exit
	return cmd
}

func entriesIn(t *testing.T, dir, subject string) []ferment.Entry {
	t.Helper()
	r := ReadFerment(openFile(subject), []byte(readFile(t, dir, openFile(subject))), time.UTC)
	require.Empty(t, r.Problems)
	return r.Value.Log
}

// Two programs of 500 entries and four of 250, all at once into the same four files: each entry is there once.
func TestManyProgramsLoseNothing(t *testing.T) {
	all := 1000
	if testing.Short() || Slowness > 1 {
		all = 240
	}
	jugs := []string{"heath-a", "heath-b", "heath-c", "heath-d"}
	for _, n := range []int{2, 4} {
		files := map[string]string{}
		for _, jug := range jugs {
			files[openFile(jug)] = heath
		}
		dir, state := cellarWith(t, files), t.TempDir()
		want, running := map[string]int{"": len(jugs)}, []*exec.Cmd{}
		for range n {
			cmd := writer(t, dir, state, all/n, jugs...)
			want[strconv.Itoa(cmd.Process.Pid)] = all / n
			running = append(running, cmd)
		}
		for _, cmd := range running {
			require.NoError(t, cmd.Wait())
		}
		count, seen := map[string]int{}, map[string]bool{}
		for _, jug := range jugs {
			for _, e := range entriesIn(t, dir, jug) {
				count[e.Note]++
				seen[e.Note+e.At.Time.String()+jug] = true
			}
		}
		assert.Equal(t, want, count)
		assert.Equal(t, all+len(jugs), len(seen), "none is there twice")
		t.Logf("%d programs, %d entries each: %d there, 0 lost, 0 doubled", n, all/n, len(seen)-len(jugs))
	}
}

// A program killed at any point leaves complete files; each entry given to it is in its file or in the record.
func TestKilledProgramLeavesWholeFiles(t *testing.T) {
	dir, state := cellarWith(t, map[string]string{"ferments/heath.yaml": heath}), t.TempDir()
	before := 1
	for i := range 12 {
		cmd := writer(t, dir, state, 10_000, "heath")
		require.Eventually(t, func() bool { return len(entriesIn(t, dir, "heath")) > before }, 20*time.Second, time.Millisecond)
		time.Sleep(time.Duration(7*i) * time.Millisecond)
		require.NoError(t, cmd.Process.Kill())
		_ = cmd.Wait()
		log := entriesIn(t, dir, "heath")
		assert.GreaterOrEqual(t, len(log), before)
		before = len(log)
	}
	s := Open(dir, time.UTC, nil, WithState(state))
	notes, err := s.recorded(time.UTC, func(note) bool { return true })
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

// A failed write leaves the old file and gives the reason.
func TestFailedWriteLeavesTheOldFile(t *testing.T) {
	dir := cellarWith(t, map[string]string{"elsewhere/.keep": ""})
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "ferments"), 0o777))
	require.NoError(t, os.Symlink(filepath.Join(dir, "elsewhere", "gone.yaml"), filepath.Join(dir, "ferments", "heath.yaml")))
	_, err := Open(dir, time.UTC, nil).Append("heath", []ferment.Entry{degasAt(7)})
	assert.EqualError(t, err, "ferments/heath.yaml: nothing was written: no such file or directory")

	path := filepath.Join(dir, "folder.yaml")
	require.NoError(t, os.MkdirAll(filepath.Join(path, "full"), 0o777))
	assert.Error(t, (&Store{}).replace(path, nil, []byte("new")), "a folder stands in the way")
	left, err := filepath.Glob(filepath.Join(dir, tempPrefix+"*"))
	require.NoError(t, err)
	assert.Empty(t, left, "nothing is left behind")
}
