package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"cellar/jugkeeper/schedule/desk"
	"cellar/jugkeeper/tui/entry"
	"cellar/jugkeeper/tui/intent"
)

// openBench opens the bench with the values of the selected vessel.
func (m Model) openBench() Model {
	v, has := m.vessel()
	m.bench = m.bench.Open(v, has)
	m.at, m.under = OnBench, m.at
	return m
}

// typesOnBench tells whether a stroke goes into a field of the bench. Leaving
// and going to the shell work from there too.
func (m Model) typesOnBench(s intent.Stroke) bool {
	if m.at != OnBench || m.line != nil || !m.bench.Typing() {
		return false
	}
	a, _ := m.keys.Action(OnBench, s)
	return a != intent.Abort && a != intent.Suspend
}

// intoLog opens the entry line with the result of the open figure in it, for
// the vessel whose values it has.
func (m Model) intoLog(v desk.Vessel) (Model, tea.Cmd) {
	line, ok := m.bench.Entry()
	if !ok {
		m.message = say("this figure has nothing for the log of %s", v.Label())
		return m, nil
	}
	m.line = entry.NewReading(m.snapshot, v)
	return m.asked(m.line.Press(intent.Stroke{Text: line, Pasted: true}))
}

// back is one screen back: from the bench to where it was opened, else to the
// board.
func (m Model) back() Model {
	if m.at == OnBench {
		m.at = m.under
		return m
	}
	return m.toBoard()
}

// side is the other list of the screen.
func (m Model) side() Model {
	if m.at == OnBench {
		m.bench = m.bench.Side()
		return m
	}
	m.board = m.board.SwitchSide()
	return m
}

// enter opens what is selected.
func (m Model) enter() Model {
	if m.at == OnBench {
		m.bench = m.bench.Enter()
		return m
	}
	return m.openPage()
}

// benchWord is what a key does on the bench, in a word.
func benchWord(a intent.Action, word string) string {
	switch a {
	case intent.Down:
		return "field"
	case intent.Open:
		return "set"
	case intent.Side:
		return "figures"
	case intent.Reading:
		return "into the log"
	}
	return word
}
