package board_test

import (
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/board"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
)

// model is the board in a frame, moved by the keys of the table.
type model struct {
	on board.Model
	f  screen.Frame
}

func (m model) again() model {
	m.on = m.on.Show(m.f).(board.Model)
	return m
}

func (m model) SetSheet(s words.Sheet) model {
	m.f.Sheet = s
	return m.again()
}

func (m model) SetSize(w, h int) model {
	m.f.Width, m.f.Height = w, h
	return m.again()
}

func (m model) Below(rows []string) model {
	m.f.Below = rows
	return m
}

func (m model) do(a intent.Action, n int) model {
	for range n {
		next, _ := m.on.Do(m.f, a)
		m.on = next.(board.Model)
	}
	return m
}

func (m model) Move(n int) model  { return m.do(intent.Down, n).do(intent.Up, -n) }
func (m model) Page(n int) model  { return m.do(intent.PageDown, n).do(intent.PageUp, -n) }
func (m model) Home() model       { return m.do(intent.Top, 1) }
func (m model) End() model        { return m.do(intent.Bottom, 1) }
func (m model) SwitchSide() model { return m.do(intent.Side, 1) }
func (m model) Above() model      { return m.Below(nil) }

func (m model) Select(vessel string) model {
	m.on = m.on.Select(m.f, vessel)
	return m
}

func (m model) SelectTask(subject, step string, occurrence int) model {
	m.on = m.on.SelectTask(m.f, intent.Task{Subject: subject, Step: step, Occurrence: occurrence})
	return m
}

func (m model) Side() board.Side {
	if m.on.Word(intent.Side) == "to do" {
		return board.Vessels
	}
	return board.Tasks
}

func (m model) Task() (words.Line, bool) { return m.on.Task(m.f) }
func (m model) Vessel() string           { return m.on.Subject() }
func (m model) View() string             { return m.on.View(m.f) }
