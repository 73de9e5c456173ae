package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/desk"
	"cellar/jugkeeper/tui/intent"
)

// vessel is the selected one.
func (m Model) vessel() (desk.Vessel, bool) {
	id := m.board.Vessel()
	switch m.at {
	case OnBench:
		id, _ = m.bench.Subject()
	case OnVessel:
		id = m.page.ID()
	}
	return m.snapshot.Find(id)
}

// task is the selected task with its vessel; on a page it is the first that
// the day asks for.
func (m Model) task() (desk.Vessel, schedule.Task, bool) {
	v, ok := m.vessel()
	if !ok {
		return v, schedule.Task{}, false
	}
	if m.at != OnVessel {
		line, has := m.board.Task()
		return v, line.Task, has
	}
	for _, line := range m.words.Lines(v.ID()) {
		return v, line.Task, true
	}
	return v, schedule.Task{}, false
}

// find gives a task as it stands in the snapshot.
func (m Model) findTask(id intent.Task) (desk.Vessel, schedule.Task, bool) {
	v, ok := m.snapshot.Find(id.Subject)
	if !ok {
		return v, schedule.Task{}, false
	}
	for _, t := range v.Day.Tasks {
		if t.Step == id.Step && t.Occurrence == id.Occurrence {
			return v, t, true
		}
	}
	return v, schedule.Task{}, false
}

// place is where keys are matched.
func (m Model) place() Place {
	switch {
	case m.line != nil && isRefusal(m.line):
		return InRefusal
	case m.line != nil:
		return InLine
	}
	return m.at
}

// scroller is a screen that is moved along.
type scroller[M any] interface {
	Move(n int) M
	Page(n int) M
	Home() M
	End() M
}

// along is the screen moved as an action says.
func along[M scroller[M]](screen M, a intent.Action) M {
	switch a {
	case intent.Up:
		return screen.Move(-1)
	case intent.Down:
		return screen.Move(1)
	case intent.PageUp:
		return screen.Page(-1)
	case intent.PageDown:
		return screen.Page(1)
	case intent.Top:
		return screen.Home()
	}
	return screen.End()
}

// moving is an action that moves along the screen in sight.
func moving(a intent.Action) act {
	return func(m Model) (Model, tea.Cmd) { return m.move(a), nil }
}

func (m Model) move(a intent.Action) Model {
	switch m.at {
	case OnBeside:
		m.compare = along(m.compare, a)
	case OnBench:
		m.bench = along(m.bench, a)
	case OnVessel:
		m.page = along(m.page, a)
	default:
		m.board = along(m.board, a)
	}
	return m
}

// wheeled moves by the wheel of a mouse, unless someone is typing.
func (m Model) wheeled(msg tea.MouseMsg) Model {
	switch {
	case m.line != nil || m.help || !m.have:
		return m
	case msg.Button == tea.MouseButtonWheelUp:
		return m.move(intent.Up)
	case msg.Button == tea.MouseButtonWheelDown:
		return m.move(intent.Down)
	}
	return m
}

func (m Model) openPage() Model {
	if v, ok := m.vessel(); ok {
		m.at = OnVessel
		m.page = m.page.Open(v.ID()).Show(m.putOff.without(m.snapshot), m.words)
	}
	return m
}
