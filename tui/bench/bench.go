// Package bench is the bench: the figures as forms, worked out while a value
// is typed, with what was assumed and where they come from.
package bench

import (
	"maps"

	figures "cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
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
	vessel        app.Vessel
	has           bool // there is a vessel to take values from
	units         measure.System
	typing        bool
	text          widget.Text
}

// New is a bench without a size.
func New(t theme.Theme) Model {
	return Model{theme: t, all: figures.Figures(), values: map[string]string{}}
}

// SetSize is the bench on a screen of that size.
func (m Model) SetSize(width, height int) screen.Screen {
	m.width, m.height = width, height
	return m
}

// SetTheme is the bench in other colours.
func (m Model) SetTheme(t theme.Theme) screen.Screen {
	m.theme = t
	return m
}

// Open is the bench with the values of a vessel. What was set by hand before
// stays.
func (m Model) Open(v app.Vessel, has bool) Model {
	m.vessel, m.has = v, has
	return m
}

// Show is the bench with its vessel as a snapshot has it.
func (m Model) Show(s app.Snapshot, _ words.Sheet) screen.Screen {
	m.units = s.Cellar.Settings.Units
	if v, ok := s.Find(m.vessel.ID()); m.has && ok {
		m.vessel = v
	}
	return m
}

// Subject is the vessel whose values stand in the forms.
func (m Model) Subject() string {
	if !m.has {
		return ""
	}
	return m.vessel.ID()
}

// Typing tells whether a value is being typed, so that letters are letters.
func (m Model) Typing() bool { return m.typing }

func (m Model) open() figures.Figure { return m.all[m.figure] }

func (m Model) keys() []figures.Key { return m.open().Ways[m.way].Keys }

// Do is what a key does on the bench.
func (m Model) Do(a intent.Action) (screen.Screen, intent.Intent) {
	switch a {
	case intent.Open:
		return m.enter(), nil
	case intent.Side:
		m.listing = !m.listing
	case intent.Next:
		return m.another(1), nil
	case intent.Previous:
		return m.another(-1), nil
	case intent.Reading:
		return m, m.intoLog()
	default:
		return widget.Along(m, a), nil
	}
	return m, nil
}

// Word is what a key does on the bench, in a word.
func (m Model) Word(a intent.Action) string {
	return map[intent.Action]string{intent.Down: "field", intent.Open: "set", intent.Side: "figures", intent.Reading: "into the log"}[a]
}

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
		last = widget.LastTop(under, room)
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

// another takes the next set of keys of the figure, where it has several.
func (m Model) another(n int) Model {
	ways := len(m.open().Ways)
	m.way, m.field = (m.way+n+ways)%ways, 0
	return m
}

func clamp(i, n int) int { return max(0, min(i, n-1)) }

// enter opens the field under the cursor, or the figure of the list.
func (m Model) enter() Model {
	if m.listing {
		m.listing = false
		return m
	}
	text, _ := m.value(m.keys()[m.field])
	m.typing, m.text = true, widget.NewText(text).Selected()
	return m
}

// Press types into the open field. Enter keeps the value, Esc leaves it as it
// was; up and down keep it and go on.
func (m Model) Press(s intent.Stroke) (screen.Screen, intent.Intent) {
	switch s.Name {
	case "enter":
		return m.kept(), nil
	case "esc":
		m.typing = false
	case "up":
		return m.kept().Move(-1), nil
	case "down":
		return m.kept().Move(1), nil
	default:
		m.text = m.text.Press(s)
	}
	return m, nil
}

func (m Model) kept() Model {
	m.typing = false
	m.values = maps.Clone(m.values)
	m.values[m.id(m.keys()[m.field])] = m.text.String()
	return m
}

func (m Model) id(k figures.Key) string { return m.open().Name + " " + k.Name }

// intoLog asks for the entry line with the result in it, for the vessel whose
// values it has.
func (m Model) intoLog() intent.Intent {
	if answer, err := m.answer(); err == nil && m.has {
		if line, ok := answer.Entry(m.units); ok {
			return intent.Type{Subject: m.vessel.ID(), Text: line}
		}
	}
	return intent.Say{Text: "this figure has nothing for the log of " + m.vessel.Label()}
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
	answer, err := m.open().Work(given)
	return answer.In(m.units), err
}
