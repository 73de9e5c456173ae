package board

import (
	"slices"
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/screen"
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

// move moves the selection by n on its side.
func (m view) move(n int) Model {
	if m.side == Vessels {
		return m.onVessel(m.vesselIndex() + n)
	}
	return m.onTask(m.taskIndex() + n)
}

// switchSide goes from what to do to the vessels and back, as far as there is
// anything on the other.
func (m view) switchSide() Model {
	switch {
	case m.side == Tasks && len(m.Sheet.Vessels) > 0:
		m.side = Vessels
		return m.onVessel(m.vesselIndex())
	case m.side == Vessels && len(m.lines()) > 0:
		m.side = Tasks
		return m.onTask(m.firstLineOf(m.vessel))
	}
	return m.Model
}

// Select selects a vessel, and the first task of it, on the side the selection
// is on if that has it.
func (m Model) Select(f screen.Frame, vessel string) Model {
	v := m.in(f)
	if i := v.firstLineOf(vessel); m.side == Tasks && i >= 0 {
		return v.onTask(i)
	}
	if i := v.indexOfVessel(vessel); i >= 0 {
		v.side = Vessels
		return v.onVessel(i)
	}
	return m
}

// SelectTask selects a task of a vessel; one that there is no room for is selected
// with its vessel.
func (m Model) SelectTask(f screen.Frame, subject, step string, occurrence int) Model {
	v := m.in(f)
	i := slices.IndexFunc(v.lines(), func(l words.Line) bool { return idOf(l) == taskID{subject, step, occurrence} })
	if i < 0 {
		return m.Select(f, subject)
	}
	v.side = Tasks
	return v.onTask(i)
}

// Task is the selected task; where the selection is among the vessels, the
// first task of the selected one. It is not ok where there is none.
func (m Model) Task(f screen.Frame) (line words.Line, ok bool) { return m.in(f).selected() }

func (m view) selected() (line words.Line, ok bool) {
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
func (m view) settle(before view) Model {
	lines := m.lines()
	if len(m.Sheet.Vessels) > 0 && (len(lines) == 0 || m.Sheet.Calm() && before.fresh()) {
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
	if was, ok := before.selected(); i < 0 || ok && block(was.Word) < block(lines[i].Word) {
		i = before.taskIndex()
	}
	return m.onTask(max(i, 0))
}

// fresh tells whether nothing was ever selected.
func (m view) fresh() bool { return m.vessel == "" }

func (m view) onTask(i int) Model {
	lines := m.lines()
	if len(lines) == 0 {
		return m.Model
	}
	l := lines[min(max(i, 0), len(lines)-1)]
	m.task, m.vessel = idOf(l), l.Subject
	return m.Model
}

func (m view) onVessel(i int) Model {
	vs := m.Sheet.Vessels
	if len(vs) == 0 {
		m.vessel = ""
		return m.Model
	}
	m.vessel = vs[min(max(i, 0), len(vs)-1)].ID
	return m.Model
}

// taskIndex is the place of the selected task, of the first one of its vessel
// where it is not shown, else the first place.
func (m view) taskIndex() int {
	i := slices.IndexFunc(m.lines(), func(l words.Line) bool { return idOf(l) == m.task })
	if i < 0 {
		i = m.firstLineOf(m.vessel)
	}
	return max(i, 0)
}

func (m view) firstLineOf(vessel string) int {
	return slices.IndexFunc(m.lines(), func(l words.Line) bool { return l.Subject == vessel })
}

func (m view) vesselIndex() int { return max(m.indexOfVessel(m.vessel), 0) }

func (m view) indexOfVessel(id string) int {
	return slices.IndexFunc(m.Sheet.Vessels, func(r words.Row) bool { return r.ID == id })
}

// Seek selects the next task or vessel whose names hold a text, from the selection
// on and round.
func (m Model) Seek(f screen.Frame, text string, again bool) (screen.Screen, bool) {
	var found []func() Model
	var texts []string
	from := -1
	place := func(here bool, by func() Model, names ...string) {
		if here && from < 0 {
			from = len(found)
		}
		found, texts = append(found, by), append(texts, strings.ToLower(strings.Join(names, " ")))
	}
	line, has := m.Task(f)
	for _, l := range f.Sheet.Tasks {
		id := idOf(l)
		place(has && id == idOf(line), func() Model { return m.SelectTask(f, id.subject, id.step, id.occurrence) }, l.Tag, l.Subject, l.Act, l.Of)
	}
	for _, r := range f.Sheet.Vessels {
		v, _ := f.Snapshot.Find(r.ID)
		place(r.ID == m.vessel, func() Model { return m.Select(f, r.ID) }, r.Tag, r.ID, v.Ferment.Name, r.HoneyAndYeast, r.Stage)
	}
	from = max(from, 0)
	if again {
		from++
	}
	for i := range texts {
		if at := (from + i) % len(texts); strings.Contains(texts[at], strings.ToLower(text)) {
			return found[at](), true
		}
	}
	return m, false
}
