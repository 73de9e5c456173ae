package tui

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
	"cellar/jugkeeper/tui/layout"
)

// everyScreen are keys from the board of the invented cellar to every screen, form, prompt and question.
var everyScreen = map[string][]string{
	"board": nil, "vessels": {"tab"}, "page": {"enter"}, "page end": {"enter", "end"},
	"shelf": {"2"}, "honey": {"3"}, "cultures": {"3", "tab"}, "bench": {"4"}, "guide": {"5"}, "guide keys": {"5", "right"}, "problems": {"!"},
	"closed": {"6"}, "results": {"y"}, "log": {"enter", "enter"}, "strike": {"enter", "enter", "s"}, "lot": {"3", "enter"}, "drink": {"2", "space"},
	"beside": {"m", "tab", "j", "m", "v"},
	"new":    {"+"}, "rack": {"r"}, "bottle": {"b"}, "taste": {"/", "text:clov", "enter", "t"},
	"reading": {"g"}, "reading typed": {"g", "text:1055@23 ph3.4"}, "unlikely": {"g", "text:1090@23", "enter"}, "unclear": {"g", "text:12@23"},
	"dose": {"/", "text:ches-b", "enter", "space"}, "dose ten times": {"/", "text:ches-b", "enter", "space", "text:14g", "enter"},
	"refusal": {"/", "text:dand", "enter", "space"}, "skip": {"s", "text:away"}, "note": {"n"}, "find": {"/"}, "questions": {"/", "text:elder-2", "enter", "space"},
	"message": {"g", "text:1.060", "enter", "enter"}, "nothing": {"x"}, "dropped": {"g", "text:1.060", "esc"},
}

// TestNoWordIsCut: at every size no help, footer, prompt or danger has a cut word.
func TestNoWordIsCut(t *testing.T) {
	var sizes []tea.WindowSizeMsg
	for _, w := range []int{40, 47, 60, 65, 66, 77, 80, 96, 109, 110, 140, 200} {
		for _, h := range []int{12, 15, 18, 24, 30, 60} {
			sizes = append(sizes, tea.WindowSizeMsg{Width: w, Height: h})
		}
	}
	for name, keys := range everyScreen {
		t.Run(name, func(t *testing.T) {
			d := demoInDanger(t).keys(keys...)
			for _, size := range sizes {
				d.model, _ = d.model.Update(size)
				for _, row := range mustNotBeCut(d.is()) {
					assert.NotContains(t, row, "…", "%s at %d × %d", name, size.Width, size.Height)
				}
				if size.Width == 80 && name != "honey" { // its list is as narrow where there is more room
					d.cutsNoWord(t, name, size)
				}
				help, _ := d.is().openHelp()
				for i, row := range strings.Split(ansi.Strip(help.View()), "\n") {
					if size.Width < layout.LeastWidth || size.Height < layout.LeastHeight {
						continue
					}
					assert.NotContains(t, ansi.Cut(row, help.helpColumn(), size.Width), "…", "help of %s at %d × %d, row %d", name, size.Width, size.Height, i)
				}
			}
		})
	}
}

// A message that is too long keeps its beginning and how it is taken back, and ends after a whole word with its unit.
func TestLongMessageEndsAfterAWord(t *testing.T) {
	text := "CHES-B bottle, 07:04; 12.5 mL of unpronounceablesubstance in 4 × 0.33 L"
	words := strings.Fields("✓ kept: " + text)
	for w := 40; w <= 120; w++ {
		row := ansi.Strip(message{word: "kept", text: text, right: "u takes it back"}.row(Model{}, w))
		assert.LessOrEqual(t, ansi.StringWidth(row), w)
		said, back := strings.CutSuffix(row, "  u takes it back")
		assert.True(t, back, row)
		said = strings.TrimRight(said, " ")
		assert.NotRegexp(t, `12.5…|0.33…`, said)
		last := strings.Fields(strings.TrimSuffix(said, "…"))
		assert.True(t, slices.ContainsFunc(words, func(word string) bool {
			return strings.TrimRight(word, ";,:.") == strings.TrimRight(last[len(last)-1], ";")
		}), "%d: %s", w, row)
	}
}

var cutWord = regexp.MustCompile(`([\pL\pN.-]+)…`)

// cutsNoWord: what is cut off ends with a word that is also there, whole, where there is much room.
func (d *driver) cutsNoWord(t *testing.T, name string, size tea.WindowSizeMsg) {
	narrow := ansi.Strip(d.model.View())
	d.model, _ = d.model.Update(tea.WindowSizeMsg{Width: 240, Height: 90})
	wide := strings.FieldsFunc(ansi.Strip(d.model.View()), func(r rune) bool { return strings.ContainsRune(" ,;:()\n", r) })
	for _, cut := range cutWord.FindAllStringSubmatch(narrow, -1) {
		assert.True(t, slices.Contains(wide, cut[1]), "%s at %d × %d: a word is cut in %s", name, size.Width, size.Height, cut[0])
	}
	d.model, _ = d.model.Update(size)
}

// mustNotBeCut returns the rows that must be complete: the footer, an open line, and a danger; all rows on a terminal
// that is too small.
func mustNotBeCut(m Model) []string {
	rows := strings.Split(ansi.Strip(m.View()), "\n")
	if !layout.Fits(m.width, m.height) {
		return rows
	}
	whole := append([]string{rows[len(rows)-1]}, m.below()...)
	for i, row := range rows {
		if strings.Contains(row, "◆ danger") && m.at == OnBoard {
			for _, row := range rows[i:min(i+5, len(rows))] {
				whole = append(whole, ansi.Truncate(row, 78, "")) // the card is next to it
			}
		}
	}
	return whole
}

// demoInDanger returns the board of the invented cellar with mould in one vessel.
func demoInDanger(t *testing.T) *driver {
	dir := demoInUSUnits(t, morning)
	settings, err := os.ReadFile(filepath.Join(dir, "cellar.yaml"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "cellar.yaml"), []byte(strings.Replace(string(settings), "units: us\n", "", 1)), 0o666))
	f, err := os.OpenFile(filepath.Join(dir, "ferments", "buckwheat.yaml"), os.O_APPEND|os.O_WRONLY, 0)
	require.NoError(t, err)
	_, err = f.WriteString("  - {at: " + morning.Add(-hours(1)).Format("2006-01-02T15:04:05Z07:00") + ", did: look, seen: mould}\n")
	require.NoError(t, err)
	assert.NoError(t, f.Close())
	store := journal.Open(dir, time.UTC, protocols.Files(), journal.WithState(t.TempDir()))
	d := &driver{t: t, now: morning}
	d.model = New(Options{App: app.New(store), Clock: func() time.Time { return morning }, wait: func(time.Duration, func() tea.Msg) tea.Cmd { return nil }})
	d.run(d.model.Init())
	d.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	return d
}
