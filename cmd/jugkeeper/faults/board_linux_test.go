package faults

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// board is the program on its own terminal.
type board struct {
	t    *testing.T
	cmd  *exec.Cmd
	keys *os.File

	mu   sync.Mutex
	seen strings.Builder // drawn since the last check
}

func (p place) board(args ...string) *board {
	p.t.Helper()
	return p.onTerminal(p.command(args...))
}

// onTerminal starts a command on a terminal of its own.
func (p place) onTerminal(cmd *exec.Cmd) *board {
	p.t.Helper()
	fd, err := unix.Open("/dev/ptmx", unix.O_RDWR|unix.O_NOCTTY|unix.O_NONBLOCK|unix.O_CLOEXEC, 0)
	require.NoError(p.t, err)
	keys := os.NewFile(uintptr(fd), "/dev/ptmx") // closing it ends reading from it
	require.NoError(p.t, unix.IoctlSetPointerInt(fd, unix.TIOCSPTLCK, 0))
	n, err := unix.IoctlGetInt(fd, unix.TIOCGPTN)
	require.NoError(p.t, err)
	require.NoError(p.t, unix.IoctlSetWinsize(fd, unix.TIOCSWINSZ, &unix.Winsize{Row: 30, Col: 100}))
	terminal, err := os.OpenFile(fmt.Sprintf("/dev/pts/%d", n), os.O_RDWR|syscall.O_NOCTTY, 0)
	require.NoError(p.t, err)
	defer terminal.Close()
	b := &board{t: p.t, cmd: cmd, keys: keys}
	b.cmd.Env = append(b.cmd.Env, "TERM=tmux-256color", "NO_COLOR=1")
	b.cmd.Stdin, b.cmd.Stdout = terminal, terminal
	if b.cmd.Stderr == nil {
		b.cmd.Stderr = terminal
	}
	b.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	require.NoError(p.t, b.cmd.Start())
	p.t.Cleanup(func() { _ = b.cmd.Process.Kill(); _ = b.cmd.Wait(); keys.Close() })
	go b.watch()
	return b
}

func (b *board) watch() {
	buffer := make([]byte, 1<<16)
	for {
		n, err := b.keys.Read(buffer)
		if err != nil {
			return
		}
		b.mu.Lock()
		b.seen.Write(buffer[:n])
		b.mu.Unlock()
	}
}

// movement matches terminal control sequences.
var movement = regexp.MustCompile(`\x1b(\[[0-9;?]*[A-Za-z]|[=>]|\][^\x07\x1b]*(\x07|\x1b\\))`)

// drawn returns what the board has drawn since the last check.
func (b *board) drawn() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return movement.ReplaceAllString(b.seen.String(), " ")
}

// shows waits until the board has drawn a text.
func (b *board) shows(text string) {
	b.t.Helper()
	drawn := ""
	require.Eventually(b.t, func() bool {
		drawn = b.drawn()
		return strings.Contains(drawn, text)
	}, 30*time.Second, 20*time.Millisecond, "waited for %q in %s", text, shown{&drawn})
	b.mu.Lock()
	b.seen.Reset()
	b.mu.Unlock()
}

// send writes bytes to the terminal as they are.
func (b *board) send(keys string) {
	b.t.Helper()
	_, err := b.keys.WriteString(keys)
	require.NoError(b.t, err)
}

func (b *board) types(keys string) {
	b.t.Helper()
	for _, key := range strings.Split(keys, " ") {
		_, err := b.keys.WriteString(map[string]string{"enter": "\r", "space": " "}[key] + map[bool]string{true: key}[key != "enter" && key != "space"])
		require.NoError(b.t, err)
		time.Sleep(60 * time.Millisecond)
	}
}

// drops closes the line that is open. Escape and a key that follow too closely would be read as one key.
func (b *board) drops() {
	b.t.Helper()
	b.types("\x1b")
	b.shows("not kept: ")
}

// A cellar that goes away under the board, like an unplugged disk, is reported, and not created again. What is typed
// meanwhile stays on the screen, and can be kept once the cellar is back.
func TestBoardWhenCellarGoesAway(t *testing.T) {
	t.Parallel()
	p := newPlace(t, map[string]string{"ferments/heath.yaml": heath})
	away := filepath.Join(p.root, "away")
	b := p.board("--at", "2026-09-14 18:30")
	b.shows("HEATH")
	for i := range 2 {
		require.NoError(t, os.Rename(p.dir, away))
		b.shows("there is no cellar at")
		b.types([]string{"g 1070 enter", "g ph3.4 enter"}[i])
		time.Sleep(300 * time.Millisecond)
		assert.NoDirExists(t, p.dir)

		require.NoError(t, os.Rename(away, p.dir))
		time.Sleep(1500 * time.Millisecond) // it looks once a second
		require.Len(t, p.log("heath"), 2+i)
		b.types("enter")
		b.shows("kept: HEATH")
		require.Len(t, p.log("heath"), 3+i)
	}
	b.types("q")
	require.NoError(t, b.cmd.Wait())
	assert.NotContains(t, p.run("check", "--at", "2026-09-20").out, "not in the file")
}

// A board killed while writing loses nothing that it reported as kept.
func TestBoardIsKilledAfterKept(t *testing.T) {
	t.Parallel()
	p := newPlace(t, map[string]string{"ferments/heath.yaml": heath})
	kept := 0
	for i := range 4 {
		b := p.board("--at", fmt.Sprintf("2026-09-%d 18:30", 14+i))
		b.shows("HEATH")
		b.types(fmt.Sprintf("g 10%d enter", 70-2*i))
		b.shows("kept: HEATH")
		kept++
		require.NoError(t, b.cmd.Process.Kill())
		_ = b.cmd.Wait()
		require.Len(t, p.log("heath"), 2+kept)
	}
	assert.NotContains(t, p.run("check", "--at", "2026-09-20").out, "not in the file")
	p.requireClean()
}

// The board ends with a half-typed line, even if that cannot be stored: by the second key, by a signal, and when its
// terminal is gone. What was typed is then written to standard error.
func TestBoardCanAlwaysBeLeft(t *testing.T) {
	t.Parallel()
	signalled := func(s syscall.Signal) func(*board) {
		return func(b *board) { require.NoError(b.t, b.cmd.Process.Signal(s)) }
	}
	for how, leave := range map[string]func(*board){
		"Ctrl+C twice":         func(b *board) { b.send("\x03"); b.shows("again leaves it"); b.send("\x03") },
		"SIGTERM":              signalled(syscall.SIGTERM),
		"SIGHUP":               signalled(syscall.SIGHUP),
		"SIGINT":               signalled(syscall.SIGINT),
		"its terminal is gone": func(b *board) { require.NoError(b.t, b.keys.Close()) },
	} {
		for where, spoil := range map[string]func(p place){
			"a file is in its place": func(p place) { require.NoError(t, os.WriteFile(p.state, []byte("x"), 0o666)) },
			"it is locked": func(p place) {
				require.NoError(t, os.MkdirAll(filepath.Join(p.state, "jugkeeper"), 0o777))
				lock, err := os.Create(filepath.Join(p.state, "jugkeeper", ".lock"))
				require.NoError(t, err)
				t.Cleanup(func() { lock.Close() })
				require.NoError(t, unix.Flock(int(lock.Fd()), unix.LOCK_EX))
			},
		} {
			p := newPlace(t, map[string]string{"ferments/heath.yaml": heath})
			spoil(p)
			cmd, errs := p.command("--at", "2026-09-14 18:30"), &strings.Builder{}
			cmd.Stderr = errs
			b := p.onTerminal(cmd)
			b.shows("HEATH")
			b.types("g 1 0 7 1")
			b.shows("1071")
			ended := make(chan error, 1)
			leave(b)
			asked := time.Now()
			go func() { ended <- b.cmd.Wait() }()
			select {
			case <-ended:
				t.Logf("%s, %s: left after %v", how, where, time.Since(asked).Round(time.Millisecond))
			case <-time.After(10 * time.Second): // a second on an idle machine
				require.Fail(t, "the board cannot be left", "%s, %s", how, where)
			}
			assert.Contains(t, errs.String(), "1071", "%s, %s", how, where)
		}
	}
}

// Each of two boards keeps its own draft, whichever ends last, and a dropped one stays dropped.
func TestTwoBoardsKeepTheirDrafts(t *testing.T) {
	t.Parallel()
	p := newPlace(t, jugs)
	first, second := p.board("--at", "2026-09-14 18:30"), p.board("--at", "2026-09-14 18:31")
	for b, typed := range map[*board]string{first: "g 1 0 7 1", second: "j n b r e a d y"} {
		b.shows("HEATH")
		b.types(typed)
	}
	first.shows("1071")
	second.shows("bready")
	for _, b := range []*board{first, second} {
		require.NoError(t, b.cmd.Process.Signal(syscall.SIGTERM))
		_ = b.cmd.Wait()
	}
	third, fourth := p.board("--at", "2026-09-14 18:32"), p.board("--at", "2026-09-14 18:33")
	third.shows("1071")
	fourth.shows("and not kept") // of either: once the third has taken up the first draft, only the second is left
	third.types("\x1b")          // drops the first draft, and is asked about the second
	third.shows("bready")
	for _, b := range []*board{third, fourth} {
		require.NoError(t, b.cmd.Process.Signal(syscall.SIGTERM))
		_ = b.cmd.Wait()
	}
	last := p.board("--at", "2026-09-14 18:34")
	last.shows("bready")
	last.drops()
	last.types("q")
	require.NoError(t, last.cmd.Wait())
}

// A line outlives a board that is killed. Once it was kept or dropped it is not offered again.
func TestDraftOutlivesAKill(t *testing.T) {
	t.Parallel()
	p := newPlace(t, map[string]string{"ferments/heath.yaml": heath})
	kill := func(b *board) {
		require.NoError(t, b.cmd.Process.Kill())
		_ = b.cmd.Wait()
	}
	stored := func(want string) { // a board stores what is typed once a second
		t.Helper()
		text := ""
		require.Eventually(t, func() bool {
			read, err := os.ReadFile(filepath.Join(p.state, "jugkeeper", "drafts.json"))
			text = string(read)
			return strings.Contains(text, want) && (want != "" || errors.Is(err, fs.ErrNotExist))
		}, 30*time.Second, 20*time.Millisecond, "waited for %q in %s", want, shown{&text})
	}
	first := p.board("--at", "2026-09-14 18:30")
	first.shows("HEATH")
	first.types("g 1 0 7 1")
	stored("1071")
	kill(first)

	second := p.board("--at", "2026-09-14 18:31")
	second.shows("1071")
	second.types("enter enter")
	second.shows("kept: HEATH")
	stored("")
	kill(second)
	require.Len(t, p.log("heath"), 3)

	third := p.board("--at", "2026-09-14 18:32")
	third.shows("HEATH")
	third.types("g 1 0 7 0")
	stored("1070")
	third.drops()
	third.types("q")
	require.NoError(t, third.cmd.Wait())
	stored("")
	require.Len(t, p.log("heath"), 3)
}

// A line that is being typed in one board is not offered by another one; when that board is killed, it is.
func TestDraftOfARunningBoardIsNotOffered(t *testing.T) {
	t.Parallel()
	p := newPlace(t, map[string]string{"ferments/heath.yaml": heath})
	first := p.board("--at", "2026-09-14 18:30")
	first.shows("HEATH")
	first.types("g 1 0 7 1")
	first.shows("1071")
	require.Eventually(t, func() bool { // it stores what is typed once a second
		stored, _ := os.ReadFile(filepath.Join(p.state, "jugkeeper", "drafts.json"))
		return strings.Contains(string(stored), "1071")
	}, 30*time.Second, 20*time.Millisecond)

	second := p.board("--at", "2026-09-14 18:30")
	require.Eventually(t, func() bool { return strings.Contains(second.drawn(), "HEATH") }, 30*time.Second, 20*time.Millisecond)
	time.Sleep(300 * time.Millisecond)
	assert.NotContains(t, second.drawn(), "1071")
	second.types("q")
	require.NoError(t, second.cmd.Wait())

	require.NoError(t, first.cmd.Process.Kill())
	_ = first.cmd.Wait()
	p.board("--at", "2026-09-14 18:30").shows("1071")
}

// shown is what a board has drawn, for the message of a failure.
type shown struct{ text *string }

func (s shown) String() string { return *s.text }
