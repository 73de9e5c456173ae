package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
)

var slack = flag.Float64("bars", 0, "measure speed and size, and fail where a bar is missed by this factor; 0 measures nothing")

// TestBars measures what the program promises of speed and size, each next to its reference, in one run.
func TestBars(t *testing.T) {
	if *slack == 0 {
		t.Skip("go test ./cmd/jugkeeper -run Bars -bars 1 -v")
	}
	b := bars{T: t, dir: t.TempDir()}
	b.build("jugkeeper", ".", "-ldflags=-s -w")
	b.build("bare", "./testdata/bare", "-ldflags=-s -w")
	for _, b.processor = range []bool{false, true} {
		b.today("eight", sixty)
		b.today("full", full)
		b.closed()
	}
	b.many()
	b.linear()
	b.insertion()
	b.board()
	b.row(15, func() (string, float64) {
		size, err := os.Stat(b.path("jugkeeper"))
		require.NoError(t, err)
		return "binary, stripped, MiB", float64(size.Size()) / (1 << 20)
	})
	for _, line := range aligned(b.rows) {
		fmt.Println(line)
	}
}

// bars is the table of measurements being made.
type bars struct {
	*testing.T
	dir       string
	rows      [][]string
	processor bool // measured is processor time, else the clock
}

// row compares what is measured with its bar, in the same unit. Other programs can only add to a measurement: one that
// misses its bar is made twice more, and the least counts.
func (b *bars) row(bar float64, measure func() (what string, is float64)) {
	if b.rows == nil {
		b.rows = [][]string{{"what", "is", "bar"}}
	}
	what, is := measure()
	for again := 0; is > bar**slack && again < 2; again++ {
		b.Logf("%s: %.2f, and is measured again", what, is)
		if w, less := measure(); less < is {
			what, is = w, less
		}
	}
	b.rows = append(b.rows, []string{what, strconv.FormatFloat(is, 'f', 2, 64), strconv.FormatFloat(bar, 'f', 2, 64)})
	assert.LessOrEqual(b, is, bar**slack, what)
}

func (b *bars) path(parts ...string) string {
	return filepath.Join(append([]string{b.dir}, parts...)...)
}

func (b *bars) build(name, pkg string, flags ...string) {
	out, err := exec.Command("go", slices.Concat([]string{"build", "-o", b.path(name)}, flags, []string{pkg})...).CombinedOutput()
	require.NoError(b, err, string(out))
}

// sixty returns a ferment of so many entries until a time: a pitch, then readings and acts, as the program writes them.
func sixty(name string, entries int, until time.Time) string {
	var f strings.Builder
	fmt.Fprintf(&f, "format: 1\nname: %s, upper hives\ntag: %s\nprotocol: small-jug\nmust:\n  volume: 3.6 L\n  gravity: 1.084\nyeast: {name: \"white-wine yeast, dry\", tolerance: 14 %%}\nlog:\n", name, strings.ToUpper(name))
	at := until.Add(-time.Duration(entries) * 8 * time.Hour)
	fmt.Fprintf(&f, "  - at: %s\n    did: pitch\n    amount: 0.9 g\n", at.Format(time.RFC3339))
	for i := 1; i < entries; i++ {
		at = at.Add(8 * time.Hour)
		if i%3 == 0 {
			fmt.Fprintf(&f, "  - at: %s\n    did: degas\n    note: lively, two fingers of foam\n", at.Format(time.RFC3339))
			continue
		}
		fmt.Fprintf(&f, "  - at: %s\n    gravity: %.4f\n    sample: 22 °C\n    temperature: 19 °C\n", at.Format(time.RFC3339), 0.997+0.087*30/float64(30+i*i/4))
	}
	return f.String()
}

// cellar returns a folder of so many ferments of sixty entries, and of closed ones.
func (b *bars) cellar(name string, open, closed int, text func(string, int, time.Time) string) (dir string, files []string) {
	dir = b.path(name)
	require.NoError(b, os.MkdirAll(filepath.Join(dir, "ferments/past"), 0o777))
	for i := range open + closed {
		file := filepath.Join(dir, "ferments", fmt.Sprintf("f%d.yaml", i))
		if i >= open {
			file = filepath.Join(dir, "ferments/past", fmt.Sprintf("p%d.yaml", i))
		} else {
			files = append(files, file)
		}
		require.NoError(b, os.WriteFile(file, []byte(text(fmt.Sprintf("f%d", i), 60, evening)), 0o666))
	}
	return dir, files
}

// by names the kind of time.
func (b *bars) by() string { return map[bool]string{false: "clock", true: "processor"}[b.processor] }

// ran returns how long a whole process took, in seconds.
func (b *bars) ran(name string, args ...string) float64 {
	cmd := exec.Command(b.path(name), args...)
	cmd.Env = []string{"HOME=" + b.dir, "XDG_STATE_HOME=" + b.path("state"), "TZ=UTC"}
	begun := time.Now()
	out, err := cmd.CombinedOutput()
	took := time.Since(begun)
	require.NoError(b, err, string(out))
	if b.processor {
		took = cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	}
	return took.Seconds()
}

// beside runs two functions in turn, many times, and returns the median of each.
func beside(times int, one, other func() float64) (float64, float64) {
	var a, b []float64
	for range times {
		a, b = append(a, one()), append(b, other())
	}
	slices.Sort(a)
	slices.Sort(b)
	return a[times/2], b[times/2]
}

// full is like sixty, with gravity, sample, temperature and note in every entry.
func full(name string, entries int, until time.Time) string {
	const reading = "gravity: 1.0210\n    sample: 22 °C\n    temperature: 19 °C\n    note"
	text := strings.ReplaceAll(sixty(name, entries, until), "did: degas\n    note", reading)
	return strings.ReplaceAll(text, "temperature: 19 °C\n  -", "temperature: 19 °C\n    note: lively, two fingers of foam\n  -")
}

// many checks the growth with the number of ferments: today reads them all.
func (b *bars) many() {
	at := func(ferments int) func() float64 {
		dir, _ := b.cellar(fmt.Sprint("of", ferments), ferments, 0, sixty)
		return func() float64 { return b.ran("jugkeeper", "today", "--cellar", dir, "--at", "2026-10-07 18:00") }
	}
	b.row(linearly, func() (string, float64) {
		large, small := beside(5, at(600), at(150))
		return fmt.Sprintf("today of 600 ferments: times 4 × the %.0f ms of 150 (processor)", 1000*small), large / small / 4
	})
}

func (b *bars) today(name string, text func(string, int, time.Time) string) {
	dir, files := b.cellar(name, 8, 200, text)
	b.row(1.5, func() (string, float64) {
		is, bare := beside(81,
			func() float64 { return b.ran("jugkeeper", "today", "--cellar", dir, "--at", "2026-10-07 18:00") },
			func() float64 { return b.ran("bare", files...) })
		return fmt.Sprintf("today, 8 of 60 entries (%s), 200 closed: times a bare decode of %.1f ms (%s)", name, 1000*bare, b.by()), is / bare
	})
}

func (b *bars) closed() {
	none, _ := b.cellar("none", 8, 0, sixty)
	many, _ := b.cellar("many", 8, 2000, sixty)
	at := func(dir string) func() float64 {
		return func() float64 { return b.ran("jugkeeper", "today", "--cellar", dir, "--at", "2026-10-07 18:00") }
	}
	b.row(1.05, func() (string, float64) {
		with, without := beside(121, at(many), at(none))
		return "today with 2,000 closed: times the same with none (" + b.by() + ")", with / without
	})
}

// least returns the least time of each function, run in turn many times, in seconds of a processor, so that other
// programs on the machine have little influence.
func least(do ...func()) []float64 {
	out := slices.Repeat([]float64{1e9}, len(do))
	for range 15 {
		for i, f := range do {
			runtime.GC()
			begun := work()
			f()
			out[i] = min(out[i], work()-begun)
		}
	}
	return out
}

func work() float64 {
	var used unix.Rusage
	_ = unix.Getrusage(unix.RUSAGE_SELF, &used)
	return float64(used.Utime.Nano()+used.Stime.Nano()) / 1e9
}

// linearly allows growth in proportion to the number of entries, and a quarter more for errors of measurement.
const linearly = 1.25

func (b *bars) linear() {
	b.cellar("none", 8, 0, sixty)
	plans := journal.Open(b.path("none"), time.UTC, protocols.Files())
	cellar, err := plans.Load(evening)
	require.NoError(b, err)
	one := func(entries int) func() {
		text := []byte(sixty("f", entries, evening))
		return func() {
			f := journal.ReadFerment("ferments/f.yaml", text, time.UTC)
			require.Empty(b, f.Problems)
			app.Foreseen(app.Plan(f.Value, cellar, evening))
		}
	}
	for _, few := range []int{60, 600} {
		b.row(linearly, func() (string, float64) {
			took := least(one(few), one(10*few))
			return fmt.Sprintf("%d entries read, planned, forecast: times 10 × the %.1f ms of %d", 10*few, 1000*took[0], few), took[1] / took[0] / 10
		})
	}
}

func (b *bars) insertion() {
	entry := ferment.Entry{At: ferment.At(evening), Did: ferment.Degas}
	insert := func(entries int) (insert, parse func()) {
		text := []byte(sixty("f", entries, evening))
		return func() {
				_, err := journal.Insert(text, entry)
				require.NoError(b, err)
			}, func() {
				var doc yaml.Node
				require.NoError(b, yaml.Unmarshal(text, &doc))
			}
	}
	short, _ := insert(60)
	long, parse := insert(6000)
	b.row(5, func() (string, float64) { return "an entry into a file of 60, ms", 1000 * least(short)[0] })
	b.row(2.5, func() (string, float64) {
		took := least(long, parse)
		return "an entry into a file of 6,000: times a bare parse of it", took[0] / took[1]
	})
}

// board measures the board on a terminal of its own.
func (b *bars) board() {
	eight, _ := b.cellar("small", 8, 0, sixty)
	b.row(40, func() (string, float64) {
		p := b.onTerminal(eight)
		defer p.leave(b)
		p.typed(b, "j", 20)
		return "the board with 8 ferments in memory, MiB", p.resident(b) / (1 << 20)
	})
	forty, _ := b.cellar("forty", 40, 0, sixty)
	b.row(4, func() (string, float64) {
		const keys = 200
		p := b.onTerminal(forty)
		defer p.leave(b)
		p.typed(b, "j", 10)
		before := p.worked(b)
		p.typed(b, "j", keys/2)
		p.typed(b, "k", keys/2)
		return "a key to a drawn frame, 140×45, 40 ferments, ms of work", 1000 * (p.worked(b) - before) / keys
	})
}

// running is a program on a terminal of its own.
type running struct {
	*exec.Cmd
	master *os.File
}

func (b *bars) onTerminal(dir string) running {
	master, err := os.OpenFile("/dev/ptmx", os.O_RDWR|syscall.O_NOCTTY, 0)
	require.NoError(b, err)
	fd := int(master.Fd())
	require.NoError(b, unix.IoctlSetPointerInt(fd, unix.TIOCSPTLCK, 0))
	n, err := unix.IoctlGetInt(fd, unix.TIOCGPTN)
	require.NoError(b, err)
	require.NoError(b, unix.IoctlSetWinsize(fd, unix.TIOCSWINSZ, &unix.Winsize{Row: 45, Col: 140}))
	slave, err := os.OpenFile(fmt.Sprintf("/dev/pts/%d", n), os.O_RDWR|syscall.O_NOCTTY, 0)
	require.NoError(b, err)
	defer slave.Close()
	cmd := exec.Command(b.path("jugkeeper"), "--cellar", dir, "--at", "2026-10-07 18:00")
	cmd.Env = []string{"HOME=" + b.dir, "XDG_STATE_HOME=" + b.path("state"), "TZ=UTC", "TERM=tmux-256color"}
	cmd.Stdin, cmd.Stdout, cmd.Stderr = slave, slave, slave
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	require.NoError(b, cmd.Start())
	drawn := make(chan bool)
	go func() {
		for seen, part := "", make([]byte, 1<<12); !strings.Contains(seen, "upper hives"); {
			n, err := master.Read(part)
			if seen += string(part[:n]); err != nil {
				return
			}
		}
		close(drawn)
		_, _ = io.Copy(io.Discard, master)
	}()
	select { // what is typed before would be taken for the answer to its question about the background
	case <-drawn:
	case <-time.After(time.Minute):
		require.Fail(b, "the board is not drawn")
	}
	return running{cmd, master}
}

// typed types a key repeatedly, slower than frames are drawn.
func (r running) typed(b *bars, key string, times int) {
	for range times {
		_, err := r.master.WriteString(key)
		require.NoError(b, err)
		time.Sleep(25 * time.Millisecond)
	}
}

func (r running) leave(b *bars) {
	r.typed(b, "q", 1)
	require.NoError(b, r.Wait())
	r.master.Close()
}

// resident returns the memory of a program, in bytes.
func (r running) resident(b *bars) float64 {
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", r.Process.Pid))
	require.NoError(b, err)
	_, after, found := strings.Cut(string(status), "VmRSS:")
	require.True(b, found)
	kib, err := strconv.ParseFloat(strings.Fields(after)[0], 64)
	require.NoError(b, err)
	return kib * 1024
}

// worked returns the processor time of a program so far, in seconds, from the fields after its name in its stat.
func (r running) worked(b *bars) float64 {
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", r.Process.Pid))
	require.NoError(b, err)
	fields := strings.Fields(string(stat[strings.LastIndexByte(string(stat), ')')+1:]))
	user, err := strconv.ParseFloat(fields[11], 64)
	require.NoError(b, err)
	system, err := strconv.ParseFloat(fields[12], 64)
	require.NoError(b, err)
	return (user + system) / 100
}
