// Package board draws the day: on top what to do, under it the vessels.
package board

import (
	"cellar/jugkeeper/schedule/sheet"
	"cellar/jugkeeper/tui/theme"
)

// Side is one of the two lists.
type Side int

// The sides.
const (
	Tasks Side = iota
	Vessels
)

// Model is the board. Its methods give a changed copy.
type Model struct {
	theme         theme.Theme
	sheet         sheet.Sheet
	width, height int
	side          Side
	task          taskID // the selected one
	vessel        string
	below         []string
	open          bool // something stands in place of the vessels
	foot          string
}

// taskID is what a task is known by, whatever its place in the list.
type taskID struct {
	subject, step string
	occurrence    int
}

// New is a board without a size and with nothing on it.
func New(t theme.Theme) Model { return Model{theme: t} }

// SetSize is the board on a screen of that size.
func (m Model) SetSize(width, height int) Model {
	m.width, m.height = width, height
	return m
}

// SetSheet is the board with other words on it. What was selected stays
// selected where it is still there.
func (m Model) SetSheet(s sheet.Sheet) Model {
	m.sheet = s
	return m
}

// SetTheme is the board in other colours.
func (m Model) SetTheme(t theme.Theme) Model {
	m.theme = t
	return m
}

// SetFoot is the board with another last row: keys, a message, a grammar. It
// is drawn from the page's margin on; see layout.PageOf for its room.
func (m Model) SetFoot(row string) Model {
	m.foot = row
	return m
}

// Below is the board with lines in place of the vessels, from their header row
// down to the last row but one; what to do stays where it is. Lines begin in
// column 0.
func (m Model) Below(lines []string) Model {
	m.below, m.open = lines, true
	return m
}

// Above is the board with its vessels again.
func (m Model) Above() Model {
	m.below, m.open = nil, false
	return m
}

// Move moves the selection by n on its side.
func (m Model) Move(n int) Model { return m }

// Page moves the selection by n screens.
func (m Model) Page(n int) Model { return m }

// Home selects the first of the side.
func (m Model) Home() Model { return m }

// End selects the last of the side.
func (m Model) End() Model { return m }

// SwitchSide goes from what to do to the vessels and back.
func (m Model) SwitchSide() Model { return m }

// Select selects a vessel, and the first task of it.
func (m Model) Select(vessel string) Model { return m }

// SelectTask selects a task of a vessel.
func (m Model) SelectTask(subject, step string, occurrence int) Model { return m }

// Side is the side the selection moves on.
func (m Model) Side() Side { return m.side }

// Vessel is the id of the selected vessel, empty on an empty board. It may be
// that of a culture where a culture's task is selected.
func (m Model) Vessel() string { return m.vessel }

// Task is the selected task; where the selection is among the vessels, the
// first task of the selected one. It is not ok where there is none.
func (m Model) Task() (line sheet.Line, ok bool) { return sheet.Line{}, false }

// View draws the board in exactly its size, rows parted by line feeds.
func (m Model) View() string { return "" }
