package board_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/schedule/sheet"
	"cellar/jugkeeper/tui/board"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

var update = flag.Bool("update", false, "write the screens as they are drawn now")

var keys = []widget.Key{
	{Key: "g", Does: "reading"}, {Key: "Space", Does: "done"}, {Key: "s", Does: "skip"}, {Key: "Enter", Does: "open"},
	{Key: "Tab", Does: "vessels"}, {Key: "u", Does: "undo"}, {Key: "?", Does: "help"},
}

func drawn(t theme.Theme, s sheet.Sheet, w, h int) board.Model {
	return board.New(t).SetSize(w, h).SetSheet(s).SetFoot(widget.KeyRow(t, keys, layout.PageOf(w).Width))
}

// golden holds what is drawn against a file of the screens.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("..", "..", "testdata", "screens", name+".txt")
	got = trimmed(got) + "\n"
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o777))
		require.NoError(t, os.WriteFile(path, []byte(got), 0o666))
		return
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(want), got)
}

// trimmed is a screen as text, without the blanks at the ends of its rows.
func trimmed(view string) string {
	rows := strings.Split(ansi.Strip(view), "\n")
	for i, r := range rows {
		rows[i] = strings.TrimRight(r, " ")
	}
	return strings.Join(rows, "\n")
}

var screens = map[string]func() sheet.Sheet{
	"morning": morning, "kept": kept, "stop": danger, "calm": calm, "conditions": conditions, "many": many,
	"long": long, "wide": wide, "empty": func() sheet.Sheet { return sheet.Sheet{At: at(7, 7, 4), Dir: "~/cellar"} }, "broken": broken,
}

var sizes = [][2]int{{60, 15}, {80, 24}, {100, 30}, {112, 34}, {140, 45}}

func TestBoardScreens(t *testing.T) {
	for name, s := range screens {
		for _, size := range sizes {
			at := fmt.Sprintf("board-%s-%dx%d", name, size[0], size[1])
			t.Run(at, func(t *testing.T) {
				golden(t, at, drawn(theme.New("dark", theme.Dark, 0), s(), size[0], size[1]).View())
			})
		}
	}
}

func TestPaper(t *testing.T) {
	for name, s := range screens {
		for _, width := range []int{38, 60, 80, 100} {
			at := fmt.Sprintf("today-%s-%d", name, width)
			t.Run(at, func(t *testing.T) { golden(t, at, board.Today(today(s()), width, theme.Theme{})) })
		}
		t.Run("plain-"+name, func(t *testing.T) { golden(t, "today-plain-"+name, board.Plain(today(s()), 80)) })
	}
}

// today is a sheet without what comes on other days, as it is printed.
func today(s sheet.Sheet) sheet.Sheet {
	var kept []sheet.Line
	for _, l := range s.Tasks {
		if l.Word != sheet.Coming {
			kept = append(kept, l)
		}
	}
	s.Tasks = kept
	return s
}
