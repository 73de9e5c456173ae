package faults

import (
	"fmt"
	"maps"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
)

func init() { jobs["both"] = carry }

// carry writes one change of several files, like a form: an act on a jug, and an observation of its culture.
func carry() int {
	at := ferment.At(time.Date(2026, 9, 14, 7, 0, 0, 0, time.UTC))
	_, err := journal.Open(os.Getenv("JUGKEEPER_CELLAR"), time.UTC, nil, journal.WithState(os.Getenv("XDG_STATE_HOME")+"/jugkeeper")).Apply(ferment.Change{Entries: []ferment.Logged{
		{Subject: "heath", Entries: []ferment.Entry{{At: at, Did: ferment.Degas}, {At: at, Did: ferment.TopUp, Note: "with what was left of the culture"}}},
		{Subject: "hawthorn-1", Entries: []ferment.Entry{{At: at, Did: ferment.Look, Note: "gas"}}},
	}})
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 3
	}
	return 0
}

// change is a command that changes several files, and the expected cellar.
type change struct {
	what     string
	again    bool // repeating it changes nothing more
	run      func(place) *exec.Cmd
	calls    []call
	recorded int // number of calls until its entries are recorded; TestKilledAtEveryStep covers those
	after    map[string]string
}

var larder = map[string]string{"ferments/heath.yaml": heath, "ferments/lime.yaml": lime, "cultures.yaml": "cultures:\n  - id: hawthorn-1\n    log:\n"}

// cellar returns the files of a cellar by their names, without the lock.
func (p place) cellar() map[string]string {
	files := tree(p.t, p.dir)
	maps.DeleteFunc(files, func(name, _ string) bool {
		return name == ".lock" || !strings.HasSuffix(name, ".yaml") && !strings.HasSuffix(name, ".unsaved")
	})
	return files
}

func changes(t *testing.T) []change {
	program := func(args ...string) func(place) *exec.Cmd {
		return func(p place) *exec.Cmd { return p.command(args...) }
	}
	all := []change{
		{what: "close", run: program("log", "heath", "close", "--yes", "--at", "2026-09-14 07:00")},
		{what: "new trial", run: program("new", "moor-a", "volume=3.6L", "gravity=1.084", "from=masses", "vessels=2", "differs=temperature", "trial=moor", "temperature-b=12 °C to 15 °C")},
		{what: "both", again: true, run: func(p place) *exec.Cmd { return p.job("both") }},
	}
	for i := range all {
		p := newPlace(t, larder)
		all[i].calls = traced(t, all[i].run(p), fault{})
		all[i].after = p.cellar()
		for _, c := range all[i].calls {
			if all[i].again && c.file == "entries.jsonl" {
				all[i].recorded = c.n
			}
		}
		require.NotEqual(t, larder, all[i].after, all[i].what)
	}
	return all
}

// requireWhole checks that each file is the old or the new one, byte for byte, or missing if either is, and reports
// whether all are new.
func (d change) requireWhole(t *testing.T, p place, where string) (done bool) {
	t.Helper()
	now := p.cellar()
	names := maps.Clone(d.after)
	maps.Copy(names, larder)
	maps.Copy(names, now)
	for name := range names {
		is, stands := now[name]
		was, stood := larder[name]
		will, shall := d.after[name]
		require.True(t, stands == stood && is == was || stands == shall && is == will ||
			strings.Contains(name, "heath") && is == d.after["ferments/past/heath.yaml"], "%s: %s is neither the old file nor the new one\n%s", where, name, is)
	}
	return maps.Equal(now, d.after)
}

// A change killed at any call leaves every file old or new. Repeated, it writes what is missing and nothing twice, or
// reports the name that is taken.
func TestChangeKilledAtEveryStep(t *testing.T) {
	t.Parallel()
	for _, d := range changes(t)[1:] { // for closing see TestKilledWhileClosing
		kills, finished, offered := 0, 0, 0
		for _, c := range d.calls[d.recorded:] {
			where := fmt.Sprintf("%s killed at %d of %d, %s", d.what, c.n, len(d.calls), c)
			p := newPlace(t, larder)
			traced(t, d.run(p), fault{before: func(r *tracer, at call) {
				if at.n == c.n {
					r.kill()
				}
			}})
			kills++
			done := d.requireWhole(t, p, where)
			if d.recorded > 0 && !done {
				assert.Contains(t, p.run("check").out, "that was given is not in the file", where)
				offered++
			}
			got := ended(t, d.run(p))
			switch {
			case got.status == 0 && (!done || d.again):
				require.Equal(t, d.after, p.cellar(), "%s: given again", where)
				finished++
			default:
				assert.Equal(t, 2, got.status, where+got.err)
				assert.Regexp(t, `has a file already|name of a ferment already|no ferment is called`, got.err, where)
				d.requireWhole(t, p, where)
			}
			assert.NotContains(t, p.run("check").out, "not in the file", where)
		}
		t.Logf("%s: %d kills, %d times the rest was offered back, %d finished by the same again, 0 lost, 0 doubled, 0 torn", d.what, kills, offered, finished)
	}
}

// A change with a failing call is rolled back, so that it can be repeated; if every call fails from then on, the error
// lists what was written and what was not. Repeated, it writes the rest once.
func TestChangeWhenACallFails(t *testing.T) {
	t.Parallel()
	for _, d := range changes(t) {
		refused, back, parts := 0, 0, 0
		for i, c := range d.calls[d.recorded:] {
			errno := []unix.Errno{unix.ENOSPC, unix.EROFS, unix.EIO, unix.EDQUOT, unix.EACCES}[i%5]
			for _, more := range []int{0, len(d.calls)} {
				if more > 0 && c.name != "rename" && c.name != "link" {
					continue // a temporary file cannot split a change
				}
				where := fmt.Sprintf("%s step %d and %d more, %s gives %s", d.what, c.n, more, c, errno)
				p := newPlace(t, larder)
				got := tracedTo(t, d.run(p), fault{before: func(r *tracer, at call) {
					if at.n >= c.n && at.n <= c.n+more {
						r.refuse(at, errno)
					}
				}})
				refused++
				done := d.requireWhole(t, p, where)
				assert.Equal(t, !done, got.status != 0, where+got.err)
				switch {
				case done:
				case strings.Contains(got.err, "; not written: "):
					parts++
					assert.NotZero(t, more, where)
				default:
					back++
					assert.Contains(t, got.err, "nothing was written: "+errno.Error(), where)
					require.Equal(t, larder, p.cellar(), where)
				}
				if c.name != "remove" && more == 0 { // leftover files are removed after a day
					p.requireClean()
				}
				if more == 0 {
					assert.NotContains(t, p.run("check").out, "not in the file", where+": it is the person's to give again")
				}
				if again := ended(t, d.run(p)); again.status == 0 && (!done || d.again) {
					require.Equal(t, d.after, p.cellar(), "%s: given again", where)
				}
			}
		}
		t.Logf("%s: %d times calls refused, %d changes taken back whole, %d written in part and told, 0 doubled, 0 torn", d.what, refused, back, parts)
	}
}
