// Package board draws the day: on top what to do, under it the vessels.
package board

import (
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/widget"
)

// Model is the board. Its methods give a changed copy.
type Model struct {
	side   Side
	task   taskID // the selected one
	vessel string
	laid   *plan // how the rows were shared out when the board was last shown
}

// New is a board without a day on it.
func New() Model { return Model{laid: &plan{}} }

// view is the board in a frame: how its rows are shared out, and the selection.
type view struct {
	Model
	plan
}

// in is the board in a frame. Neither moving about nor typing changes how the
// rows are shared out: that is worked out when it is shown.
func (m Model) in(f screen.Frame) view {
	p := *m.laid
	if p.Width != f.Width || p.Height != f.Height {
		p = share(f)
	}
	p.Frame = f
	return view{m, p}
}

// Show is the board with another day on it, or in another size. What was selected
// stays selected where it is still there.
func (m Model) Show(f screen.Frame) screen.Screen {
	before := view{m, *m.laid}
	p := share(f)
	m.laid = &p
	return view{m, p}.settle(before)
}

// Do moves the selection, goes to the other list, or opens the selected vessel.
func (m Model) Do(f screen.Frame, a intent.Action) (screen.Screen, intent.Intent) {
	v := m.in(f)
	if n, moves := widget.Along(a, f.Height/3); moves {
		return v.move(n), nil
	}
	switch {
	case a == intent.Side:
		return v.switchSide(), nil
	case a == intent.Open && m.vessel != "":
		return m, intent.Visit{Subject: m.vessel}
	}
	return m, intent.Act{Action: a}
}

// Subject is the id of the selected vessel, empty on an empty board. It may be
// that of a culture where a culture's task is selected.
func (m Model) Subject() string { return m.vessel }

// Word names the list that Tab goes to.
func (m Model) Word(a intent.Action) string {
	if a == intent.Side && m.side == Vessels {
		return "to do"
	}
	return ""
}

// Names lists what can be done on an empty board.
func (m Model) Names(f screen.Frame) []intent.Action {
	if len(f.Sheet.Vessels)+len(f.Sheet.Tasks) > 0 {
		return nil
	}
	return []intent.Action{intent.New, intent.Store, intent.Bench, intent.Guide, intent.Help, intent.Leave}
}

// Lined says that Below has its place: that of the vessels, from their header row
// down to the last row but one; what to do stays where it is, unless the lines
// need its room.
func (m Model) Lined() {}

// View draws the board.
func (m Model) View(f screen.Frame) string {
	return f.Draw(func() []string {
		if len(f.Sheet.Vessels)+len(f.Sheet.Tasks) == 0 {
			return m.in(f).empty()
		}
		return m.in(f).draw()
	})
}
