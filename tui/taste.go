package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/tasting"
)

// tasting opens the tasting of the selected vessel.
func (m Model) tasting() (Model, tea.Cmd) {
	v, ok := m.vessel()
	if !ok {
		return m.noTask(), nil
	}
	return m.taste(v)
}

// taste opens the tasting of a vessel: as the shelf has it, else from the vessel,
// for the task that asks for it.
func (m Model) taste(v app.Vessel) (Model, tea.Cmd) {
	subjects, step := words.ShelfOf(m.snapshot, m.words).TastingOf(v.ID())
	if subjects == nil {
		subjects = []string{v.ID()}
		for _, l := range m.words.Lines(v.ID()) {
			if l.Task.Do == string(ferment.Taste) && isOpen(l.Task) {
				step = l.Task.Step
			}
		}
	}
	return m.openTasting(intent.Taste{Subjects: subjects, Step: step, Blind: len(subjects) > 1}), nil
}

// openTasting opens a tasting. What was written there and not kept stands there
// again.
func (m Model) openTasting(want intent.Taste) Model {
	var vs []app.Vessel
	for _, id := range want.Subjects {
		if v, ok := m.snapshot.Find(id); ok {
			vs = append(vs, v)
		}
	}
	t, ok := tasting.New(m.frame(), want, words.TastingSeed(vs, m.snapshot.At))
	if !ok {
		return m.noTask()
	}
	return m.fill(InTasting, t)
}
