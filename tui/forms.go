package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"cellar/jugkeeper/schedule/app"
	forms "cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/tui/form"
	"cellar/jugkeeper/tui/intent"
)

// openForm opens a form, and has the closed ferments read for it.
func (m Model) openForm(want intent.Fill) (Model, tea.Cmd) {
	open := func(s app.Snapshot) (forms.Form, bool) { return forms.Open(want.Form, s, want.Subject, want.Given) }
	f, ok := form.New(m.snapshot, open)
	if !ok {
		m.message = say("there is nothing to fill in for %s", m.labelOf(want.Subject))
		return m, nil
	}
	return m.fill(InForm, f).reopen(byItself)
}

// filling is an action that opens a form of the selected vessel.
func filling(name string) act {
	return func(m Model) (Model, tea.Cmd) {
		v, ok := m.vessel()
		if !ok {
			return m.noTask(), nil
		}
		return m.openForm(intent.Fill{Form: name, Subject: v.ID()})
	}
}
