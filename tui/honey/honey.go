// Package honey is the honey room: which lot to use first, what each still
// makes and where it went, and beside them the cultures with their descent, how
// far they are proved, and what ferments made of them.
package honey

import (
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// list is one of the two.
type list int

const (
	lots list = iota
	cultures
)

// Model is the honey room. Its methods give a changed copy.
type Model struct {
	theme         theme.Theme
	width, height int
	day           words.Sheet
	words         words.Store
	open          list
	at            [2]int // the cursor of each list
	top           int    // how far the card is scrolled
	near          bool   // the list gives its room to the card
}

// New is a honey room with nothing in it.
func New(t theme.Theme) Model { return Model{theme: t} }

// SetSize is the honey room on a terminal of that size.
func (m Model) SetSize(width, height int) screen.Screen {
	m.width, m.height = width, height
	return m
}

// SetTheme is the honey room in other colours.
func (m Model) SetTheme(t theme.Theme) screen.Screen {
	m.theme = t
	return m
}

// Show is the honey room as a snapshot has it, which knows the closed ferments
// too; each cursor stays on what it was on.
func (m Model) Show(s app.Snapshot, day words.Sheet) screen.Screen {
	had := [2]string{m.id(lots, m.at[lots]), m.id(cultures, m.at[cultures])}
	m.day, m.words = day, words.StoreOf(s)
	for l := range had {
		m.at[l] = max(0, min(m.at[l], m.count(list(l))-1))
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

// id is that of the ith item of a list, empty for none.
func (m Model) id(l list, i int) string {
	switch {
	case i < 0 || i >= m.count(l):
		return ""
	case l == cultures:
		return m.words.Cultures[i].ID
	}
	return m.words.Lots[i].ID
}

// selected is the id under the cursor.
func (m Model) selected() string { return m.id(m.open, m.at[m.open]) }

// Subject is the culture under the cursor; a lot has no log.
func (m Model) Subject() string {
	if m.open != cultures {
		return ""
	}
	return m.selected()
}

// File is that of the list, and the line of what is under the cursor.
func (m Model) File() (file string, line int) {
	switch {
	case m.selected() == "":
		return "", 0
	case m.open == cultures:
		return "cultures.yaml", max(m.words.Cultures[m.at[cultures]].Line, 1)
	}
	return "honey.yaml", max(m.words.Lots[m.at[lots]].Line, 1)
}

// Typing is never.
func (m Model) Typing() bool { return false }

// Press does nothing: there is nothing to type.
func (m Model) Press(intent.Stroke) (screen.Screen, intent.Intent) { return m, nil }

// Do is what a key does here.
func (m Model) Do(a intent.Action) (screen.Screen, intent.Intent) {
	switch a {
	case intent.Side:
		m.open, m.top = 1-m.open, 0
		return m, nil
	case intent.New:
		return m, intent.Fill{Form: map[list]string{lots: "lot", cultures: "culture"}[m.open]}
	case intent.Open:
		if m.open == cultures && m.selected() != "" {
			return m, intent.Visit{Subject: m.selected()}
		}
		m.near, m.top = !m.near, 0
		return m, nil
	case intent.Done:
		return m, m.done()
	case intent.Reading:
		return m, m.reading()
	}
	return widget.Along(m, a), nil
}

// done is honey that went elsewhere, or what a culture wants first.
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
		case words.Stop, words.Late, words.Held, words.Due, words.Later:
			return intent.Attend{Task: intent.Task{Subject: id, Step: l.Task.Step, Occurrence: l.Task.Occurrence}}
		}
	}
	return intent.Fill{Form: "passage", Subject: id}
}

// reading is a line for the log of a culture.
func (m Model) reading() intent.Intent {
	if m.Subject() == "" {
		return intent.Say{Text: "honey has no log; Space writes down what was used elsewhere"}
	}
	return intent.Type{Subject: m.Subject()}
}

// Word is what a key does here, in a word.
func (m Model) Word(a intent.Action) string {
	words := map[intent.Action][2]string{
		intent.Side: {"cultures", "lots"}, intent.Done: {"used", "done"}, intent.New: {"new lot", "new culture"},
		intent.Open: {"near", "its page"}, intent.Reading: {"-", ""}, intent.Note: {"-", ""},
	}
	if m.near && m.open == lots && a == intent.Open {
		return "list"
	}
	if m.selected() == "" && (a == intent.Done || a == intent.Open) {
		return "-"
	}
	return words[a][m.open]
}

// Move moves the cursor by n.
func (m Model) Move(n int) Model {
	m.at[m.open] = max(0, min(m.at[m.open]+n, m.count(m.open)-1))
	m.top = 0
	return m
}

// Page scrolls the card by n screens of it.
func (m Model) Page(n int) Model {
	m.top = max(0, min(m.top+n*max(m.cardRoom()-1, 1), widget.LastTop(m.card(), m.cardRoom())))
	return m
}

// Home goes to the first of the list.
func (m Model) Home() Model { return m.Move(-m.count(m.open)) }

// End goes to the last of the list.
func (m Model) End() Model { return m.Move(m.count(m.open)) }

// Seek goes to the next whose card holds a text, in the open list first.
func (m Model) Seek(text string, again bool) (screen.Screen, bool) {
	n := m.count(m.open)
	from := m.at[m.open]
	if again {
		from++
	}
	for i := range n {
		next := m
		next.at[m.open], next.top = (from+i)%n, 0
		if next.holds(text) {
			return next, true
		}
	}
	other := m
	other.open, other.top = 1-m.open, 0
	for i := range other.count(other.open) {
		if other.at[other.open] = i; other.holds(text) {
			return other, true
		}
	}
	return m, false
}

// holds tells whether a text stands in the card or the name of what is under the
// cursor.
func (m Model) holds(text string) bool {
	rows := append([]string{m.selected()}, m.card()...)
	return slices.ContainsFunc(rows, func(r string) bool {
		return strings.Contains(strings.ToLower(ansi.Strip(r)), strings.ToLower(text))
	})
}
