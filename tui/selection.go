package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/widget"
)

// vessel is the selected one.
func (m Model) vessel() (app.Vessel, bool) {
	id := m.board.Vessel()
	if other, is := m.other(); is {
		id = other.Subject()
	} else if m.at == OnVessel {
		id = m.page.ID()
	}
	return m.snapshot.Find(id)
}

// task is the selected task with its vessel; on a page it is the first that
// the day asks for.
func (m Model) task() (app.Vessel, schedule.Task, bool) {
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
func (m Model) findTask(id intent.Task) (app.Vessel, schedule.Task, bool) {
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

// types tells whether letters are letters now.
func (m Model) types() bool {
	_, types := m.typesOn(intent.Stroke{})
	return types || m.line != nil
}

// moving is an action that moves along the screen in sight.
func moving(a intent.Action) act {
	return func(m Model) (Model, tea.Cmd) { return m.move(a), nil }
}

func (m Model) move(a intent.Action) Model {
	if m.at == OnVessel {
		m.page = widget.Along(m.page, a)
		return m
	}
	m.board = widget.Along(m.board, a)
	return m
}

func (m Model) openPage() Model {
	if v, ok := m.vessel(); ok {
		return m.visit(v.ID())
	}
	return m
}

// visit opens the page of a ferment or a culture.
func (m Model) visit(id string) Model {
	m = m.goTo(OnVessel)
	m.page = m.page.Open(id).Show(m.putOff.without(m.snapshot), m.words)
	return m
}
