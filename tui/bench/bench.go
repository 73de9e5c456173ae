// Package bench is the bench: the figures as forms, worked out while a value
// is typed, with what was assumed and where they come from.
package bench

import (
	"maps"

	figures "cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/widget"
)

// Model is the bench. Its methods give a changed copy.
type Model struct {
	subject string // the vessel to take values from; empty for none
	figure  int    // the one that is open
	way     int
	field   int // the one under the cursor
	listing bool
	top     int               // of what stands under the form
	values  map[string]string // what was set, by figure and key
	typing  bool
	text    widget.Text
}

// all are the figures, in the order of the bench.
var all = figures.Figures()

// New is a bench without a vessel.
func New() Model { return Model{values: map[string]string{}} }

// Of is the bench with the values of a vessel. What was set by hand before stays.
func (m Model) Of(subject string) screen.Screen {
	m.subject = subject
	return m
}

// view is the bench in a frame, with its vessel as it is now.
type view struct {
	Model
	screen.Frame
	vessel app.Vessel
	has    bool // there is a vessel to take values from
	units  measure.System
}

func (m Model) in(f screen.Frame) view {
	v, has := f.Snapshot.Find(m.subject)
	return view{m, f, v, has, f.Snapshot.Cellar.Settings.Units}
}

// Show changes nothing: the bench takes its values when it works them out.
func (m Model) Show(screen.Frame) screen.Screen { return m }

// Subject is the vessel whose values stand in the forms.
func (m Model) Subject() string { return m.subject }

// Typing tells whether a value is being typed, so that letters are letters.
func (m Model) Typing() bool { return m.typing }

func (m Model) open() figures.Figure { return all[m.figure] }

func (m Model) keys() []figures.Key { return m.open().Ways[m.way].Keys }

// Do is what a key does on the bench.
func (m Model) Do(f screen.Frame, a intent.Action) (screen.Screen, intent.Intent) {
	v := m.in(f)
	if n, turns := widget.Turned(a); turns {
		return v.scrolled(n), nil
	}
	if n, moves := widget.Along(a, 1); moves {
		return m.move(n), nil
	}
	switch a {
	case intent.Open:
		return v.enter(), nil
	case intent.Side:
		m.listing = !m.listing
		return m, nil
	case intent.Next:
		return m.another(1), nil
	case intent.Previous:
		return m.another(-1), nil
	case intent.Reading:
		return m, v.intoLog()
	}
	return m, intent.Act{Action: a}
}

// Word is what a key does on the bench, in a word.
func (m Model) Word(a intent.Action) string {
	return map[intent.Action]string{intent.Down: "field", intent.Open: "set", intent.Side: "figures", intent.Reading: "into the log"}[a]
}

// move goes to another field, or to another figure in the list.
func (m Model) move(n int) Model {
	if m.listing {
		m.figure = widget.Within(m.figure+n, len(all))
		m.way, m.field, m.top = 0, 0, 0
		return m
	}
	m.field = widget.Within(m.field+n, len(m.keys()))
	return m
}

// scrolled is the bench with what stands under the form scrolled by n screens.
func (m view) scrolled(n int) Model {
	_, under, room := m.parts(m.Page(), m.end())
	m.top = widget.Within(m.top+n*max(m.Height/2, 1), widget.LastTop(under, room)+1)
	return m.Model
}

// another is another way to give the values, where it has several.
func (m Model) another(n int) Model {
	ways := len(m.open().Ways)
	m.way, m.field = (m.way+n+ways)%ways, 0
	return m
}

// enter opens the field under the cursor, or the figure of the list.
func (m view) enter() Model {
	if m.listing {
		m.listing = false
		return m.Model
	}
	text, _ := m.value(m.keys()[m.field])
	m.typing, m.text = true, widget.NewText(text).Selected()
	return m.Model
}

// Press types into the open field. Enter keeps the value, Esc leaves it as it
// was; up and down keep it and go on.
func (m Model) Press(_ screen.Frame, s intent.Stroke) (screen.Screen, intent.Intent) {
	switch s.Name {
	case "enter":
		return m.kept(), nil
	case "esc":
		m.typing = false
	case "up":
		return m.kept().move(-1), nil
	case "down":
		return m.kept().move(1), nil
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
func (m view) intoLog() intent.Intent {
	if answer, err := m.answer(); err == nil && m.has {
		if line, ok := answer.Entry(m.units); ok {
			return intent.Type{Subject: m.vessel.ID(), Text: line}
		}
	}
	return intent.Say{Text: "this figure has nothing for the log of " + m.vessel.Label()}
}

// answer works the figure out with what stands in the fields.
func (m view) answer() (figures.Answer, error) {
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
