package board_test

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/board"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

var update = flag.Bool("update", false, "write the screens as they are drawn now")

var keys = []widget.Key{
	{Key: "g", Does: "reading"}, {Key: "Space", Does: "done"}, {Key: "s", Does: "skip"}, {Key: "Enter", Does: "open"},
	{Key: "Tab", Does: "vessels"}, {Key: "u", Does: "undo"}, {Key: "?", Does: "help"},
}

func drawn(t theme.Theme, s words.Sheet, w, h int) model {
	f := screen.Frame{Theme: t, Width: w, Height: h, Sheet: s, Footer: widget.KeyRow(t, keys, layout.PageOf(w).Width)}
	f.KeyName = func(a intent.Action) string {
		return map[intent.Action]string{intent.New: "+", intent.Honey: "3", intent.Help: "?", intent.Leave: "q", intent.Side: "Tab", intent.Done: "Space", intent.Skip: "s", intent.Problems: "!"}[a]
	}
	return model{board.New(), f}.again()
}

// golden compares what is drawn with a file of the screens.
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

// trimmed returns a screen as text, without blanks at the ends of rows.
func trimmed(view string) string {
	rows := strings.Split(ansi.Strip(view), "\n")
	for i, r := range rows {
		rows[i] = strings.TrimRight(r, " ")
	}
	return strings.Join(rows, "\n")
}

var screens = map[string]func() words.Sheet{
	"morning": morning, "kept": kept, "stop": danger, "danger": alarmed, "calm": calm, "conditions": conditions, "many": many,
	"long": long, "wide": wide, "empty": func() words.Sheet { return words.Sheet{At: at(7, 7, 4), Dir: "~/cellar"} }, "broken": broken,
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

// Columns are left out in their order as the screen narrows.
func TestColumnsGiveWay(t *testing.T) {
	for _, c := range []struct {
		width int
		want  string
	}{
		{140, "vessel stage day gravity ago points/d % vol course next"},
		{100, "vessel honey and yeast stage day gravity ago points/d % vol course next"},
		{96, "vessel honey and yeast stage day gravity ago points/d % vol course next"},
		{95, "vessel stage day gravity ago points/d % vol course next"},
		{78, "vessel stage day gravity ago points/d % vol course next"},
		{77, "vessel stage day gravity ago points/d % vol next"},
		{70, "vessel stage day gravity ago points/d % vol next"},
		{69, "vessel stage day gravity ago % vol next"},
		{66, "vessel stage day gravity ago % vol next"},
		{65, ""},
	} {
		m := drawn(theme.Theme{}, morning(), c.width, 24)
		got := ""
		for _, row := range strings.Split(listOnly(m.View(), c.width), "\n") {
			if strings.HasPrefix(row, "   vessel") {
				got = strings.Join(strings.Fields(row), " ")
			}
		}
		assert.Equal(t, c.want, got, "%d columns", c.width)
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

// today returns a sheet without other days, as it is printed.
func today(s words.Sheet) words.Sheet {
	var kept []words.Line
	for _, l := range s.Tasks {
		if l.Word != words.Coming {
			kept = append(kept, l)
		}
	}
	s.Tasks = kept
	return s
}

// fits checks that a view has exactly so many rows, none too wide.
func fits(t require.TestingT, view string, w, h int) {
	rows := strings.Split(view, "\n")
	require.Len(t, rows, h)
	for _, row := range rows {
		require.LessOrEqual(t, layout.Width(row), w, "%q", row)
	}
}

func TestNeverLargerThanItsScreen(t *testing.T) {
	names := slices.Sorted(maps.Keys(screens))
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 200).Draw(t, "w"), rapid.IntRange(1, 60).Draw(t, "h")
		m := drawn(theme.New("dark", theme.Dark, termenv.TrueColor), screens[rapid.SampledFrom(names).Draw(t, "screen")](), w, h)
		for range rapid.IntRange(0, 4).Draw(t, "keys") {
			m = rapid.SampledFrom([]func() model{
				func() model { return m.Move(1) }, func() model { return m.Move(-2) }, m.End, m.Home, m.SwitchSide,
				func() model { return m.Page(1) }, func() model { return m.Below(make([]string, 12)) }, m.Above,
			}).Draw(t, "key")()
		}
		fits(t, m.View(), w, h)
	})
}

func TestEverySmallSize(t *testing.T) {
	for w := 1; w <= 66; w++ {
		for h := 1; h <= 18; h++ {
			fits(t, drawn(theme.Theme{}, long(), w, h).View(), w, h)
		}
	}
}

func TestPaperKeepsItsWidth(t *testing.T) {
	for name, s := range screens {
		for w := 34; w <= 130; w++ {
			for _, row := range strings.Split(board.Today(s(), w, theme.Theme{}), "\n") {
				require.LessOrEqual(t, layout.Width(row), w, "%s at %d: %q", name, w, row)
			}
		}
	}
}

// A danger is never cut, at any size.
func TestDangerIsNeverCut(t *testing.T) {
	s := danger()
	for w := layout.LeastWidth; w <= 150; w += 3 {
		for h := layout.LeastHeight; h <= 40; h += 5 {
			view := strings.Join(strings.Fields(strings.Map(func(r rune) rune {
				if r == '▌' {
					return ' '
				}
				return r
			}, ansi.Strip(listOnly(drawn(theme.Theme{}, s, w, h).View(), w)))), " ")
			require.Contains(t, view, "it ferments again: 0.0022 down since the honey went in, and the airlock moves. Closed bottles of it may burst", "%d×%d", w, h)
		}
	}
}

// An alarm is whole at every size, and stays when the list scrolls.
func TestAlarmIsNeverCutOrScrolled(t *testing.T) {
	s := alarmed()
	for w := layout.LeastWidth; w <= 150; w += 6 {
		for h := layout.LeastHeight; h <= 40; h += 5 {
			m := drawn(theme.Theme{}, s, w, h)
			for range 12 {
				view := strings.Join(strings.Fields(strings.ReplaceAll(ansi.Strip(listOnly(m.View(), w)), "▌", " ")), " ")
				for _, must := range []string{"soft test bottle is rock hard", "1 Keep everyone away. Open or shake nothing.", "4 After 24 h lift caps slowly, under a towel.", "1 danger"} {
					require.Contains(t, view, must, "%d×%d", w, h)
				}
				m = m.Move(1)
			}
		}
	}
}

// The steps of an alarm begin below what it is, and its reason is whole, however long the tag is.
func TestAlarmAfterALongTag(t *testing.T) {
	for n := 3; n <= 20; n++ {
		s := alarmed()
		s.Tasks[0].Reason += " Bottles left: 9."
		s.Tasks[0].Tag = strings.Repeat("x", n)
		s.Vessels[0].ID, s.Vessels[0].Tag, s.Vessels[0].Culture = s.Tasks[0].Subject, s.Tasks[0].Tag, true
		columns, view := map[string]int{}, ansi.Strip(drawn(theme.New("dark", theme.Dark, termenv.TrueColor), s, 80, 30).View())
		require.Contains(t, strings.Join(strings.Fields(strings.ReplaceAll(view, "▌", " ")), " "), s.Tasks[0].Reason)
		for _, row := range strings.Split(view, "\n") {
			for _, part := range []string{"soft test bottle is rock hard", "1 Keep everyone away"} {
				if before, _, found := strings.Cut(row, part); found {
					columns[part] = layout.Width(before)
				}
			}
		}
		require.Len(t, columns, 2)
		assert.Equal(t, columns["1 Keep everyone away"], columns["soft test bottle is rock hard"], "a tag of %d letters", n)
	}
}

// listOnly returns a view without the card beside the lists.
func listOnly(view string, w int) string {
	if w < 110 {
		return view
	}
	rows := strings.Split(view, "\n")
	for i, r := range rows {
		rows[i] = layout.Cut(r, 79)
	}
	return strings.ReplaceAll(strings.Join(rows, "\n"), "…", "")
}

func TestAmountAndActAreNeverCut(t *testing.T) {
	for w := layout.LeastWidth; w <= 150; w++ {
		view := ansi.Strip(drawn(theme.Theme{}, morning(), w, 24).View())
		for _, must := range []string{"LIME-A", "▲ late", "nutrient 2", "1.0", "g", "ammonium phosphate", "degas", "1 any day"} {
			require.Contains(t, view, must, "%d columns", w)
		}
	}
}

var colourCode = regexp.MustCompile(`\x1b\[([0-9;]*;)?(3[0-8]|4[0-8]|9[0-7]|10[0-7])[;m]`)

func TestColourIsNeverTheOnlySign(t *testing.T) {
	for name, s := range screens {
		bare := drawn(theme.Theme{}, s(), 112, 34).View()
		require.NotContains(t, bare, "\x1b", name)
		for _, profile := range []termenv.Profile{termenv.TrueColor, termenv.ANSI256, termenv.ANSI, termenv.Ascii} {
			for _, kind := range []string{"dark", "light", "mono"} {
				view := drawn(theme.New(kind, theme.Dark, profile), s(), 112, 34).View()
				require.Equal(t, bare, ansi.Strip(view), "%s %s", name, kind)
				if kind == "mono" || profile == termenv.Ascii {
					require.NotRegexp(t, colourCode, view, "%s %s", name, kind)
				}
			}
		}
	}
	require.Regexp(t, colourCode, drawn(theme.New("dark", theme.Dark, termenv.ANSI), morning(), 80, 24).View())
}

// TestVesselsOutOfSightAreCounted: at every height, also where two rows are left for them.
func TestVesselsOutOfSightAreCounted(t *testing.T) {
	for on, r := range many().Vessels {
		for h := 15; h < 31; h++ {
			s := danger()
			s.Vessels = many().Vessels
			s.Tasks[0].Subject, s.Tasks[0].Tag = r.ID, r.Tag
			view := drawn(theme.New("mono", theme.Dark, 0), s, 80, h).View()
			rows := strings.Split(view, "\n")
			if below := strings.Join(rows[h-5:], "\n"); !strings.Contains(view, "HAZEL") { // the last of them
				assert.Regexp(t, `[↓↑] \d+ more|\d+ more vessels?: Tab`, below, "%d rows, vessel %d", h, on)
			}
		}
	}
}
