package faults

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// write is a command with the files after an undisturbed run.
type write struct {
	args  []string
	after map[string]string
	calls []call
}

func undisturbed(t *testing.T, args ...string) write {
	t.Helper()
	p := newPlace(t, jugs)
	w := write{args: args, after: map[string]string{}}
	w.calls = traced(t, p.command(args...), fault{})
	for file := range jugs {
		w.after[file] = p.read(file)
	}
	require.NotEqual(t, jugs["ferments/heath.yaml"], w.after["ferments/heath.yaml"])
	require.Equal(t, w.after["ferments/heath.yaml"], after(t, p, w, "ferments/heath.yaml"), "the same again is not written twice")
	return w
}

// after returns a file after the command was repeated.
func after(t *testing.T, p place, w write, file string) string {
	t.Helper()
	require.Zero(t, p.run(w.args...).status)
	return p.read(file)
}

// writes returns commands that write into one file and into two.
func writes(t *testing.T) []write {
	return []write{
		undisturbed(t, "log", "heath", "1.070@22", "ph3.4", "--note", "smell: bread", "--yes", "--at", "2026-09-14 07:00"),
		undisturbed(t, "log", "lime,heath", "degas", "--at", "2026-09-14 07:00"),
	}
}

// requireWhole checks that each file is the old or the new one, byte for byte, and counts the new ones.
func (w write) requireWhole(t *testing.T, p place, where string) (written int) {
	t.Helper()
	for file, old := range jugs {
		switch got := p.read(file); {
		case got == w.after[file] && got != old:
			written++
		default:
			require.Equal(t, old, got, "%s: %s is neither the old file nor the new one", where, file)
		}
	}
	return written
}

// A program killed before any call that changes a file, or after the last, leaves every file old or new. Recorded
// entries are offered, and the repeated command writes each entry once.
func TestKilledAtEveryStep(t *testing.T) {
	t.Parallel()
	kills, written, offered := 0, 0, 0
	for _, w := range writes(t) {
		synced := w.first("fsync", "entries.jsonl")
		for _, c := range append(w.calls, call{n: len(w.calls) + 1, name: "end"}) {
			where := fmt.Sprintf("%s killed at %d of %d, %s", w.args[1], c.n, len(w.calls), c)
			p := newPlace(t, jugs)
			died := traced(t, p.command(w.args...), fault{
				before: func(r *tracer, at call) {
					if at.n == c.n {
						r.kill()
					}
				},
				after: func(r *tracer, at call) {
					if c.name == "end" && at.n == len(w.calls) {
						r.kill()
					}
				},
			})
			require.Len(t, died, min(c.n, len(w.calls)), where)
			kills++
			n := w.requireWhole(t, p, where)
			written += n
			if c.n > synced && n == 0 {
				check := p.run("check")
				require.Zero(t, check.status, where+check.out+check.err)
				assert.Contains(t, check.out, "that was given is not in the file", where)
				offered++
			}
			require.Zero(t, p.run(w.args...).status, where)
			for file := range jugs {
				require.Equal(t, w.after[file], p.read(file), "%s: given again", where)
			}
			if c.n > synced && n == 0 {
				assert.NotContains(t, p.run("check").out, "not in the file", where)
			}
		}
	}
	t.Logf("%d kills: %d files written before, %d entries offered back, 0 lost, 0 doubled, 0 torn", kills, written, offered)
}

// A closed ferment is in one of its two places at every step, with its closing written once; repeated, it is closed.
func TestKilledWhileClosing(t *testing.T) {
	t.Parallel()
	args := []string{"log", "heath", "close", "--at", "2026-09-14 07:00"}
	whole := newPlace(t, jugs)
	calls := traced(t, whole.command(args...), fault{})
	const open, past = "ferments/heath.yaml", "ferments/past/heath.yaml"
	want := whole.read(past)
	require.NoFileExists(t, whole.path(open))
	for _, c := range calls {
		where := fmt.Sprintf("killed at %d of %d, %s", c.n, len(calls), c)
		p := newPlace(t, jugs)
		traced(t, p.command(args...), fault{before: func(r *tracer, at call) {
			if at.n == c.n {
				r.kill()
			}
		}})
		if _, err := os.Stat(p.path(past)); err == nil {
			assert.NoFileExists(t, p.path(open), where)
		} else {
			assert.Contains(t, []string{heath, want}, p.read(open), where)
			require.Zero(t, p.run(args...).status, where)
			assert.NoFileExists(t, p.path(open), where)
		}
		require.Equal(t, want, p.read(past), where)
		require.Equal(t, "every file can be read, nothing looks unlikely\n", p.run("check").out, where)
	}
	t.Logf("%d kills: 0 lost, 0 doubled, 0 torn", len(calls))
}

// first returns the number of the first call with a name on a file.
func (w write) first(name, file string) int {
	for _, c := range w.calls {
		if c.name == name && c.file == file {
			return c.n
		}
	}
	return len(w.calls)
}

// Before a file is renamed it is synced, the record of its entry before it, and its folder after it. Whether a power
// cut would lose a kept entry cannot be tested by killing a program, only by its calls. What an undo can take back is
// noted once the entry is in its file.
func TestEntriesAreSyncedBeforeKept(t *testing.T) {
	p := newPlace(t, jugs)
	var steps []string
	for _, c := range traced(t, p.command(degasLog...), fault{}) {
		if strings.HasSuffix(c.file, ".tmp") {
			c.file = "new"
		}
		if c.name != "mkdir" {
			steps = append(steps, c.String())
		}
	}
	assert.Equal(t, []string{"open .lock", "lock .lock",
		"open entries.jsonl", "write entries.jsonl", "fsync entries.jsonl",
		"open new", "write new", "chmod new", "chown new", "fsync new",
		"rename", "remove new", "fsync ferments",
		"open new", "write new", "fsync new", "rename"}, steps)
}

// A call that fails, whichever and why, leaves every file old or new, with an error if something was not written, and
// no leftovers. Repeated on a working disk, each entry is written once.
func TestEntryWhenACallFails(t *testing.T) {
	t.Parallel()
	refused, told := 0, 0
	for _, w := range writes(t) {
		for i, c := range w.calls {
			errno := []unix.Errno{unix.ENOSPC, unix.EROFS, unix.EIO, unix.EDQUOT, unix.EACCES}[i%5]
			where := fmt.Sprintf("%s step %d, %s gives %s", w.args[1], c.n, c, errno)
			p := newPlace(t, jugs)
			cmd := p.command(w.args...)
			got := tracedTo(t, cmd, fault{before: func(r *tracer, at call) {
				if at.n == c.n {
					r.refuse(at, errno)
				}
			}})
			refused++
			n := w.requireWhole(t, p, where)
			want := strings.Count(w.args[1], ",") + 1
			if n < want {
				told++
				assert.Equal(t, 3, got.status, where)
				assert.Contains(t, got.err, "nothing was written: "+errno.Error(), where)
				assert.NotContains(t, p.run("check").out, "not in the file", where+": it is the person's to give again")
			} else {
				assert.Zero(t, got.status, where+got.err)
			}
			if c.name != "remove" { // leftover files are removed after a day
				p.requireClean()
			}
			require.Zero(t, p.run(w.args...).status, where)
			for file := range jugs {
				require.Equal(t, w.after[file], p.read(file), "%s: given again", where)
			}
		}
	}
	t.Logf("%d calls refused, %d of them told to the person, 0 entries lost, 0 doubled, 0 files torn", refused, told)
}

// A disk that is full at any byte of the new file leaves the old file.
func TestDiskIsFullAtAByte(t *testing.T) {
	t.Parallel()
	w := undisturbed(t, "log", "heath", "degas", "--at", "2026-09-14 07:00")
	size := len(w.after["ferments/heath.yaml"])
	tried := 0
	for n := 0; n < size; n += 29 {
		p := newPlace(t, jugs)
		full := false
		got := tracedTo(t, p.command(w.args...), fault{before: func(r *tracer, c call) {
			switch {
			case c.name != "write" || !strings.HasSuffix(c.file, ".tmp"):
			case full || n == 0:
				r.refuse(c, unix.ENOSPC)
			default:
				full = true
				r.cut(c, n)
			}
		}})
		tried++
		require.Equal(t, 3, got.status, "%d bytes", n)
		assert.Contains(t, got.err, "nothing was written: no space left on device")
		require.Equal(t, heath, p.read("ferments/heath.yaml"), "%d bytes", n)
		p.requireClean()
		require.Equal(t, w.after["ferments/heath.yaml"], after(t, p, w, "ferments/heath.yaml"), "%d bytes", n)
	}
	t.Logf("full at %d places of %d bytes: 0 lost, 0 doubled, 0 torn", tried, size)
}
