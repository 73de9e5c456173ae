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
	"cellar/jugkeeper/tui/intent"
)

var update = flag.Bool("update", false, "write the goldens anew")

// The problems below are invented.
var (
	problems = []ferment.Problem{
		{File: "ferments/sloe.yaml", Line: 31, Column: 14, Message: `gravity "1,0555" is not a density (use a point and three or four decimals, e.g. 1.055)`, Text: "    gravity: 1,0555"},
		{File: "cellar.yaml", Line: 4, Column: 1, Message: `"unit" is no key of the settings: did you mean units? (e.g. units: us)`, Text: "unit: us"},
	}
	remarks = []ferment.Problem{
		{File: "ferments/lime-a.yaml", Line: 40, Message: "gravity 1.046 stands twice at the same time", Text: "  - at: 2026-10-06T18:40"},
		{File: "ferments/old (copy).yaml", Message: "is not read: a name is at most 64 letters, digits, - and _"},
	}
)

func at(w, h int) Model { return New().SetSize(w, h).(Model).Found(problems, remarks, nil) }

func TestScreens(t *testing.T) {
	for name, m := range map[string]func(w, h int) Model{
		"some": at,
		"none": func(w, h int) Model { return New().SetSize(w, h).(Model).Found(nil, nil, nil) },
	} {
		for _, size := range [][2]int{{60, 15}, {80, 24}, {100, 30}, {140, 45}} {
			file := filepath.Join("..", "..", "testdata", "screens", fmt.Sprintf("mend-%s-%dx%d.txt", name, size[0], size[1]))
			got := m(size[0], size[1]).View("Esc back") + "\n"
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
			for _, m := range []Model{New().SetSize(w, h).(Model), at(w, h), at(w, h).End()} {
				rows := strings.Split(m.View("Esc back"), "\n")
				assert.Len(t, rows, h)
				for _, r := range rows {
					assert.LessOrEqual(t, ansi.StringWidth(r), w, "%dx%d", w, h)
				}
			}
		}
	}
}

func TestEnterLeadsToTheLine(t *testing.T) {
	m := at(80, 24).Move(1)
	_, want := m.Do(intent.Open)
	assert.Equal(t, intent.Amend{}, want)
	file, line := m.File()
	assert.Equal(t, "cellar.yaml", file)
	assert.Equal(t, 4, line)
	_, want = New().Found(nil, nil, nil).Do(intent.Open)
	assert.Nil(t, want)
}

// After a mistake is mended the cursor stays at the one that it was on.
func TestTheCursorStaysAtItsPlace(t *testing.T) {
	m := at(80, 24).Move(2).Found(problems[:1], remarks, nil)
	file, line := m.File()
	assert.Equal(t, "ferments/lime-a.yaml", file)
	assert.Equal(t, 40, line)
}

func TestTheSelectedOneIsInSight(t *testing.T) {
	m := at(60, 15).End()
	assert.Contains(t, m.View(""), "old (copy).yaml")
	assert.Contains(t, New().SetSize(80, 24).(Model).Found(nil, nil, errors.New("the folder is gone")).View(""), "the folder is gone")
}
