// Package form draws what a person fills in before an act: its answer on top,
// the fields, and what follows from them, worked out while they type.
package form

import (
	"slices"

	"cellar/jugkeeper/schedule/app"
	forms "cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/tui/fill"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/widget"
)

// Open gives the form as it is at the moment of a snapshot; it is not ok where
// what the form is of is not there.
type Open func(app.Snapshot) (f forms.Form, ok bool)

// Model is an open form. Its methods give a changed copy.
type Model struct {
	fill.In
	open    Open
	form    forms.Form
	fields  []forms.Field
	outcome forms.Outcome
	top     int    // of what stands under the fields
	tried   bool   // Enter was pressed while something was wrong
	failed  string // why it could not be kept
}

// view is the form in a frame.
type view struct {
	Model
	screen.Frame
}

// New is a form with its cursor in the first field.
func New(s app.Snapshot, open Open) (m Model, ok bool) {
	f, ok := open(s)
	if !ok {
		return m, false
	}
	return Model{open: open, form: f}.worked().onto(0), true
}

// worked is the form with what comes of its values.
func (m Model) worked() Model {
	m.fields, m.outcome = m.form.Outcome(m.Typed)
	return m
}

// Show is the form as a later snapshot has it; what was typed stays, also where
// what the form is of is gone.
func (m Model) Show(frame screen.Frame) screen.Screen {
	f, ok := m.open(frame.Snapshot)
	if !ok {
		return m
	}
	m.form = f
	m = m.worked()
	if _, set := m.Typed[m.Key]; !set {
		return m.onto(m.Index(m.fields))
	}
	return m
}

// Do leaves every key to the program: here they are typed.
func (m Model) Do(_ screen.Frame, a intent.Action) (screen.Screen, intent.Intent) {
	return m, intent.Act{Action: a}
}

// Typing is always.
func (m Model) Typing() bool { return true }

// Subject is what the form is of.
func (m Model) Subject() string { return m.form.Subject }

// Word names the keys of the field under the cursor.
func (m Model) Word(a intent.Action) string {
	switch {
	case a == intent.Next && len(m.field().Words) == 0:
		return screen.Unnamed
	case a == intent.Down:
		return "next line"
	}
	return ""
}

// Press fills the form in.
func (m Model) Press(f screen.Frame, s intent.Stroke) (screen.Screen, intent.Intent) {
	if do, is := presses[s.Name]; is && !s.Pasted {
		return do(view{m, f})
	}
	in, changed := m.In.Press(m.field(), s)
	m.In = in
	if changed {
		m.failed, m.top = "", 0
		m = m.worked()
	}
	return m, nil
}

type pressed func(view) (screen.Screen, intent.Intent)

// presses are the keys that do not type.
var presses map[string]pressed

func init() {
	along := func(n int) pressed {
		return func(m view) (screen.Screen, intent.Intent) { return m.onto(m.Index(m.fields) + n), nil }
	}
	page := func(n int) pressed {
		return func(m view) (screen.Screen, intent.Intent) { return m.scroll(n), nil }
	}
	presses = map[string]pressed{
		"up": along(-1), "down": along(1), "tab": along(1), "shift+tab": along(-1), "pgup": page(-1), "pgdown": page(1),
		"esc":   func(m view) (screen.Screen, intent.Intent) { return m.Model, intent.Close{} },
		"enter": func(m view) (screen.Screen, intent.Intent) { return m.keep() },
	}
}

// keep asks for what the form wants written. Where something is wrong the cursor
// goes there; where a caution was not on the screen yet it is shown first.
func (m view) keep() (screen.Screen, intent.Intent) {
	if len(m.outcome.Wrong) > 0 {
		m.tried, m.top = true, 0
		i := slices.IndexFunc(m.fields, func(f forms.Field) bool { return f.Key == m.outcome.Wrong[0].Key })
		return m.onto(max(i, 0)), nil
	}
	if unseen := m.unseen(); unseen > 0 {
		m.top = unseen
		return m.Model, intent.Say{Text: "read what stands there now; Enter again keeps it"}
	}
	return m.Model, intent.Apply{Change: m.outcome.Change}
}

// onto puts the cursor into a field.
func (m Model) onto(i int) Model {
	m.In = m.Onto(m.fields[widget.Within(i, len(m.fields))])
	return m
}

func (m Model) field() forms.Field { return m.fields[m.Index(m.fields)] }

// Draft is what was set by hand.
func (m Model) Draft() intent.Draft {
	return intent.Draft{Kind: "form", Step: m.form.Name, Subject: m.form.Subject, Text: m.Encoded()}
}

// Resume is the form with what an earlier one left.
func (m Model) Resume(_ screen.Frame, text string) screen.Screen {
	m.In = m.Decoded(text)
	return m.worked().onto(0)
}

// Kept closes the form.
func (m Model) Kept(screen.Frame) (screen.Screen, bool) { return nil, false }

// Fail says why the form could not be kept.
func (m Model) Fail(err error) screen.Screen {
	m.failed = err.Error()
	return m
}
