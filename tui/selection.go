package tui

import (
	"fmt"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/tui/entry"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
)

func (m Model) vessel() (app.Vessel, bool) { return m.snapshot.Find(m.current().Subject()) }

func (m Model) task() (app.Vessel, schedule.Task, bool) {
	v, ok := m.vessel()
	if !ok {
		return v, schedule.Task{}, false
	}
	if s, is := m.current().(screen.HasTask); is {
		line, has := s.Task(m.frame())
		own, is := ferment.FirstWhere(v.Day.Tasks, func(t schedule.Task) bool { return t.Step == line.Task.Step && t.State == line.Task.State })
		if is && has && line.Subject != v.ID() {
			return v, own, true // its own task of a shared line
		}
		return v, line.Task, has
	}
	for _, line := range m.words.Lines(v.ID()) {
		return v, line.Task, true
	}
	return v, schedule.Task{}, false
}

func (m Model) findTask(id intent.Task) (app.Vessel, schedule.Task, bool) {
	v, _ := m.snapshot.Find(id.Subject)
	t, ok := ferment.FirstWhere(v.Day.Tasks, func(t schedule.Task) bool { return t.Step == id.Step && t.Occurrence == id.Occurrence })
	return v, t, ok
}

// place returns where keys go: the line, a refusal, else the screen.
func (m Model) place() Place {
	if _, refused := m.line.(entry.Refusal); refused {
		return InRefusal
	}
	if m.line != nil {
		return InLine
	}
	return m.at
}

// isTyping reports whether letters are typed now and are no keys.
func (m Model) isTyping() bool {
	_, types := m.typesOn(intent.Stroke{})
	return types || m.line != nil
}

// seek selects the next place of a text; after the last comes the first.
func (m Model) seek(want intent.Seek) Model {
	if want.Again {
		m.line = nil
	}
	if want.Text == "" {
		return m
	}
	m.sought = want.Text
	if sought, is := m.current().(screen.Searchable); is {
		if next, found := sought.Seek(m.frame(), want.Text, want.Again); found {
			return m.with(m.at, next)
		}
	}
	if m.line == nil {
		m.message = no("nothing here is called %q", want.Text)
	} else {
		m.lacks = fmt.Sprintf("nothing here is called %q", want.Text)
	}
	return m
}

// offOf returns the note by which a task is put off.
func (m Model) offOf(subject string, t schedule.Task) intent.Draft {
	return intent.Draft{Kind: intent.Postponed, Subject: subject, Step: fmt.Sprintf("%s %d", t.Step, t.Occurrence), Cellar: m.options.Cellar}
}

// withoutPutOff removes postponed tasks from the snapshot, unless they are dangerous now.
func (m Model) withoutPutOff() app.Snapshot {
	s := m.snapshot
	if !slices.ContainsFunc(m.drafts, func(d intent.Draft) bool { return d.Kind == intent.Postponed }) {
		return s
	}
	for _, vs := range []*[]app.Vessel{&s.Vessels, &s.Cultures} {
		*vs = slices.Clone(*vs)
		for i, v := range *vs {
			(*vs)[i].Day.Tasks = slices.DeleteFunc(slices.Clone(v.Day.Tasks), func(t schedule.Task) bool {
				off := slices.IndexFunc(m.drafts, m.offOf(v.ID(), t).Same)
				return off >= 0 && s.At.Before(m.drafts[off].Typed) && !t.Danger
			})
		}
	}
	return s
}

func tomorrow(now time.Time, s ferment.Settings) time.Time {
	y, mo, d := now.Date()
	return time.Date(y, mo, d+1, int(s.Morning/time.Hour), int(s.Morning%time.Hour/time.Minute), 0, 0, now.Location())
}

// pointer handles the mouse: the wheel moves, a click selects, a second click opens.
func (m Model) pointer(msg tea.MouseMsg) (Model, tea.Cmd) {
	if m.line != nil || m.help || !m.have || m.isTyping() {
		return m, nil
	}
	if a, turns := wheel[msg.Button]; turns {
		return m.ask(a)
	}
	if msg.Button != tea.MouseButtonLeft || msg.Action != tea.MouseActionPress {
		return m, nil
	}
	switch rows := m.rows(); {
	case msg.Y < 0 || msg.Y >= len(rows):
		return m, nil
	case barred(rows[msg.Y]):
		return m.ask(intent.Open)
	}
	return m.pointed(msg.Y), nil
}

var wheel = map[tea.MouseButton]intent.Action{tea.MouseButtonWheelUp: intent.Up, tea.MouseButtonWheelDown: intent.Down}

// farthest is the most steps to find what was clicked.
const farthest = 100

// pointed moves the cursor to the row that was clicked, or to one with the same text if the list scrolls, as far as
// keys lead, on either side.
func (m Model) pointed(y int) Model {
	want := unbarred(m.rows()[y])
	found, like := m, false
	other, _ := m.ask(intent.Side)
	for _, at := range []Model{m, other} {
		for _, a := range []intent.Action{intent.Down, intent.Up} {
			for n := 0; n < farthest; n++ {
				for i, row := range at.rows() {
					switch {
					case !barred(row) || unbarred(row) != want || want == "":
					case i == y:
						return at
					case !like:
						found, like = at, true
					}
				}
				next, _ := at.ask(a)
				if next.screenView() == at.screenView() {
					break
				}
				at = next
			}
		}
	}
	return found
}

func (m Model) rows() []string { return strings.Split(ansi.Strip(m.screenView()), "\n") }

const bar = "▌"

func barred(row string) bool { return strings.HasPrefix(row, bar) }

func unbarred(row string) string { return strings.TrimSpace(strings.TrimPrefix(row, bar)) }
