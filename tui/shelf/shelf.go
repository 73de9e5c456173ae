// Package shelf is the screen of what stands in bottles: what is due on top,
// what is left and for what, and the selected batch from near.
package shelf

import (
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Model is the shelf. Its methods give a changed copy.
type Model struct {
	theme         theme.Theme
	width, height int
	title         string
	words         words.Shelf
	at            int // the cursor: what is due, and after it the rows
	top           int // how far the card is scrolled
}

// New is a shelf with nothing on it.
func New(t theme.Theme) Model { return Model{theme: t} }

// SetSize is the shelf on a terminal of that size.
func (m Model) SetSize(width, height int) screen.Screen {
	m.width, m.height = width, height
	return m
}

// SetTheme is the shelf in other colours.
func (m Model) SetTheme(t theme.Theme) screen.Screen {
	m.theme = t
	return m
}

// Show is the shelf as a snapshot has it; the cursor stays on what it was on,
// else on the same ferment.
func (m Model) Show(s app.Snapshot, day words.Sheet) screen.Screen {
	had, first := m.key(m.at), len(m.words.Rows) == 0
	subject := m.Subject()
	m.title, m.words = day.Title(), words.ShelfOf(s, day)
	m.at = max(0, min(m.at, m.items()-1))
	for i := m.items() - 1; i >= 0 && !first; i-- {
		if m.subjectAt(i) == subject {
			m.at = i
		}
		if m.key(i) == had {
			m.at = i
			break
		}
	}
	return m
}

// items are what the cursor can stand on.
func (m Model) items() int { return len(m.words.Due) + len(m.words.Rows) }

// task is what is due under the cursor.
func (m Model) task() (words.ShelfTask, bool) {
	if m.at < len(m.words.Due) {
		return m.words.Due[m.at], true
	}
	return words.ShelfTask{}, false
}

// row is the batch that is selected: the one under the cursor, or the one that
// is due.
func (m Model) row() (words.ShelfRow, bool) {
	if t, due := m.task(); due {
		for _, r := range m.words.Rows {
			if r.ID == t.Subjects[0] && r.Batch == t.Batch {
				return r, true
			}
		}
		return words.ShelfRow{}, false
	}
	i := m.at - len(m.words.Due)
	if i >= len(m.words.Rows) {
		return words.ShelfRow{}, false
	}
	return m.words.Rows[i], true
}

// key tells an item from all others.
func (m Model) key(i int) string {
	switch n := len(m.words.Due); {
	case i < n:
		t := m.words.Due[i]
		return strings.Join(t.Subjects, " ") + "/" + t.Line.Task.Step
	case i < m.items():
		r := m.words.Rows[i-n]
		return r.ID + "#" + strconv.Itoa(r.Batch)
	}
	return ""
}

func (m Model) subjectAt(i int) string {
	m.at = i
	return m.Subject()
}

// Subject is the ferment that is selected.
func (m Model) Subject() string {
	r, _ := m.row()
	return r.ID
}

// Typing is never.
func (m Model) Typing() bool { return false }

// Press does nothing: there is nothing to type.
func (m Model) Press(intent.Stroke) (screen.Screen, intent.Intent) { return m, nil }

// Do moves the cursor, or asks for what a key means for the selected bottles.
func (m Model) Do(a intent.Action) (screen.Screen, intent.Intent) {
	switch a {
	case intent.Side:
		return m.side(), nil
	case intent.Open:
		if id := m.Subject(); id != "" {
			return m, intent.Visit{Subject: id}
		}
	case intent.Done:
		return m, m.done()
	case intent.Tasting:
		return m, m.taste()
	}
	return widget.Along(m, a), nil
}

// done is what Space asks for: the task under the cursor, or one to drink.
func (m Model) done() intent.Intent {
	r, is := m.row()
	if !is {
		return nil
	}
	given := map[string]string{form.Batch: strconv.Itoa(r.Batch)}
	t, due := m.task()
	if !due {
		return intent.Fill{Form: "drink", Subject: r.ID, Given: given}
	}
	switch ferment.Act(t.Line.Task.Do) {
	case ferment.Open:
		return intent.Fill{Form: "open", Subject: r.ID, Given: given}
	case ferment.Taste:
		return m.taste()
	case ferment.Squeeze: // how it feels is what it is squeezed for
		return intent.Type{Subject: r.ID, Text: "squeeze feel="}
	}
	return intent.Settle{Tasks: []intent.Task{{Subject: r.ID, Step: t.Line.Task.Step, Occurrence: t.Line.Task.Occurrence}}}
}

// taste is the tasting of what is selected; two of a trial are tasted blind.
func (m Model) taste() intent.Intent {
	subjects, step := m.words.TastingOf(m.Subject())
	if subjects == nil {
		return nil
	}
	return intent.Taste{Subjects: subjects, Step: step, Blind: len(subjects) > 1}
}

// side goes from what is due to the bottles and back.
func (m Model) side() Model {
	n := len(m.words.Due)
	if n == 0 || n == m.items() {
		return m
	}
	r, _ := m.row()
	if m.at < n {
		for i := n; i < m.items(); i++ {
			if m.key(i) == r.ID+"#"+strconv.Itoa(r.Batch) {
				return m.onto(i)
			}
		}
		return m.onto(n)
	}
	for i, t := range m.words.Due {
		if t.Subjects[0] == r.ID {
			return m.onto(i)
		}
	}
	return m.onto(0)
}

func (m Model) onto(i int) Model {
	m.at, m.top = max(0, min(i, m.items()-1)), 0
	return m
}

// Move moves the cursor by n.
func (m Model) Move(n int) Model { return m.onto(m.at + n) }

// Page scrolls the card.
func (m Model) Page(n int) Model {
	m.top = max(0, m.top+n*max(m.height/4, 1))
	m.top = min(m.top, m.lastTop())
	return m
}

// Home goes to the first.
func (m Model) Home() Model { return m.onto(0) }

// End goes to the last.
func (m Model) End() Model { return m.onto(m.items()) }

// Word is what a key does here.
func (m Model) Word(a intent.Action) string {
	_, due := m.task()
	switch {
	case a == intent.Done && m.items() == 0, a == intent.Tasting && m.items() == 0, a == intent.Open && m.items() == 0:
		return "-"
	case a == intent.Done && !due:
		return "drink one"
	case a == intent.Side && len(m.words.Due) == 0:
		return "-"
	case a == intent.Side && due:
		return "bottles"
	case a == intent.Side:
		return "to do"
	}
	return ""
}

// Seek goes to the next item in which a text stands.
func (m Model) Seek(text string, again bool) (screen.Screen, bool) {
	from := m.at
	if again {
		from++
	}
	for i := range m.items() {
		at := (from + i) % m.items()
		if strings.Contains(strings.ToLower(m.textOf(at)), strings.ToLower(text)) {
			return m.onto(at), true
		}
	}
	return m, false
}

// textOf is what stands in an item.
func (m Model) textOf(i int) string {
	if n := len(m.words.Due); i >= n {
		r := m.words.Rows[i-n]
		return strings.Join([]string{r.Tag, r.Honey, r.Bottled, r.Fizz, r.Card.How, r.Card.Kinds}, " ")
	}
	t := m.words.Due[i]
	return strings.Join(append(t.Tags, t.Line.Act, t.Line.Reason), " ")
}
