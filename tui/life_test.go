package tui

import (
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
	"cellar/jugkeeper/tui/theme"
)

var update = flag.Bool("update", false, "tell the lives anew")

// A life is a file: the files of a cellar, each under its name between "-- "
// and " --", then under "-- life --" what is keyed on the board as time goes by.
//
//	@ TIME        it is then
//	% 80 24       the terminal has that many columns and rows
//	> KEYS        keys by their names; what stands between single quotes is typed
//	= ROW         what the last row of the screen says after them
//	$ screen      the screen
//	$ cat FILE    a file, as it stands then
//	$ keys        how many keys were pressed since they were last counted
//	$ picture X   a picture of the screen, for the README; the life is lived twice, on
//	              a dark and on a light ground
//	# WORDS       why
//
// The rows, screens and files are told anew with -update: read the difference.
func TestLives(t *testing.T) {
	files, err := filepath.Glob("../testdata/lives/*.txt")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			head, script, found := strings.Cut(string(data), "-- life --\n")
			require.True(t, found, "%s has no life", file)
			if strings.Contains(script, "\n$ picture ") {
				newLifeOn(t, head, theme.Light).live(script)
			}
			lived := newLife(t, head).live(script)
			if *update {
				require.NoError(t, os.WriteFile(file, []byte(head+"-- life --\n"+lived), 0o666))
				return
			}
			assert.Equal(t, script, lived, "go test ./tui -run Lives -update")
		})
	}
}

type life struct {
	*driver
	dir string
	on  theme.Background
}

// newLife returns a board on its own cellar, on a disk.
func newLife(t *testing.T, head string) life { return newLifeOn(t, head, theme.Dark) }

func newLifeOn(t *testing.T, head string, on theme.Background) life {
	t.Helper()
	l := life{&driver{t: t, now: morning}, t.TempDir(), on}
	for _, part := range strings.Split("\n"+head, "\n-- ") {
		name, text, ok := strings.Cut(part, " --\n")
		if !ok {
			continue
		}
		path := filepath.Join(l.dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o777))
		require.NoError(t, os.WriteFile(path, []byte(strings.TrimSuffix(text, "\n")+"\n"), 0o666))
	}
	store := journal.Open(l.dir, time.UTC, protocols.Files(), journal.WithState(t.TempDir()))
	l.model = New(Options{App: app.New(store), Background: on, Clock: func() time.Time { return l.now },
		wait: func(time.Duration, func() tea.Msg) tea.Cmd { return nil }})
	l.run(l.model.Init())
	l.send(tea.WindowSizeMsg{Width: 100, Height: 30})
	return l
}

func (l life) live(script string) string {
	var told strings.Builder
	pressed := 0
	for _, line := range strings.Split(script, "\n") {
		sign, rest, _ := strings.Cut(line, " ")
		switch sign {
		case "#":
			fmt.Fprintln(&told, line)
		case "@":
			fmt.Fprintln(&told, line)
			l.at(rest)
		case "%":
			fmt.Fprintln(&told, line)
			var size tea.WindowSizeMsg
			_, err := fmt.Sscanf(rest, "%d %d", &size.Width, &size.Height)
			require.NoError(l.t, err, line)
			l.send(size)
		case ">":
			fmt.Fprintln(&told, line)
			pressed += keysIn(rest)
			l.keys(keyWords(rest)...)
			fmt.Fprintln(&told, "="+strings.TrimRight(" "+strings.TrimSpace(l.last()), " "))
		case "$":
			fmt.Fprintln(&told, line)
			if name, is := strings.CutPrefix(rest, "picture "); is {
				draw(l.t, name, strings.ReplaceAll(l.model.View(), l.dir, "CELLAR"), l.is().width, l.on)
			} else if rest == "keys" {
				fmt.Fprintf(&told, "| %d\n", pressed)
				pressed = 0
			} else {
				told.WriteString(l.show(rest))
			}
		}
	}
	return told.String()
}

// keysIn counts the keys of a line: named ones, and each typed letter.
func keysIn(line string) int {
	n := 0
	for _, word := range keyWords(line) {
		if text, is := strings.CutPrefix(word, "text:"); is {
			n += len([]rune(text))
		} else {
			n++
		}
	}
	return n
}

// at sets the time.
func (l life) at(when string) {
	l.t.Helper()
	now, err := time.ParseInLocation("2006-01-02 15:04", when, time.UTC)
	require.NoError(l.t, err)
	l.driver.now = now
	l.send(ticked{now: now})
}

// last returns the last row of the screen.
func (l life) last() string {
	rows := strings.Split(l.screen(), "\n")
	return rows[len(rows)-1]
}

func (l life) show(what string) string {
	l.t.Helper()
	if file, is := strings.CutPrefix(what, "cat "); is {
		data, err := os.ReadFile(filepath.Join(l.dir, file))
		if errors.Is(err, fs.ErrNotExist) {
			return "| there is none\n"
		}
		require.NoError(l.t, err)
		return indented(string(data))
	}
	return indented(strings.ReplaceAll(l.screen(), l.dir, "CELLAR"))
}

// indented puts a bar before each line, so that none is taken for a part of the life.
func indented(text string) string {
	var out strings.Builder
	for _, row := range strings.Split(strings.TrimRight(text, "\n"), "\n") {
		out.WriteString(strings.TrimRight("| "+row, " ") + "\n")
	}
	return out.String()
}

// keyWords splits keys at spaces; text in single quotes is typed as one.
func keyWords(line string) []string {
	var out []string
	for i, part := range strings.Split(line, "'") {
		if i%2 == 1 {
			out = append(out, "text:"+part)
			continue
		}
		out = append(out, strings.Fields(part)...)
	}
	return out
}
