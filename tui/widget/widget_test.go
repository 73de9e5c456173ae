package widget_test

import (
	"math"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// The dots of a braille cell are numbered 1 2 3 7 down its left column and
// 4 5 6 8 down its right one; a letter is U+2800 and a bit for each (Unicode
// Standard, block chart 2800).
func TestBraille(t *testing.T) {
	for _, c := range []struct {
		name   string
		values []float64
		cells  int
		want   string
	}{
		{"nothing to draw", nil, 6, ""},
		{"one reading is no course", []float64{1.08}, 6, ""},
		{"a number is missing", []float64{1.08, math.NaN(), 1.07}, 2, ""},
		{"a straight fall goes through every row", []float64{1.04, 1.03, 1.02, 1.01}, 2, "⠑⢄"},
		{"high, then low: joined", []float64{1.1, 1.0}, 1, "⢱"},
		{"low, then high: joined", []float64{1.0, 1.1}, 1, "⡸"},
		{"noise is no cliff", []float64{0.9970, 0.9971, 0.9970, 0.9971}, 2, "⠤⠤"},
	} {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.want, widget.Braille(c.values, c.cells)) })
	}
}

func TestBlocks(t *testing.T) {
	assert.Equal(t, "▆▅▄▃▂▁", widget.Blocks([]float64{1.06, 1.05, 1.04, 1.03, 1.02, 1.01}, 6))
	assert.Equal(t, "▆▁", widget.Blocks([]float64{1.1, 1.0}, 2))
	assert.Empty(t, widget.Blocks(nil, 6))
}

func TestSparklinesKeepTheirWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(0.98, 1.15), 2, 40).Draw(t, "values")
		cells := rapid.IntRange(1, 12).Draw(t, "cells")
		require.Equal(t, cells, layout.Width(widget.Braille(values, cells)))
		blocks := widget.Blocks(values, cells)
		require.Equal(t, cells, layout.Width(blocks))
		require.NotContains(t, blocks, "█")
		require.NotContains(t, blocks, "▇")
	})
}

var notches = []words.Notch{
	{Gravity: 1.090, Number: "1.0900", Kind: words.Original, Says: "pitched"},
	{Gravity: 1.070, Number: "1.0700", Kind: words.Now, Says: "now"},
	{Gravity: 1.059, Number: "1.0590", Kind: words.AtBreak, Break: "⅓", Says: "soon"},
	{Gravity: 1.054, Number: "1.0540", Kind: words.AtLimit, Says: "over"},
	{Gravity: 0.997, Number: "0.9970", Kind: words.Finish, Says: "finish"},
}

func TestStem(t *testing.T) {
	want := strings.TrimPrefix(`
    1.0900 ┬  pitched
           ┃
    1.0700 ●  now
 ⅓  1.0590 ┼  soon
    1.0540 ├  over
           │
           │
           │
           │
    0.9970 ┴  finish`, "\n")
	assert.Equal(t, want, strings.Join(widget.Stem(theme.Theme{}, notches, 50, 10), "\n"))
}

// Notches that would share a row at the bottom move up into rows of their own.
func TestStemSeparatesCloseLabels(t *testing.T) {
	close := []words.Notch{
		{Gravity: 1.090, Number: "1.0900", Kind: words.Original}, {Gravity: 0.999, Number: "0.9990", Kind: words.Now},
		{Gravity: 0.998, Number: "0.9980", Kind: words.AtLimit}, {Gravity: 0.997, Number: "0.9970", Kind: words.Finish},
	}
	drawn := widget.Stem(theme.Theme{}, close, 50, 6)
	assert.Equal(t, "    0.9990 ●\n    0.9980 ├\n    0.9970 ┴", strings.Join(drawn[3:], "\n"))
}

func TestStemDropsLabelsWithoutRoom(t *testing.T) {
	for rows, want := range map[int]string{5: "┬●┼├┴", 4: "┬●┼┴", 3: "┬●┴", 2: "┬┴", 1: ""} {
		var signs strings.Builder
		for _, row := range widget.Stem(theme.Theme{}, notches, 50, rows) {
			signs.WriteRune([]rune(row)[11])
		}
		assert.Equal(t, want, signs.String(), "%d rows", rows)
	}
}

func TestStemKeepsOrderAndRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows, w := rapid.IntRange(1, 30).Draw(t, "rows"), rapid.IntRange(10, 60).Draw(t, "w")
		drawn := widget.Stem(theme.Theme{}, notches, w, rows)
		require.LessOrEqual(t, len(drawn), rows)
		last := "9"
		for _, row := range drawn {
			require.LessOrEqual(t, layout.Width(row), w)
			if f := strings.Fields(strings.TrimLeft(row, " ⅓")); w >= 40 && len(f) > 1 {
				require.Less(t, f[0], last)
				last = f[0]
			}
		}
	})
}

var keys = []widget.Key{{Key: "g", Does: "reading"}, {Key: "Space", Does: "done"}, {Key: "s", Does: "skip"}, {Key: "Esc", Does: "back"}, {Key: "?", Does: "help"}}

func TestFooterDropsKeysFromTheMiddle(t *testing.T) {
	for w, want := range map[int]string{
		60: "g reading   Space done   s skip   Esc back   ? help",
		50: "g reading  Space done  s skip  Esc back  ? help",
		40: "g reading  Space done  Esc back  ? help",
		30: "g reading  Esc back  ? help",
		20: "Esc back  ? help",
		10: "? help",
	} {
		assert.Equal(t, want, widget.KeyRow(theme.Theme{}, keys, w), "%d columns", w)
	}
}

func TestEnds(t *testing.T) {
	assert.Equal(t, "kept: LIME-A            u takes it back", widget.Ends("kept: LIME-A", "u takes it back", 39))
	assert.Equal(t, "kept…     u takes it back", widget.Ends("kept: LIME-A", "u takes it back", 25))
	assert.Equal(t, "kept: LI…", widget.Ends("kept: LIME-A", "u takes it back", 9))
}

func TestTooSmall(t *testing.T) {
	rows := widget.TooSmall(theme.Theme{}, 48, 11)
	assert.Equal(t, "  jugkeeper needs 60 × 15; this is 48 × 11.", rows[3])
	assert.Equal(t, "  jugkeeper today --width 46 fits.", rows[5])
	assert.Equal(t, "  q leave", rows[10])
	for w := range 61 {
		for h := range 16 {
			rows := widget.TooSmall(theme.Theme{}, w, h)
			assert.LessOrEqual(t, len(rows), h)
			for _, r := range rows {
				assert.LessOrEqual(t, layout.Width(r), w)
			}
		}
	}
}

func TestWordAndMarkAreOneUnit(t *testing.T) {
	shades := theme.New("dark", theme.Dark, 0)
	for _, w := range []words.Word{words.Stop, words.Late, words.Held, words.Due, words.Done, words.Lapsed} {
		text := widget.Word(shades, w)
		assert.Equal(t, w.String(), strings.TrimSpace(ansi.Strip(text)))
		assert.LessOrEqual(t, strings.Count(text, "\x1b[0m"), 1, "%q", text)
	}
}
