package guard_test

import (
	"fmt"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"
	"time"

	_ "github.com/charmbracelet/bubbletea" // asks the terminal during initialisation
	"github.com/charmbracelet/lipgloss"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"

	"cellar/jugkeeper/tui/guard"
)

// TestMain lets the test binary act as a plain command: when it prints its line, everything before main is done.
func TestMain(m *testing.M) {
	if os.Getenv("AS_COMMAND") != "" {
		fmt.Println("dark:", lipgloss.HasDarkBackground())
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// pseudoTerminal opens a terminal that answers nothing.
func pseudoTerminal(t *testing.T) (master, slave *os.File) {
	t.Helper()
	master, err := os.OpenFile("/dev/ptmx", os.O_RDWR|syscall.O_NOCTTY, 0)
	require.NoError(t, err)
	t.Cleanup(func() { master.Close() })
	fd := int(master.Fd())
	require.NoError(t, unix.IoctlSetPointerInt(fd, unix.TIOCSPTLCK, 0))
	n, err := unix.IoctlGetInt(fd, unix.TIOCGPTN)
	require.NoError(t, err)
	slave, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", n), os.O_RDWR|syscall.O_NOCTTY, 0)
	require.NoError(t, err)
	t.Cleanup(func() { slave.Close() })
	return master, slave
}

// unanswered is what bubbletea's question costs on a silent terminal (termenv v0.16.0, OSCTimeout).
const unanswered = 5 * time.Second

func TestPlainCommandDoesNotWaitForASilentTerminal(t *testing.T) {
	master, slave := pseudoTerminal(t)
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "AS_COMMAND=1", "TERM=xterm-256color")
	cmd.Stdin, cmd.Stdout, cmd.Stderr = slave, slave, slave
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	begun := time.Now()
	require.NoError(t, cmd.Run())
	assert.Less(t, time.Since(begun), unanswered)

	seen := make([]byte, 200)
	n, err := master.Read(seen)
	require.NoError(t, err)
	assert.Equal(t, "dark: true", strings.TrimSpace(string(seen[:n])), "nothing was asked of the terminal")
}

func TestBackgroundIsAskedForAShortTimeOnly(t *testing.T) {
	_, slave := pseudoTerminal(t)
	begun := time.Now()
	_, ok := guard.Background(slave, 60*time.Millisecond)
	assert.False(t, ok)
	assert.Less(t, time.Since(begun), unanswered)
}

func TestBackgroundIsWhatTheTerminalAnswers(t *testing.T) {
	for _, c := range []struct {
		name, reply string
		dark, ok    bool
	}{
		{"black", "\x1b]11;rgb:0000/0000/0000\x1b\\\x1b[?62;c", true, true},
		{"white, ended by a bell", "\x1b]11;rgb:ffff/ffff/ffff\a\x1b[?62;c", false, true},
		{"paper", "\x1b]11;rgb:fb/fb/f8\x1b\\\x1b[?1;2c", false, true},
		{"knows no colours", "\x1b[?1;2c", true, false},
		{"nonsense", "\x1b]11;rgb:zz/00\x1b\\\x1b[?1;2c", true, false},
		{"green is bright, blue is dark", "\x1b]11;rgb:0000/ffff/0000\x1b\\\x1b[?1;2c", false, true},
		{"blue", "\x1b]11;rgb:0000/0000/ffff\x1b\\\x1b[?1;2c", true, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			master, slave := pseudoTerminal(t)
			heard := make(chan string, 1)
			go func() {
				asked := make([]byte, 64)
				n, _ := master.Read(asked)
				_, _ = master.WriteString(c.reply)
				heard <- string(asked[:n])
			}()
			dark, ok := guard.Background(slave, 5*time.Second)
			assert.Equal(t, c.dark, dark)
			assert.Equal(t, c.ok, ok)
			assert.True(t, strings.HasPrefix(<-heard, "\x1b]11;?"))
		})
	}
}
