//go:build unix

package journal

import (
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
)

// small is a short file, and below is what is written with a limit on file sizes: an entry into it, or a new file.
const small = "log: [{at: 2026-09-12, did: pitch}] # all\n"

var newJug = ferment.Change{Ferments: []ferment.Ferment{{ID: "lime", Name: "Lime", Log: []ferment.Entry{degasAt(7)}}}}

func init() { programs[narrowVariable] = writeNarrow }

func writeInto(s *Store, what string) error {
	if what == "entry" {
		_, err := s.Append("heath", []ferment.Entry{degasAt(7)})
		return err
	}
	_, err := s.Apply(newJug)
	return err
}

// setLimit sets a limit, which is signed on some systems.
func setLimit[T int64 | uint64](limit *T, bytes uint64) { *limit = T(bytes) }

// writeNarrow writes once with a limit on file sizes: the system accepts what fits and refuses the rest, like a full
// disk.
func writeNarrow(job []string) {
	signal.Ignore(syscall.SIGXFSZ)
	bytes, _ := strconv.ParseUint(job[3], 10, 64)
	limit := syscall.Rlimit{}
	_ = syscall.Getrlimit(syscall.RLIMIT_FSIZE, &limit)
	setLimit(&limit.Cur, bytes)
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		panic(err)
	}
	if err := writeInto(Open(job[0], time.UTC, nil, WithState(job[1])), job[2]); err != nil {
		fmt.Println(err)
	}
}

// narrow returns the output of such a process.
func narrow(t *testing.T, dir, state, what string, bytes int) string {
	t.Helper()
	cmd := program(t, narrowVariable, strings.Join([]string{dir, state, what, strconv.Itoa(bytes)}, "|"))
	out, err := cmd.Output()
	require.NoError(t, err)
	return string(out)
}

// Whatever the size limit, the file is the old one or the new one; a refused write can be repeated, and is there once.
// In a long file not every byte is tried.
func TestFileCanGrowNoFurther(t *testing.T) {
	for what, file := range map[string]string{"entry": "ferments/heath.yaml", "jug": "ferments/lime.yaml"} {
		begun := map[string]string{"ferments/heath.yaml": small}
		dir := cellarWith(t, begun)
		require.NoError(t, writeInto(Open(dir, time.UTC, nil), what))
		whole := readFile(t, dir, file)

		refused, step := 0, 1+len(whole)/100*6
		for n := len(whole); n >= 0; n -= step {
			dir, state := cellarWith(t, begun), t.TempDir()
			said := narrow(t, dir, state, what, n)
			left, err := filepath.Glob(filepath.Join(dir, "ferments", tempPrefix+"*"))
			require.NoError(t, err)
			require.Empty(t, left)
			s := Open(dir, time.UTC, nil, WithState(state))
			if n < len(whole) {
				refused++
				require.Equal(t, file+": nothing was written: file too large\n", said, n)
				was, _ := os.ReadFile(filepath.Join(dir, file))
				require.Equal(t, begun[file], string(was), n)
				require.NoError(t, writeInto(s, what))
			} else {
				require.Empty(t, said)
			}
			require.Equal(t, whole, readFile(t, dir, file), n)
			c, err := s.Load(time.Now())
			require.NoError(t, err)
			lost, err := s.Lost(c)
			require.NoError(t, err)
			require.Empty(t, lost, n)
		}
		t.Logf("%s, full at %d places of %d bytes: each told, 0 lost, 0 doubled, 0 torn", what, refused, len(whole))
	}
}

// A file for unsaved entries that a disk accepted only in part is not reported as kept.
func TestUnsavedFileThatDoesNotFitIsNotKept(t *testing.T) {
	dir := cellarWith(t, map[string]string{"ferments/heath.yaml": "name: [\n"})
	said := narrow(t, dir, t.TempDir(), "entry", 10)
	assert.Contains(t, said, "nothing was written")
	assert.NotContains(t, said, "is kept in")
	s := Open(dir, time.UTC, nil)
	_, err := s.Append("heath", []ferment.Entry{degasAt(8)})
	assert.ErrorContains(t, err, "the entry is kept in ferments/heath.unsaved")
	assert.Len(t, s.asideEntries("ferments/heath.yaml", time.UTC), 1)
}
