// Package board draws the day: on top what to do, under it the vessels.
package board

import (
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Model is the board. Its methods give a changed copy.
type Model struct {
	theme         theme.Theme
	sheet         words.Sheet
	width, height int
	side          Side
	task          taskID // the selected one
	vessel        string
	below         []string
	ways          []Way // where there is no vessel
	open          bool  // something stands in place of the vessels
	foot          string
	laid          *plan // how the rows are shared out, for this sheet, size and theme
}

// New is a board without a size and with nothing on it.
func New(t theme.Theme) Model { return Model{theme: t} }

// SetSize is the board on a screen of that size.
func (m Model) SetSize(width, height int) Model {
	before := m
	m.width, m.height = width, height
	return m.lay().settle(before)
}

// SetSheet is the board with other words on it. What was selected stays
// selected where it is still there.
func (m Model) SetSheet(s words.Sheet) Model {
	before := m
	m.sheet = s
	return m.lay().settle(before)
}

// SetTheme is the board in other colours.
func (m Model) SetTheme(t theme.Theme) Model {
	m.theme = t
	return m.lay()
}

// SetFoot is the board with another last row: keys, a message, a grammar. It
// is drawn from the page's margin on; see layout.PageOf for its room.
func (m Model) SetFoot(row string) Model {
	m.foot = row
	return m
}

// Below is the board with lines in place of the vessels, from their header row
// down to the last row but one; what to do stays where it is, unless the lines
// need its room. Lines begin in column 0.
func (m Model) Below(lines []string) Model {
	m.below, m.open = lines, true
	return m
}

// Above is the board with its vessels again.
func (m Model) Above() Model {
	m.below, m.open = nil, false
	return m
}

// View draws the board in exactly its size, rows parted by line feeds.
func (m Model) View() string {
	switch {
	case m.width < 1 || m.height < 1:
		return ""
	case !layout.Fits(m.width, m.height):
		return m.screen(widget.TooSmall(m.theme, m.width, m.height))
	case len(m.sheet.Vessels) == 0 && len(m.sheet.Tasks) == 0:
		return m.screen(m.empty())
	}
	return m.screen(m.plan().draw())
}

// screen makes rows a screen of the board's size.
func (m Model) screen(rows []string) string {
	out := make([]string, m.height)
	copy(out, rows)
	for i, row := range out {
		out[i] = layout.Cut(row, m.width)
	}
	return strings.Join(out, "\n")
}
