package problems

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
)

var update = flag.Bool("update", false, "write the goldens anew")

// The problems below are invented.
var (
	problems = []ferment.Problem{
		{File: "ferments/sloe.yaml", Line: 31, Column: 14, Message: `gravity "1,0555" is not a density (use a point and three or four decimals, e.g. 1.055)`, Text: "    gravity: 1,0555"},
		{File: "cellar.yaml", Line: 4, Column: 1, Message: `"unit" is no key of the settings: did you mean units? (e.g. units: us)`, Text: "unit: us"},
	}
	remarks = []ferment.Problem{
		{File: "ferments/lime-a.yaml", Line: 40, Message: "gravity 1.046 is there twice at the same time", Text: "  - at: 2026-10-06T18:40"},
		{File: "ferments/old (copy).yaml", Message: "is not read: a name is at most 64 letters, digits, - and _"},
	}
)

func at(w, h int) view {
	return found(w, h, screen.Files{Read: true, Problems: problems, Remarks: remarks})
}

func found(w, h int, files screen.Files) view {
	v := shownIn(Model{}, app.Snapshot{}, w, h)
	v.Files = files
	return v.again()
}

func end(m view) view {
	m, _ = m.does(intent.Bottom)
	return m
}

func TestScreens(t *testing.T) {
	for name, m := range map[string]func(w, h int) view{
		"some": at,
		"none": func(w, h int) view { return found(w, h, screen.Files{Read: true}) },
	} {
		for _, size := range [][2]int{{60, 15}, {80, 24}, {100, 30}, {140, 45}} {
			file := filepath.Join("..", "..", "testdata", "screens", fmt.Sprintf("problems-%s-%dx%d.txt", name, size[0], size[1]))
			got := m(size[0], size[1]).screen("Esc back") + "\n"
			if *update {
				require.NoError(t, os.WriteFile(file, []byte(got), 0o666))
			}
			want, err := os.ReadFile(file)
			require.NoError(t, err)
			assert.Equal(t, string(want), got, file)
		}
	}
}

func TestNeverLargerThanItsScreen(t *testing.T) {
	for w := 1; w <= 130; w += 3 {
		for h := 1; h <= 50; h += 7 {
			for _, m := range []view{found(w, h, screen.Files{}), at(w, h), end(at(w, h))} {
				rows := strings.Split(m.screen("Esc back"), "\n")
				assert.Len(t, rows, h)
				for _, r := range rows {
					assert.LessOrEqual(t, ansi.StringWidth(r), w, "%dx%d", w, h)
				}
			}
		}
	}
}

func TestEnterOpensTheLine(t *testing.T) {
	m, want := at(80, 24).does(intent.Down, intent.Open)
	assert.Equal(t, intent.OpenEditor{}, want)
	file, line := m.File(m.Frame)
	assert.Equal(t, "cellar.yaml", file)
	assert.Equal(t, 4, line)
	_, want = found(80, 24, screen.Files{Read: true}).does(intent.Open)
	assert.Equal(t, intent.Act{Action: intent.Open}, want)
}

// A problem of a whole folder has no file to open, and no key for it.
func TestFolderIsNotOpened(t *testing.T) {
	m := found(80, 24, screen.Files{Read: true, Problems: []ferment.Problem{{File: "ferments/past", Message: "cannot read the folder"}, problems[0]}})
	for _, a := range []intent.Action{intent.Open, intent.Edit} {
		assert.Equal(t, screen.Unnamed, m.Word(a))
	}
	file, _ := m.File(m.Frame)
	assert.Empty(t, file)
	m, want := m.does(intent.Open)
	assert.Equal(t, intent.Act{Action: intent.Open}, want)
	m, _ = m.does(intent.Down)
	assert.NotEqual(t, screen.Unnamed, m.Word(intent.Edit))
}

// After a problem is fixed the cursor stays on the one that it was on.
func TestCursorStaysAtItsPlace(t *testing.T) {
	m, _ := at(80, 24).does(intent.Down, intent.Down)
	m.Files.Problems = problems[:1]
	m = m.again()
	file, line := m.File(m.Frame)
	assert.Equal(t, "ferments/lime-a.yaml", file)
	assert.Equal(t, 40, line)
}

func TestSelectionIsVisible(t *testing.T) {
	m := end(at(60, 15))
	assert.Contains(t, m.screen(""), "old (copy).yaml")
	assert.Contains(t, found(80, 24, screen.Files{Read: true, Err: errors.New("the folder is gone")}).screen(""), "the folder is gone")
}
