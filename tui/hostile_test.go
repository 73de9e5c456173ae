package tui

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
)

// styling matches highlighting without colours.
var styling = regexp.MustCompile(`\x1b\[[01247]?(;[247])*m`)

// No screen sends control characters of files or typed text to the terminal.
func TestHostileTextNeverReachesTheTerminal(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "cellar")
	require.NoError(t, os.CopyFS(dir, os.DirFS("../testdata/cellars/hostile")))
	store := journal.Open(dir, time.UTC, protocols.Files(), journal.WithState(t.TempDir()))
	d := &driver{t: t, now: time.Date(2026, time.September, 16, 9, 0, 0, 0, time.UTC)}
	d.model = New(Options{App: app.New(store), Profile: termenv.Ascii, Clock: func() time.Time { return d.now },
		wait: func(time.Duration, func() tea.Msg) tea.Cmd { return nil }})
	d.run(d.model.Init())
	const typed = "paste:\x1b[31mred\x1b]0;taken\a\u009b1m\u202eback\u2066\u200f\u2028 "
	for _, size := range [][2]int{{60, 15}, {80, 24}, {140, 45}} {
		d.send(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
		for _, keys := range []string{"", "tab", "j j", "enter", "enter end", "enter pgdown pgdown", "?", "g TYPED", "g TYPED enter", "n TYPED", "space", "space TYPED", "s TYPED", "/ TYPED enter",
			"2", "2 j", "2 j j enter", "2 space", "2 t", "2 t enter TYPED", "3", "3 enter", "3 tab", "3 tab enter", "3 +", "3 + TYPED", "3 space", "4", "4 enter TYPED", "5", "!", "! end",
			"+", "+ down TYPED", "+ left", "r", "r TYPED", "r right", "r right right right", "b", "b down TYPED", "tab j m j m v", "tab j m j m v end", "u"} {
			start := d.model
			for _, key := range strings.Fields(keys) {
				if key == "TYPED" {
					key = typed
				}
				d.keys(key)
				view := d.model.View()
				assert.Empty(t, obeyed(styling.ReplaceAllString(view, "")), "%v %s at %s: %q", size, keys, key, view)
				fits(t, view, size[0], size[1])
			}
			d.model = start
		}
	}
}

// obeyed returns the control characters of a text, except line feeds.
func obeyed(text string) string {
	return strings.Map(func(r rune) rune {
		if r != '\n' && (unicode.IsControl(r) || unicode.In(r, unicode.Bidi_Control, unicode.Zl, unicode.Zp)) {
			return r
		}
		return -1
	}, text)
}
