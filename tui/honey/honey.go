// Package honey is the honey room: which lot to use first, what each still makes and where it went; the cultures with
// their descent, how far they are tested, and what ferments made of them; the closed ferments, and which to make again.
package honey

import (
	"slices"

	"github.com/charmbracelet/x/ansi"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/widget"
)

type list int

const (
	lots list = iota
	cultures
	past
)

// Model is the honey room. Its methods give a changed copy.
type Model struct {
	words words.HoneyRoom // as shown last
	open  list
	at    [3]int // the cursor of each list
	by    int    // what the closed ferments are sorted by
	top   int    // how far the card is scrolled
	near  bool   // the list is hidden to give its room to the card
}

// Past returns the room with the closed ferments open.
func (m Model) Past() Model {
	m.open, m.top = past, 0
	return m
}

// Honey returns the room with lots or cultures open.
func (m Model) Honey() Model {
	m.open, m.top = m.open%past, 0
	return m
}

type view struct {
	Model
	screen.Frame
}

// Show returns the honey room for a snapshot; each cursor stays on its item.
func (m Model) Show(f screen.Frame) screen.Screen {
	had := m
	m.words = words.HoneyRoomOf(f.Snapshot)
	words.SortPast(m.words.Past, words.PastBy[m.by])
	return m.back(had)
}

// back returns the room with each cursor on what it was on.
func (m Model) back(had Model) Model {
	for l := range m.at {
		ids := m.ids(list(l))
		m.at[l] = widget.ClampIndex(m.at[l], len(ids))
		if i := slices.Index(ids, had.id(list(l))); i >= 0 {
			m.at[l] = i
		}
	}
	return m
}

func (m Model) ids(l list) []string {
	switch l {
	case cultures:
		return ferment.Map(m.words.Cultures, func(c words.CultureCard) string { return c.ID })
	case past:
		return ferment.Map(m.words.Past, func(c words.PastCard) string { return c.ID })
	}
	return ferment.Map(m.words.Lots, func(c words.LotCard) string { return c.ID })
}

// id returns what the cursor of a list is on, empty for nothing.
func (m Model) id(l list) string {
	if ids := m.ids(l); m.at[l] < len(ids) {
		return ids[m.at[l]]
	}
	return ""
}

func (m Model) selected() string { return m.id(m.open) }

// Subject returns the culture or the closed ferment under the cursor; a lot has no log.
func (m Model) Subject() string {
	if m.open == lots {
		return ""
	}
	return m.selected()
}

// File returns that of what is under the cursor, and its line.
func (m Model) File(screen.Frame) (file string, line int) {
	switch {
	case m.selected() == "":
		return "", 0
	case m.open == cultures:
		return "cultures.yaml", max(m.words.Cultures[m.at[cultures]].Line, 1)
	case m.open == past:
		return m.words.Past[m.at[past]].File, 1
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
		m.at[m.open], m.top = widget.ClampIndex(m.at[m.open]+n, len(m.ids(m.open))), 0
		return m, nil
	}
	switch a {
	case intent.Side:
		m.open, m.top = (m.open+1)%3, 0
		return m, nil
	case intent.Next, intent.Previous:
		if step := map[intent.Action]int{intent.Next: 1, intent.Previous: -1}[a]; m.open == past {
			had, n := m, len(words.PastBy)
			m.by, m.words.Past = (m.by+step+n)%n, slices.Clone(m.words.Past)
			words.SortPast(m.words.Past, words.PastBy[m.by])
			return m.back(had), nil
		}
		return m, nil
	case intent.New:
		if m.open != past {
			return m, intent.Fill{Form: map[list]string{lots: "lot", cultures: "culture"}[m.open]}
		}
		return m, m.done()
	case intent.Open:
		if m.Subject() != "" {
			return m, intent.OpenPage{Subject: m.selected()}
		}
		m.near, m.top = !m.near && m.open == lots, 0
		return m, nil
	case intent.Done:
		return m, m.done()
	case intent.Reading:
		if m.open == lots {
			return m, intent.Say{Text: "honey has no log; Space writes down what was used elsewhere"}
		}
		if m.selected() == "" {
			return m, nil
		}
		return m, intent.Type{Subject: m.Subject()}
	}
	return m, intent.Act{Action: a}
}

// done returns honey used elsewhere, what a culture needs first, or a ferment made again.
func (m Model) done() intent.Intent {
	id := m.selected()
	switch {
	case id == "":
		return nil
	case m.open == lots:
		return intent.Fill{Form: "use", Subject: id}
	case m.open == past:
		return intent.Fill{Form: "new", Given: form.Values{"from": "like", "like": id}}
	}
	for _, l := range m.words.Cultures[m.at[cultures]].Tasks {
		switch l.Word {
		case words.Danger, words.Stop, words.Late, words.Held, words.Due, words.AnyDay, words.Later:
			return intent.StartTask{Task: intent.Task{Subject: id, Step: l.Task.Step, Occurrence: l.Task.Occurrence}}
		}
	}
	return intent.Fill{Form: "passage", Subject: id}
}

// names are those of the lists.
var names = []string{"honey room", "cultures", "closed"}

// Name is that of the open list.
func (m Model) Name() string { return names[m.open] }

func (m Model) Word(a intent.Action) string {
	words := map[intent.Action][3]string{
		intent.Side: {"cultures", "closed", "lots"}, intent.Done: {"used", "done", "make again"}, intent.New: {"new lot", "new culture", screen.Unnamed},
		intent.Open: {"near", "its page", "its page"}, intent.Reading: {screen.Unnamed, "", screen.Unnamed}, intent.Note: {screen.Unnamed, "", ""},
		intent.Next: {screen.Unnamed, screen.Unnamed, "sort by " + words.PastBy[(m.by+1)%len(words.PastBy)]},
	}
	if m.near && m.open == lots && a == intent.Open {
		return "list"
	}
	if a == intent.Previous && words[intent.Next][m.open] == screen.Unnamed {
		return screen.Unnamed
	}
	if m.selected() == "" && slices.Contains([]intent.Action{intent.Done, intent.Open, intent.Next, intent.Previous, intent.Reading, intent.Note, intent.Edit, intent.Mark, intent.Compare}, a) {
		return screen.Unnamed
	}
	return words[a][m.open]
}

// Seek goes to the next item with a text in its name or card, in the open list first.
func (m Model) Seek(f screen.Frame, text string, again bool) (screen.Screen, bool) {
	for n := range list(3) {
		l := (m.open + n) % 3
		next := func(i int) view {
			v := view{m, f}
			v.open, v.top, v.at[l] = l, 0, i
			return v
		}
		from := m.at[m.open]
		if n > 0 {
			from, again = 0, false
		}
		has := func(i int) bool {
			rows := append([]string{next(i).selected()}, next(i).card()...)
			return slices.ContainsFunc(rows, func(r string) bool { return widget.ContainsFold(ansi.Strip(r), text) })
		}
		if at, found := widget.FindFrom(from, len(m.ids(l)), again, has); found {
			return next(at).Model, true
		}
	}
	return m, false
}
