package board

import (
	"slices"

	"cellar/jugkeeper/schedule/words"
)

// taskID is what a task is known by, whatever its place in the list.
type taskID struct {
	subject, step string
	occurrence    int
}

func idOf(l words.Line) taskID { return taskID{l.Subject, l.Task.Step, l.Task.Occurrence} }

// Side is one of the two lists.
type Side int

// The sides.
const (
	Tasks Side = iota
	Vessels
)

// Move moves the selection by n on its side.
func (m Model) Move(n int) Model {
	if m.side == Vessels {
		return m.onVessel(m.vesselIndex() + n)
	}
	return m.onTask(m.taskIndex() + n)
}

// Page moves the selection by n screens.
func (m Model) Page(n int) Model { return m.Move(n * max(m.height/3, 1)) }

// Home selects the first of the side.
func (m Model) Home() Model { return m.Move(-len(m.lines()) - len(m.sheet.Vessels)) }

// End selects the last of the side.
func (m Model) End() Model { return m.Move(len(m.lines()) + len(m.sheet.Vessels)) }

// SwitchSide goes from what to do to the vessels and back, as far as there is
// anything on the other.
func (m Model) SwitchSide() Model {
	switch {
	case m.side == Tasks && len(m.sheet.Vessels) > 0:
		m.side = Vessels
		return m.onVessel(m.vesselIndex())
	case m.side == Vessels && len(m.lines()) > 0:
		m.side = Tasks
		return m.onTask(m.firstLineOf(m.vessel))
	}
	return m
}

// Select selects a vessel, and the first task of it, on the side the selection
// is on if that has it.
func (m Model) Select(vessel string) Model {
	if i := m.firstLineOf(vessel); m.side == Tasks && i >= 0 {
		return m.onTask(i)
	}
	if i := m.indexOfVessel(vessel); i >= 0 {
		m.side = Vessels
		return m.onVessel(i)
	}
	return m
}

// SelectTask selects a task of a vessel.
func (m Model) SelectTask(subject, step string, occurrence int) Model {
	i := slices.IndexFunc(m.lines(), func(l words.Line) bool { return idOf(l) == taskID{subject, step, occurrence} })
	if i < 0 {
		return m
	}
	m.side = Tasks
	return m.onTask(i)
}

// Side is the side the selection moves on.
func (m Model) Side() Side { return m.side }

// Vessel is the id of the selected vessel, empty on an empty board. It may be
// that of a culture where a culture's task is selected.
func (m Model) Vessel() string { return m.vessel }

// Task is the selected task; where the selection is among the vessels, the
// first task of the selected one. It is not ok where there is none.
func (m Model) Task() (line words.Line, ok bool) {
	lines := m.lines()
	i := m.taskIndex()
	if m.side == Vessels {
		i = m.firstLineOf(m.vessel)
	}
	if i < 0 || i >= len(lines) {
		return words.Line{}, false
	}
	return lines[i], true
}

// settle finds the selection again after the sheet or the size has changed: by
// its name, else by its place. What was settled by then makes place for what
// comes next.
func (m Model) settle(before Model) Model {
	lines := m.lines()
	if len(m.sheet.Vessels) > 0 && (len(lines) == 0 || m.sheet.Calm() && before.fresh()) {
		m.side = Vessels
	}
	if m.side == Vessels {
		i := m.indexOfVessel(m.vessel)
		if i < 0 {
			i = max(before.indexOfVessel(before.vessel), 0)
		}
		return m.onVessel(i)
	}
	i := slices.IndexFunc(lines, func(l words.Line) bool { return idOf(l) == m.task })
	if was, ok := before.Task(); i < 0 || ok && block(was.Word) < block(lines[i].Word) {
		i = before.taskIndex()
	}
	return m.onTask(max(i, 0))
}

// fresh tells whether nothing was ever selected.
func (m Model) fresh() bool { return m.vessel == "" }

func (m Model) onTask(i int) Model {
	lines := m.lines()
	if len(lines) == 0 {
		return m
	}
	l := lines[min(max(i, 0), len(lines)-1)]
	m.task, m.vessel = idOf(l), l.Subject
	return m
}

func (m Model) onVessel(i int) Model {
	vs := m.sheet.Vessels
	if len(vs) == 0 {
		m.vessel = ""
		return m
	}
	m.vessel = vs[min(max(i, 0), len(vs)-1)].ID
	return m
}

// taskIndex is the place of the selected task, of the first one of its vessel
// where it is not shown, else the first place.
func (m Model) taskIndex() int {
	i := slices.IndexFunc(m.lines(), func(l words.Line) bool { return idOf(l) == m.task })
	if i < 0 {
		i = m.firstLineOf(m.vessel)
	}
	return max(i, 0)
}

func (m Model) firstLineOf(vessel string) int {
	return slices.IndexFunc(m.lines(), func(l words.Line) bool { return l.Subject == vessel })
}

func (m Model) vesselIndex() int { return max(m.indexOfVessel(m.vessel), 0) }

func (m Model) indexOfVessel(id string) int {
	return slices.IndexFunc(m.sheet.Vessels, func(r words.Row) bool { return r.ID == id })
}
