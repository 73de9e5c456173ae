// Package bench is the bench: the figures as forms, worked out while a value
// is typed, with what was assumed and where they come from.
package bench

import (
	"maps"

	figures "cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/schedule/desk"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Model is the bench. Its methods give a changed copy.
type Model struct {
	theme         theme.Theme
	width, height int
	all           []figures.Figure
	figure        int // the one that is open
	way           int
	field         int // the one under the cursor
	listing       bool
	top           int               // of what stands under the form
	values        map[string]string // what was set, by figure and key
	vessel        desk.Vessel
	has           bool // there is a vessel to take values from
	typing        bool
	text          widget.Text
	foot          string
}

// New is a bench without a size.
func New(t theme.Theme) Model {
	return Model{theme: t, all: figures.Figures(), values: map[string]string{}}
}

// SetSize is the bench on a screen of that size.
func (m Model) SetSize(width, height int) Model {
	m.width, m.height = width, height
	return m
}

// SetTheme is the bench in other colours.
func (m Model) SetTheme(t theme.Theme) Model {
	m.theme = t
	return m
}

// SetFoot is the bench with another last row.
func (m Model) SetFoot(row string) Model {
	m.foot = row
	return m
}

// Open is the bench with the values of a vessel. What was set by hand before
// stays.
func (m Model) Open(v desk.Vessel, has bool) Model {
	m.vessel, m.has = v, has
	return m
}

// Show is the bench with its vessel as a snapshot has it.
func (m Model) Show(s desk.Snapshot) Model {
	if v, ok := s.Find(m.vessel.ID()); m.has && ok {
		m.vessel = v
	}
	return m
}

// Subject is the vessel whose values stand in the forms.
func (m Model) Subject() (id string, ok bool) { return m.vessel.ID(), m.has }

// Typing tells whether a value is being typed, so that letters are letters.
func (m Model) Typing() bool { return m.typing }

// Listing tells whether the cursor stands in the list of figures.
func (m Model) Listing() bool { return m.listing }

func (m Model) open() figures.Figure { return m.all[m.figure] }

func (m Model) keys() []figures.Key { return m.open().Ways[m.way].Keys }

// Move goes to another field, or to another figure in the list.
func (m Model) Move(n int) Model {
	if m.listing {
		return m.choose(m.figure + n)
	}
	m.field = clamp(m.field+n, len(m.keys()))
	return m
}

// Page scrolls what stands under the form.
func (m Model) Page(n int) Model {
	last := 0
	if layout.Fits(m.width, m.height) {
		_, under, room := m.parts(layout.PageOf(m.width), m.end())
		last = max(len(under)-room, 0)
	}
	m.top = max(0, min(m.top+n*max(m.height/2, 1), last))
	return m
}

// Home goes to the first field or figure, End to the last.
func (m Model) Home() Model { return m.Move(-len(m.all) - len(m.keys())) }

// End goes to the last field or figure.
func (m Model) End() Model { return m.Move(len(m.all) + len(m.keys())) }

func (m Model) choose(figure int) Model {
	m.figure = clamp(figure, len(m.all))
	m.way, m.field, m.top = 0, 0, 0
	return m
}

// Side goes to the list of figures and back.
func (m Model) Side() Model {
	m.listing = !m.listing
	return m
}

// Another takes the next set of keys of the figure, where it has several.
func (m Model) Another(n int) Model {
	ways := len(m.open().Ways)
	m.way, m.field = (m.way+n+ways)%ways, 0
	return m
}

func clamp(i, n int) int { return max(0, min(i, n-1)) }

// Enter opens the field under the cursor, or the figure of the list.
func (m Model) Enter() Model {
	if m.listing {
		return m.Side()
	}
	text, _ := m.value(m.keys()[m.field])
	m.typing, m.text = true, widget.NewText(text).Selected()
	return m
}

// Press types into the open field. Enter keeps the value, Esc leaves it as it
// was; up and down keep it and go on.
func (m Model) Press(s intent.Stroke) Model {
	switch s.Name {
	case "enter":
		return m.kept()
	case "esc":
		m.typing = false
		return m
	case "up":
		return m.kept().Move(-1)
	case "down":
		return m.kept().Move(1)
	}
	m.text = m.text.Press(s)
	return m
}

func (m Model) kept() Model {
	m.typing = false
	m.values = maps.Clone(m.values)
	m.values[m.id(m.keys()[m.field])] = m.text.String()
	return m
}

func (m Model) id(k figures.Key) string { return m.open().Name + " " + k.Name }

// Entry is the result as a line for the vessel's log.
func (m Model) Entry() (line string, ok bool) {
	if answer, err := m.answer(); err == nil && m.has {
		return answer.Entry()
	}
	return "", false
}

// answer works the figure out with what stands in the fields.
func (m Model) answer() (figures.Answer, error) {
	given := map[string]string{}
	for i, k := range m.keys() {
		text, _ := m.value(k)
		if m.typing && i == m.field {
			text = m.text.String()
		}
		if text != "" {
			given[k.Name] = text
		}
	}
	return m.open().Work(given)
}
