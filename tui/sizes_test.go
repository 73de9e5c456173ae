package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
)

// places are keys to every screen and every line.
var places = map[string][]string{
	"board":     nil,
	"vessels":   {"tab"},
	"reading":   {"g", "text:1055@23 ph3.4 19.5C ; bready"},
	"unlikely":  {"g", "text:1090@23", "enter"},
	"unclear":   {"g", "text:12@23"},
	"wide":      {"n", "text:蜂蜜酒の香り、蜂蜜酒の香り、蜂蜜酒の香り、蜂蜜酒の香り、蜂蜜酒の香り"},
	"refusal":   {"space"},
	"given":     {"j", "space"},
	"all":       {"j", "a"},
	"skip":      {"s", "text:away"},
	"find":      {"/", "text:heath"},
	"help":      {"?"},
	"page":      {"enter"},
	"page down": {"enter", "end"},
	"page line": {"enter", "g", "text:1055"},
	"page help": {"enter", "?"},
	"message":   {"g", "text:1055", "enter"},
}

func TestNothingIsLargerThanTheScreen(t *testing.T) {
	for name, keys := range places {
		t.Run(name, func(t *testing.T) {
			d := drive(t, newShelf(), 80, 24).keys(keys...)
			for _, size := range sizesToTry() {
				d.model, _ = d.model.Update(size)
				fits(t, d.model.View(), size.Width, size.Height)
			}
		})
	}
}

// sizesToTry returns the sizes at which something is left out, and every width from 1 to 120 and height from 1 to 40
// once.
func sizesToTry() []tea.WindowSizeMsg {
	var sizes []tea.WindowSizeMsg
	for _, w := range []int{1, 2, 5, 31, 59, 60, 65, 66, 78, 80, 96, 110, 120} {
		for _, h := range []int{1, 2, 3, 8, 14, 15, 18, 24, 40} {
			sizes = append(sizes, tea.WindowSizeMsg{Width: w, Height: h})
		}
	}
	for w := 1; w <= 120; w++ {
		sizes = append(sizes, tea.WindowSizeMsg{Width: w, Height: 1 + w*7%40})
	}
	return sizes
}

func fits(t *testing.T, view string, w, h int) {
	t.Helper()
	rows := strings.Split(view, "\n")
	require.LessOrEqual(t, len(rows), h, "%d × %d", w, h)
	for _, row := range rows {
		require.LessOrEqual(t, ansi.StringWidth(row), w, "%d × %d: %q", w, h, row)
	}
}

func TestNothingIsDrawnWithoutASize(t *testing.T) {
	d := drive(t, newShelf(), 0, 0)
	assert.Empty(t, d.model.View())
	d.keys("j", "g", "text:1055", "esc", "?")
	assert.Empty(t, d.model.View())
}

func TestEmptyCellarOffersOnlyWorkingKeys(t *testing.T) {
	s := newShelf()
	s.cellar.Ferments = nil
	d := drive(t, s, 80, 24)
	d.shows("No vessels yet.", "+ new vessel", "? help", "q leave")
	for _, k := range DefaultKeys() {
		if k.Action == "leave" || k.Action == "abort" {
			continue
		}
		for _, name := range k.Binding.Keys() {
			d.keys(name, "esc")
		}
	}
	d.shows("No vessels yet.")
	assert.False(t, d.quit)
}

// A name, a tag and a note in a file never break the screen.
func TestHostileNames(t *testing.T) {
	s := newShelf()
	s.cellar.Ferments[0].Name = strings.Repeat("a very long name of a honey ", 20)
	s.cellar.Ferments[1].Name = "蜂蜜 е́лка ﷽"
	s.cellar.Ferments[2].Log = append(s.cellar.Ferments[2].Log, ferment.Entry{At: ago(hours(1)), Order: 2, Note: strings.Repeat("蜂", 300)})
	d := drive(t, s, 80, 24)
	for range 6 {
		for _, keys := range [][]string{{"enter"}, {"end"}, {"g"}, {"esc", "esc"}, {"j"}} {
			d.keys(keys...)
			fits(t, d.model.View(), 80, 24)
		}
	}
}

func TestAnyKeyOnAnyScreen(t *testing.T) {
	var all []string
	for _, k := range DefaultKeys() {
		all = append(all, k.Binding.Keys()...)
	}
	for name, keys := range places {
		d := drive(t, newShelf(), 80, 24)
		start := d.model
		for _, key := range all {
			d.model = start
			d.keys(keys...).keys(key)
			fits(t, d.model.View(), 80, 24)
			require.NotEmpty(t, d.model.View(), "%s on %s", key, name)
		}
	}
}

// A person who cannot see what a key does must not write with it: on a terminal that is too small only leaving works.
func TestTooSmallTerminalTakesNoKey(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	before := len(d.log("heath"))
	d.send(tea.WindowSizeMsg{Width: 40, Height: 10})
	d.keys("space", "enter", "g", "text:1050@20", "enter", "u")
	assert.Equal(t, before, len(d.log("heath")))
	d.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	assert.True(t, d.is().line == nil, "nothing was opened unseen")
	assert.Equal(t, OnBoard, d.is().at)
}
