package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWheelMovesTheCursor(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	d.send(tea.MouseMsg{Button: tea.MouseButtonWheelDown})
	assert.Equal(t, "heath", d.is().board().Subject())
	d.send(tea.MouseMsg{Button: tea.MouseButtonWheelUp})
	assert.Equal(t, "lime-b", d.is().board().Subject())
}

// click presses and releases on the last row that shows a text.
func (d *driver) click(text string) *driver {
	d.t.Helper()
	rows := strings.Split(d.screen(), "\n")
	for y := len(rows) - 1; y >= 0; y-- {
		if strings.Contains(rows[y], text) {
			d.send(tea.MouseMsg{Y: y, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
			d.send(tea.MouseMsg{Y: y, Button: tea.MouseButtonLeft, Action: tea.MouseActionRelease})
			return d
		}
	}
	require.Fail(d.t, "no row shows "+text)
	return d
}

func TestClickSelectsAndSecondOpens(t *testing.T) {
	d := drive(t, newShelf(), 80, 24)
	d.click("HEATH    working")
	assert.Equal(t, "heath", d.is().board().Subject())
	d.click("LIME-A   working")
	assert.Equal(t, "lime-a", d.is().board().Subject())
	d.click("LIME-B   ◆ held")
	line, ok := d.is().board().Task(d.is().frame())
	require.True(t, ok)
	assert.Equal(t, "lime-b", line.Subject)
	d.click("vessel   stage")
	assert.Equal(t, OnBoard, d.is().at, "a heading is nothing to open")
	d.click("LIME-A   working").click("LIME-A   working").shows("LIME-A   lime-a honey")
}

func TestClickOnTheBench(t *testing.T) {
	d := drive(t, newShelf(), 80, 24).keys("4", "tab")
	d.click("nutrient").shows("nitrogen wanted").click("nutrient").shows("steps")
	d.click("demand").click("demand")
	assert.True(t, d.is().isTyping(), "the value is open to be typed")
}

func TestClickDoesNotDisturbTyping(t *testing.T) {
	d := drive(t, newShelf(), 80, 24).keys("g", "text:1055")
	before := d.screen()
	d.click("LIME-B")
	assert.Equal(t, before, d.screen())
}
