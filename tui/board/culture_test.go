package board_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/theme"
)

// A cellar with only a culture shows what the culture needs.
func TestCulturesAlone(t *testing.T) {
	s := words.Sheet{At: at(7, 7, 4), Tasks: []words.Line{
		{Subject: "hawthorn-3", Tag: "hawthorn-3", Word: words.Due, Act: "w2", Task: task("w2"), Until: "by Sat 17 Oct"},
	}}
	for _, size := range [][2]int{{60, 15}, {80, 24}, {140, 45}} {
		m := drawn(theme.Theme{}, s, size[0], size[1])
		view := m.View()
		fits(t, view, size[0], size[1])
		assert.Contains(t, view, "hawthorn-3")
		assert.NotContains(t, view, "No vessels yet")
		assert.Equal(t, "hawthorn-3", m.SwitchSide().Move(1).Vessel())
	}
}
