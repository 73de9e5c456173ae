// Package honey is the screen of honey lots and cultures: which lot to use first, what must each still makes and where
// it was used; and the cultures with their ancestors, their tests, and the ferments made with them.
package honey

import (
	"slices"

	"github.com/charmbracelet/x/ansi"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/widget"
)

// list is one of the two lists.
type list int

const (
	lots list = iota
	cultures
)

// Model is the honey room. Its methods give a changed copy.
type Model struct {
	words words.HoneyRoom // as shown last
	open  list
	at    [2]int // the cursor of each list
	top   int    // how far the card is scrolled
	near  bool   // the list is hidden to give its room to the card
}

// New returns an empty honey room.
func New() Model { return Model{} }

type view struct {
	Model
	screen.Frame
}

// Show returns the honey room for a snapshot; each cursor stays on its item.
func (m Model) Show(f screen.Frame) screen.Screen {
	had := [2]string{m.id(lots, m.at[lots]), m.id(cultures, m.at[cultures])}
	m.words = words.HoneyRoomOf(f.Snapshot)
	for l := range had {
		m.at[l] = widget.ClampIndex(m.at[l], m.count(list(l)))
		for i := range m.count(list(l)) {
			if m.id(list(l), i) == had[l] {
				m.at[l] = i
			}
		}
	}
	return m
}

func (m Model) count(l list) int {
	if l == cultures {
		return len(m.words.Cultures)
	}
	return len(m.words.Lots)
}

func (m Model) id(l list, i int) string {
	switch {
	case i < 0 || i >= m.count(l):
		return ""
	case l == cultures:
		return m.words.Cultures[i].ID
	}
	return m.words.Lots[i].ID
}

func (m Model) selected() string { return m.id(m.open, m.at[m.open]) }

// Subject returns the culture under the cursor; a lot has no log.
func (m Model) Subject() string {
	if m.open != cultures {
		return ""
	}
	return m.selected()
}

func (m Model) File(screen.Frame) (file string, line int) {
	switch {
	case m.selected() == "":
		return "", 0
	case m.open == cultures:
		return "cultures.yaml", max(m.words.Cultures[m.at[cultures]].Line, 1)
	}
	return "honey.yaml", max(m.words.Lots[m.at[lots]].Line, 1)
}

func (m Model) Do(f screen.Frame, a intent.Action) (screen.Screen, intent.Intent) {
	if n, turns := widget.Pages(a); turns {
		v := view{m, f}
		m.top = widget.ClampIndex(m.top+n*max(v.cardRoom()-1, 1), widget.LastTop(v.card(), v.cardRoom())+1)
		return m, nil
	}
	if n, moves := widget.Steps(a, 1); moves {
		m.at[m.open], m.top = widget.ClampIndex(m.at[m.open]+n, m.count(m.open)), 0
		return m, nil
	}
	switch a {
	case intent.Side:
		m.open, m.top = 1-m.open, 0
		return m, nil
	case intent.New:
		return m, intent.Fill{Form: map[list]string{lots: "lot", cultures: "culture"}[m.open]}
	case intent.Open:
		if m.open == cultures && m.selected() != "" {
			return m, intent.OpenPage{Subject: m.selected()}
		}
		m.near, m.top = !m.near, 0
		return m, nil
	case intent.Done:
		return m, m.done()
	case intent.Reading:
		if m.Subject() == "" {
			return m, intent.Say{Text: "honey has no log; Space writes down what was used elsewhere"}
		}
		return m, intent.Type{Subject: m.Subject()}
	}
	return m, intent.Act{Action: a}
}

// done returns what Space asks for: honey used elsewhere, or what a culture needs first.
func (m Model) done() intent.Intent {
	id := m.selected()
	switch {
	case id == "":
		return nil
	case m.open == lots:
		return intent.Fill{Form: "use", Subject: id}
	}
	for _, l := range m.words.Cultures[m.at[cultures]].Tasks {
		switch l.Word {
		case words.Danger, words.Stop, words.Late, words.Held, words.Due, words.AnyDay, words.Later:
			return intent.StartTask{Task: intent.Task{Subject: id, Step: l.Task.Step, Occurrence: l.Task.Occurrence}}
		}
	}
	return intent.Fill{Form: "passage", Subject: id}
}

func (m Model) Word(a intent.Action) string {
	words := map[intent.Action][2]string{
		intent.Side: {"cultures", "lots"}, intent.Done: {"used", "done"}, intent.New: {"new lot", "new culture"},
		intent.Open: {"near", "its page"}, intent.Reading: {screen.Unnamed, ""}, intent.Note: {screen.Unnamed, ""},
	}
	if m.near && m.open == lots && a == intent.Open {
		return "list"
	}
	if m.selected() == "" && (a == intent.Done || a == intent.Open) {
		return screen.Unnamed
	}
	return words[a][m.open]
}

// Seek goes to the next item with a text in its name or card, in the open list first.
func (m Model) Seek(f screen.Frame, text string, again bool) (screen.Screen, bool) {
	for _, l := range []list{m.open, 1 - m.open} {
		next := func(i int) view {
			v := view{m, f}
			v.open, v.top, v.at[l] = l, 0, i
			return v
		}
		from, count := m.at[m.open], m.count(l)
		if l != m.open {
			from, again = 0, false
		}
		has := func(i int) bool {
			rows := append([]string{next(i).selected()}, next(i).card()...)
			return slices.ContainsFunc(rows, func(r string) bool { return widget.ContainsFold(ansi.Strip(r), text) })
		}
		if at, found := widget.FindFrom(from, count, again, has); found {
			return next(at).Model, true
		}
	}
	return m, false
}
