package tui

import (
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
)

func TestEveryKeyHasHelpAndDoesSomething(t *testing.T) {
	d := on(drive(t, newShelf(), 80, 24), "heath")
	board := d.is()
	page := d.keys("enter").is()
	require.Equal(t, OnVessel, page.at)
	for _, k := range DefaultKeys() {
		assert.NotEmpty(t, k.Help, k.Action)
		assert.NotEmpty(t, k.Binding.Help().Desc, k.Action)
		assert.NotEmpty(t, k.Binding.Keys(), k.Action)
		for at, m := range map[Place]Model{OnBoard: board, OnVessel: page} {
			if k.Works&at == 0 {
				continue
			}
			_, everywhere := global[k.Action]
			_, left := acts[k.Action]
			_, want := m.current().Do(m.frame(), k.Action)
			assert.True(t, everywhere || left || want != intent.Intent(intent.Act{Action: k.Action}), "%s does nothing on the %s", k.Action, placeNames[at])
		}
	}
}

func TestNoKeyMeansTwoThings(t *testing.T) {
	for _, place := range []Place{OnBoard, OnVessel, InLine, InRefusal} {
		seen := map[string]intent.Action{}
		for _, k := range DefaultKeys() {
			for _, name := range k.Binding.Keys() {
				if k.Works&place == 0 {
					continue
				}
				assert.Empty(t, seen[name], "%s means %s and %s", name, seen[name], k.Action)
				seen[name] = k.Action
			}
		}
	}
}

// Letters are for typing: no key of a line may be a letter.
func TestTypingTakesEveryLetter(t *testing.T) {
	for _, k := range DefaultKeys() {
		for _, name := range k.Binding.Keys() {
			if k.Works&(InLine|InRefusal) != 0 {
				assert.Greater(t, len(name), 1, "%s would eat %q", k.Action, name)
				assert.NotEqual(t, "space", name)
			}
		}
	}
}

func TestHelpNamesEveryKeyOfThePlace(t *testing.T) {
	for _, place := range []Place{OnBoard, OnVessel} {
		shown := ""
		for _, h := range DefaultKeys().Helps(place) {
			shown += " " + h.Keys + " "
		}
		for _, k := range DefaultKeys() {
			if k.Works&place != 0 {
				assert.Contains(t, shown, " "+k.Binding.Help().Key+" ", k.Action)
			}
		}
	}
}

func TestTableForTheReadme(t *testing.T) {
	table := DefaultKeys().Table()
	for _, row := range []string{"| g | take a reading |", "| Space | done; asks for values |", "| ↑ ↓ | move |", "| q Ctrl+C | leave |"} {
		assert.Contains(t, table, row)
	}
	assert.Equal(t, 1, strings.Count(table, "| Esc |"))
}

func TestRemapping(t *testing.T) {
	for _, c := range []struct {
		name     string
		settings map[string]string
		key      string
		want     intent.Action
	}{
		{"another key", map[string]string{"reading": "x"}, "x", intent.Reading},
		{"the old one is free", map[string]string{"reading": "x"}, "g", ""},
		{"a key taken over", map[string]string{"reading": "n"}, "n", intent.Reading},
		{"an act", map[string]string{"degas": "d"}, "d", "degas"},
		{"as typed with a capital", map[string]string{"degas": " D "}, "D", "degas"},
		{"a control key", map[string]string{"undo": "Ctrl+R"}, "ctrl+r", intent.Undo},
	} {
		t.Run(c.name, func(t *testing.T) {
			keys, troubles := DefaultKeys().Remap(c.settings)
			assert.Empty(t, troubles)
			got, _ := keys.Action(OnBoard, intent.Stroke{Name: c.key})
			assert.Equal(t, c.want, got)
		})
	}
}

func TestInvalidRemapping(t *testing.T) {
	for _, c := range []struct{ action, key, says string }{
		{"reeding", "x", `keys: "reeding" is neither an action nor an act`},
		{"reading", "xx", `keys: reading: "xx" is no key`},
		{"reading", "", `keys: reading: "" is no key`},
		{"reading", "esc", "keys: reading: Esc has its own meaning"},
		{"back", "b", "keys: back: its key stays"},
	} {
		keys, troubles := DefaultKeys().Remap(map[string]string{c.action: c.key})
		require.Len(t, troubles, 1, c.action)
		assert.Contains(t, troubles[0].Error(), c.says)
		assert.Equal(t, DefaultKeys(), keys)
	}
}

func TestHelpShowsTheRealKeys(t *testing.T) {
	s := newShelf()
	s.cellar.Settings.Keys = map[string]string{"degas": "d", "reading": "x"}
	d := drive(t, s, 80, 24)
	d.shows("x reading").keys("?").shows("x     take a reading", "degas, done now")
	d.keys("d").shows("✓ kept: LIME-B degas")
	assert.Equal(t, ferment.Degas, d.log("lime-b")[0].Did)
	d.keys("x").shows("@23 sample")
}

func TestKeyProblemsAreReported(t *testing.T) {
	s := newShelf()
	s.cellar.Settings.Keys = map[string]string{"reeding": "x"}
	drive(t, s, 80, 24).shows(`"reeding" is neither an action nor an act`)
}

func TestHelpScrollsAndPassesOtherKeysOn(t *testing.T) {
	d := drive(t, newShelf(), 60, 15)
	d.keys("?").shows("keys and words", "↓ more").lacks("jugs of one trial")
	d.keys("end").shows("jugs of one trial")
	d.keys("home").shows("take a reading")
	d.keys("esc").lacks("keys and words")
	d.keys("?", "g").shows("@23 sample").lacks("keys and words")
}

func TestFooterNamesOnlyKeysThatWork(t *testing.T) {
	for _, place := range []Place{OnBoard, OnVessel} {
		for _, k := range DefaultKeys().At(place) {
			assert.NotZero(t, k.Works&place, k.Action)
		}
		last := DefaultKeys().At(place)
		assert.Equal(t, intent.Help, last[len(last)-1].Action)
		assert.True(t, slices.ContainsFunc(last, func(k Key) bool { return k.Action == intent.Reading }))
	}
}

// Help is about the screen shown, and is not cut at any size.
func TestHelpIsNeverCut(t *testing.T) {
	for _, keys := range [][]string{nil, {"enter"}, {"2"}, {"3"}, {"4"}, {"5"}, {"!"}} {
		d := drive(t, newShelf(), 80, 24).keys(keys...).keys("?")
		for w := 60; w <= 200; w += 7 {
			d.model, _ = d.model.Update(tea.WindowSizeMsg{Width: w, Height: 60})
			m := d.is()
			for _, row := range m.helpRows() {
				assert.NotContains(t, row, "…", "%v at %d", keys, w)
				assert.LessOrEqual(t, layout.Width(row), layout.PageOf(m.width).End()-m.helpColumn())
			}
			text := strings.Join(strings.Fields(ansi.Strip(strings.Join(m.helpRows(), " "))), " ")
			for _, h := range m.helpKeys() {
				for _, word := range strings.Fields(h.means) {
					assert.Contains(t, text, word, "%v at %d", keys, w)
				}
			}
		}
	}
}

func TestKeyWithoutEffectSaysSo(t *testing.T) {
	drive(t, newShelf(), 80, 24).keys("5", "b").shows("b does nothing here; ? lists the keys").keys("x").shows("x does nothing here")
}
