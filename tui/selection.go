package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/desk"
	"cellar/jugkeeper/tui/intent"
)

// vessel is the selected one.
func (m Model) vessel() (desk.Vessel, bool) {
	if m.onBench {
		id, _ := m.bench.Subject()
		return m.snapshot.Find(id)
	}
	if m.onPage {
		return m.snapshot.Find(m.page.ID())
	}
	return m.snapshot.Find(m.board.Vessel())
}

// task is the selected task with its vessel; on a page it is the first that
// the day asks for.
func (m Model) task() (desk.Vessel, schedule.Task, bool) {
	v, ok := m.vessel()
	if !ok {
		return v, schedule.Task{}, false
	}
	if !m.onPage {
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
	case m.onBeside:
		return OnBeside
	case m.onBench:
		return OnBench
	case m.onPage:
		return OnVessel
	}
	return OnBoard
}

func (m Model) move(n int) Model {
	switch {
	case m.onBeside:
		m.compare = m.compare.Move(n)
	case m.onBench:
		m.bench = m.bench.Move(n)
	case m.onPage:
		m.page = m.page.Move(n)
	default:
		m.board = m.board.Move(n)
	}
	return m
}

// wheeled moves by the wheel of a mouse, unless someone is typing.
func (m Model) wheeled(msg tea.MouseMsg) Model {
	switch {
	case m.line != nil || m.help || !m.have:
		return m
	case msg.Button == tea.MouseButtonWheelUp:
		return m.move(-1)
	case msg.Button == tea.MouseButtonWheelDown:
		return m.move(1)
	}
	return m
}

func (m Model) turn(n int) Model {
	switch {
	case m.onBeside:
		m.compare = m.compare.Page(n)
	case m.onBench:
		m.bench = m.bench.Page(n)
	case m.onPage:
		m.page = m.page.Page(n)
	default:
		m.board = m.board.Page(n)
	}
	return m
}

func (m Model) top() Model {
	switch {
	case m.onBench:
		m.bench = m.bench.Home()
	case m.onPage:
		m.page = m.page.Home()
	default:
		m.board = m.board.Home()
	}
	return m
}

func (m Model) bottom() Model {
	switch {
	case m.onBench:
		m.bench = m.bench.End()
	case m.onPage:
		m.page = m.page.End()
	default:
		m.board = m.board.End()
	}
	return m
}

func (m Model) openPage() Model {
	if v, ok := m.vessel(); ok {
		m.onPage = true
		m.page = m.page.Open(v.ID()).Show(m.putOff.without(m.snapshot), m.words)
	}
	return m
}
