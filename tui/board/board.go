// Package board is the screen of the day: tasks on top, vessels below.
package board

import (
	"slices"
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/widget"
)

// Model is the board. Its methods give a changed copy.
type Model struct {
	side   Side
	task   intent.Task // the selected task
	vessel string
	laid   *plan // how the rows were divided when the board was last shown
}

// New returns an empty board.
func New() Model { return Model{laid: &plan{}} }

// view is the board in a frame, with its rows divided and its selection.
type view struct {
	Model
	plan
}

// in returns the board in a frame, with rows divided as when it was last shown.
func (m Model) in(f screen.Frame) view {
	p := *m.laid
	if p.Width != f.Width || p.Height != f.Height {
		p = share(f)
	}
	p.Frame = f
	return view{m, p}
}

// Show returns the board for another day or size; the selection stays on its item, if still there.
func (m Model) Show(f screen.Frame) screen.Screen {
	before := view{m, *m.laid}
	p := share(f)
	m.laid = &p
	return view{m, p}.settle(before)
}

func (m Model) Do(f screen.Frame, a intent.Action) (screen.Screen, intent.Intent) {
	v := m.in(f)
	if n, moves := widget.Steps(a, f.Height/3); moves {
		return v.move(n), nil
	}
	switch {
	case a == intent.Side:
		return v.switchSide(), nil
	case a == intent.Open && m.vessel != "":
		return m, intent.OpenPage{Subject: m.vessel}
	}
	return m, intent.Act{Action: a}
}

// Subject returns the id of the selected vessel or culture, empty on an empty board.
func (m Model) Subject() string { return m.vessel }

func (m Model) Word(a intent.Action) string {
	if a == intent.Side && m.side == Vessels {
		return "to do"
	}
	return ""
}

// Names returns the keys for an empty board.
func (m Model) Names(f screen.Frame) []intent.Action {
	if !f.Sheet.Empty() {
		return nil
	}
	return []intent.Action{intent.New, intent.Honey, intent.Bench, intent.Guide, intent.Help, intent.Leave}
}

// DrawsBelow says that the board draws Below itself, in place of the vessels.
func (m Model) DrawsBelow() {}

func (m Model) View(f screen.Frame) string {
	return f.Draw(func() []string {
		if f.Sheet.Empty() {
			return m.in(f).empty()
		}
		return m.in(f).draw()
	})
}

func idOf(l words.Line) intent.Task {
	return intent.Task{Subject: l.Subject, Step: l.Task.Step, Occurrence: l.Task.Occurrence}
}

// Side is one of the two lists.
type Side int

// The sides.
const (
	Tasks Side = iota
	Vessels
)

func (m view) move(n int) Model {
	if m.side == Vessels {
		return m.onVessel(max(m.indexOfVessel(m.vessel), 0) + n)
	}
	return m.onTask(m.taskIndex() + n)
}

// switchSide goes from the tasks to the vessels and back, if there are any.
func (m view) switchSide() Model {
	switch {
	case m.side == Tasks && len(m.Sheet.Vessels) > 0:
		m.side = Vessels
		return m.onVessel(m.indexOfVessel(m.vessel))
	case m.side == Vessels && len(m.lines()) > 0:
		m.side = Tasks
		return m.onTask(m.firstLineOf(m.vessel))
	}
	return m.Model
}

// Select selects a vessel, and its first task if the selection is among the tasks.
func (m Model) Select(f screen.Frame, vessel string) Model {
	v := m.in(f)
	i := slices.IndexFunc(v.lines(), func(l words.Line) bool { return l.Subject == vessel })
	if i < 0 { // it has only a shared line
		i = v.firstLineOf(vessel)
	}
	if m.side == Tasks && i >= 0 {
		v.vessel = vessel
		return v.onTask(i)
	}
	if i := v.indexOfVessel(vessel); i >= 0 {
		v.side = Vessels
		return v.onVessel(i)
	}
	return m
}

// SelectTask selects a task, or its vessel if the task has no row.
func (m Model) SelectTask(f screen.Frame, to intent.Task) Model {
	v := m.in(f)
	i := slices.IndexFunc(v.lines(), func(l words.Line) bool { return idOf(l) == to })
	if i < 0 {
		return m.Select(f, to.Subject)
	}
	v.side, v.vessel = Tasks, to.Subject
	return v.onTask(i)
}

// Lead selects a task, or a vessel.
func (m Model) Lead(f screen.Frame, to intent.Task) screen.Screen {
	if to.Step == "" {
		return m.Select(f, to.Subject)
	}
	return m.SelectTask(f, to)
}

// Task returns the selected task, or the first of the selected vessel; not ok without one.
func (m Model) Task(f screen.Frame) (line words.Line, ok bool) { return m.in(f).selected() }

func (m view) selected() (line words.Line, ok bool) {
	lines := m.lines()
	i := m.taskIndex()
	if m.side == Vessels { // also a task without a row of its own
		if i = m.firstLineOf(m.vessel); i < 0 {
			lines = words.Shared(m.Sheet.Tasks)
			i = slices.IndexFunc(lines, func(l words.Line) bool { return l.IsOf(m.vessel) && l.Word.Wants() })
		}
		if i >= 0 && lines[i].Round != nil { // its own look, which asks
			lines = m.Sheet.Tasks
			i = slices.IndexFunc(lines, func(l words.Line) bool { return l.Subject == m.vessel && l.Task.Round })
		}
	}
	if i < 0 || i >= len(lines) {
		return words.Line{}, false
	}
	return lines[i], true
}

// settle restores the selection after the sheet or the size has changed: by its name, else by its place. A task that
// was settled gives its place to the next.
func (m view) settle(before view) Model {
	lines := m.lines()
	if len(m.Sheet.Vessels) > 0 && (len(lines) == 0 || m.Sheet.Calm() && before.vessel == "") {
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
	if was, ok := before.selected(); i < 0 || ok && group(was.Word) < group(lines[i].Word) {
		i = before.taskIndex()
	}
	return m.onTask(max(i, 0))
}

func (m view) onTask(i int) Model {
	lines := m.lines()
	if len(lines) == 0 {
		return m.Model
	}
	l := lines[min(max(i, 0), len(lines)-1)]
	if m.task = idOf(l); !l.IsOf(m.vessel) { // on a shared line the selected vessel stays
		m.vessel = l.Subject
	}
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

// taskIndex returns the index of the selected task, else of the first of its vessel, else 0.
func (m view) taskIndex() int {
	i := slices.IndexFunc(m.lines(), func(l words.Line) bool { return idOf(l) == m.task })
	if i < 0 {
		i = m.firstLineOf(m.vessel)
	}
	return max(i, 0)
}

func (m view) firstLineOf(vessel string) int {
	return slices.IndexFunc(m.lines(), func(l words.Line) bool { return l.IsOf(vessel) })
}

func (m view) indexOfVessel(id string) int {
	return slices.IndexFunc(m.Sheet.Vessels, func(r words.Row) bool { return r.ID == id })
}

// Seek selects the next task or vessel whose names contain a text; after the last comes the first.
func (m Model) Seek(f screen.Frame, text string, again bool) (screen.Screen, bool) {
	var found []func() Model
	var texts []string
	from := -1
	place := func(here bool, by func() Model, names ...string) {
		if here && from < 0 {
			from = len(found)
		}
		found, texts = append(found, by), append(texts, strings.Join(names, " "))
	}
	line, has := m.Task(f)
	for _, l := range f.Sheet.Tasks {
		id := idOf(l)
		place(has && id == idOf(line), func() Model { return m.SelectTask(f, id) }, l.Tag, l.Subject, l.Act, l.Of)
	}
	for _, r := range f.Sheet.Vessels {
		v, _ := f.Snapshot.Find(r.ID)
		place(r.ID == m.vessel, func() Model { return m.Select(f, r.ID) }, r.Tag, r.ID, v.Ferment.Name, r.HoneyAndYeast, r.Stage)
	}
	at, is := widget.FindFrom(max(from, 0), len(texts), again, func(i int) bool { return widget.ContainsFold(texts[i], text) })
	if !is {
		return m, false
	}
	return found[at](), true
}
