package faults

import (
	"fmt"
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

// A board is the program on a terminal of its own.
type board struct {
	t    *testing.T
	cmd  *exec.Cmd
	keys *os.File

	mu   sync.Mutex
	seen strings.Builder // what it has drawn since it was asked last
}

func (p place) board(args ...string) *board {
	p.t.Helper()
	return p.onTerminal(p.command(args...))
}

// onTerminal starts a command on a terminal of its own.
func (p place) onTerminal(cmd *exec.Cmd) *board {
	p.t.Helper()
	keys, err := os.OpenFile("/dev/ptmx", os.O_RDWR|syscall.O_NOCTTY, 0)
	require.NoError(p.t, err)
	fd := int(keys.Fd())
	require.NoError(p.t, unix.IoctlSetPointerInt(fd, unix.TIOCSPTLCK, 0))
	n, err := unix.IoctlGetInt(fd, unix.TIOCGPTN)
	require.NoError(p.t, err)
	require.NoError(p.t, unix.IoctlSetWinsize(fd, unix.TIOCSWINSZ, &unix.Winsize{Row: 30, Col: 100}))
	terminal, err := os.OpenFile(fmt.Sprintf("/dev/pts/%d", n), os.O_RDWR|syscall.O_NOCTTY, 0)
	require.NoError(p.t, err)
	defer terminal.Close()
	b := &board{t: p.t, cmd: cmd, keys: keys}
	b.cmd.Env = append(b.cmd.Env, "TERM=tmux-256color", "NO_COLOR=1")
	b.cmd.Stdin, b.cmd.Stdout, b.cmd.Stderr = terminal, terminal, terminal
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

// movement is what a terminal is told besides what it shows.
var movement = regexp.MustCompile(`\x1b(\[[0-9;?]*[A-Za-z]|[=>]|\][^\x07\x1b]*(\x07|\x1b\\))`)

// shows waits until the board has drawn a text.
func (b *board) shows(text string) {
	b.t.Helper()
	drawn := ""
	require.Eventually(b.t, func() bool {
		b.mu.Lock()
		defer b.mu.Unlock()
		drawn = movement.ReplaceAllString(b.seen.String(), " ")
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

// A cellar that goes away while the board stands on it, as an unplugged disk
// does, is told of, and nothing is made in its place. What was typed meanwhile
// stays on the screen, and is kept when the cellar is back.
func TestTheBoardOfACellarThatGoesAway(t *testing.T) {
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

// A board that is killed while it writes loses nothing that it said it kept.
func TestTheBoardIsKilled(t *testing.T) {
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

// shown is what a board has drawn, for the message of a failure.
type shown struct{ text *string }

func (s shown) String() string { return *s.text }
