// Package shelf is the screen of bottles: tasks on top, then what is left and for what, and the details of the selected
// batch.
package shelf

import (
	"slices"
	"strconv"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/widget"
)

// Model is the shelf. Its methods give a changed copy.
type Model struct {
	words words.Shelf // as shown last
	at    int         // cursor: the tasks first, then the batches
	top   int         // scroll position of the card
}

type view struct {
	Model
	screen.Frame
}

// Show returns the shelf for a snapshot, with the cursor on the same item or ferment.
func (m Model) Show(f screen.Frame) screen.Screen {
	had, first := m.key(m.at), len(m.words.Rows) == 0
	subject := m.Subject()
	m.words = words.ShelfOf(f.Snapshot, f.Sheet)
	m.at = widget.ClampIndex(m.at, m.items())
	for i := m.items() - 1; i >= 0 && !first; i-- {
		o := m
		if o.at = i; o.Subject() == subject {
			m.at = i
		}
		if m.key(i) == had {
			m.at = i
			break
		}
	}
	return m
}

func (m Model) items() int { return len(m.words.Due) + len(m.words.Rows) }

func (m Model) task() (words.ShelfTask, bool) {
	if m.at < len(m.words.Due) {
		return m.words.Due[m.at], true
	}
	return words.ShelfTask{}, false
}

// row returns the selected batch: the one under the cursor, or that of the task there.
func (m Model) row() (words.ShelfRow, bool) {
	if t, due := m.task(); due {
		return ferment.FirstWhere(m.words.Rows, func(r words.ShelfRow) bool { return r.ID == t.Subjects[0] && r.Batch == t.Batch })
	}
	i := m.at - len(m.words.Due)
	if i >= len(m.words.Rows) {
		return words.ShelfRow{}, false
	}
	return m.words.Rows[i], true
}

// key names an item, to find it again after the files are read.
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

func (m Model) Subject() string {
	r, _ := m.row()
	return r.ID
}

// Do moves the cursor, scrolls the card, or returns what a key means for the bottles.
func (m Model) Do(f screen.Frame, a intent.Action) (screen.Screen, intent.Intent) {
	if n, turns := widget.Pages(a); turns {
		m.top = widget.ClampIndex(max(0, m.top+n*max(f.Height/4, 1)), view{m, f}.lastTop()+1)
		return m, nil
	}
	if n, moves := widget.Steps(a, 1); moves {
		return m.onto(m.at + n), nil
	}
	switch id := m.Subject(); {
	case a == intent.Side:
		return m.side(), nil
	case a == intent.Open && id != "":
		return m, intent.OpenPage{Subject: id}
	case a == intent.Done:
		return m, m.done()
	case a == intent.Tasting:
		return m, m.taste()
	}
	return m, intent.Act{Action: a}
}

// done returns what Space asks for: the task under the cursor, or one to drink.
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
	case ferment.Squeeze: // its only answer is how the bottle feels
		return intent.Type{Subject: r.ID, Text: "squeeze feel="}
	}
	return intent.Settle{Tasks: []intent.Task{{Subject: r.ID, Step: t.Line.Task.Step, Occurrence: t.Line.Task.Occurrence}}}
}

// taste returns the tasting of the selection; two of a trial are tasted blind.
func (m Model) taste() intent.Intent {
	subjects, step := m.words.TastingOf(m.Subject())
	if subjects == nil {
		return nil
	}
	return intent.Taste{Subjects: subjects, Step: step, Blind: len(subjects) > 1}
}

// side goes from the tasks to the bottles and back.
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
	return m.onto(max(slices.IndexFunc(m.words.Due, func(t words.ShelfTask) bool { return t.Subjects[0] == r.ID }), 0))
}

// onto selects an item.
func (m Model) onto(i int) Model {
	m.at, m.top = widget.ClampIndex(i, m.items()), 0
	return m
}

func (m Model) Word(a intent.Action) string {
	_, due := m.task()
	switch {
	case m.items() == 0 && slices.Contains([]intent.Action{intent.Done, intent.Note, intent.Edit, intent.Open, intent.Tasting, intent.Mark, intent.Compare, intent.Find}, a):
		return screen.Unnamed
	case a == intent.Done && !due:
		return "drink one"
	case a == intent.Side && len(m.words.Due) == 0:
		return screen.Unnamed
	case a == intent.Side && due:
		return "bottles"
	case a == intent.Side:
		return "to do"
	}
	return ""
}

func (m Model) Seek(_ screen.Frame, text string, again bool) (screen.Screen, bool) {
	at, found := widget.FindFrom(m.at, m.items(), again, func(i int) bool { return widget.ContainsFold(m.textOf(i), text) })
	if !found {
		return m, false
	}
	return m.onto(at), true
}

func (m Model) textOf(i int) string {
	if n := len(m.words.Due); i >= n {
		r := m.words.Rows[i-n]
		return strings.Join([]string{r.Tag, r.Honey, r.Bottled, r.Fizz, r.Card.How, r.Card.Kinds}, " ")
	}
	l := m.words.Due[i].Line
	return strings.Join([]string{l.Tag, l.Act, l.Reason}, " ")
}
