package honey

import (
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// The columns of the list and of the card next to it.
const (
	listEnd  = 62
	cardFrom = 66
)

// beside reports whether the card fits next to the list.
func (m view) beside() bool { return m.Width >= 110 }

func (m Model) View(f screen.Frame) string { return f.Draw(view{m, f}.drawn) }

func (m view) drawn() []string {
	page, card := m.Page(), m.cardPage()
	rows, list := m.head(page), m.list(page)
	scrolled := widget.Scrolled(m.Theme, layout.Page{Margin: card.Margin}, card.End(), m.card(), m.top, m.cardRoom())
	if !m.beside() {
		return append(append(append(rows, list...), ""), scrolled...)
	}
	n := max(len(list), len(scrolled))
	list = append(list, make([]string, n-len(list))...)
	scrolled = append(scrolled, make([]string, n-len(scrolled))...)
	for i := range n {
		rows = append(rows, layout.Overlay(list[i], scrolled[i]))
	}
	return rows
}

// head returns the day, the names of the lists with the open one highlighted, and the answer.
func (m view) head(page layout.Page) []string {
	title := m.Sheet.Title()
	if m.Width < 76 {
		title = m.Sheet.ShortTitle()
	}
	r := layout.Row{}.At(page.Margin, title)
	for i, name := range []string{"honey room", "cultures"} {
		if list(i) == m.open {
			name = m.Theme.Tag(name)
		} else {
			name = " " + name + " "
		}
		r = r.At(r.End()+2, name)
	}
	rows := []string{r.In(page.End()), ""}
	answer := m.words.Answer
	if m.open == cultures {
		answer = []string{m.words.Growing}
	}
	for _, line := range answer {
		for _, part := range layout.Wrap(line, page.Width) {
			rows = append(rows, layout.Row{}.At(page.Margin, m.Theme.Bold(part)).In(page.End()))
		}
	}
	return append(rows, "")
}

func (m view) room() int { return max(m.Height-len(m.head(m.Page()))-1, 0) }

// shown returns how many items of the list have a row.
func (m view) shown() int {
	n := m.count(m.open)
	switch {
	case m.beside():
		return min(n, max(m.room()-1, 1))
	case m.near && m.open == lots:
		return min(n, 1)
	case m.Height < 20:
		return min(n, 3)
	}
	return min(n, max((m.room()-2)/3, 3))
}

func (m view) cardRoom() int {
	if m.beside() {
		return m.room()
	}
	return max(m.room()-m.shown()-2, 0)
}

func (m view) cardPage() layout.Page {
	page := m.Page()
	if m.beside() {
		return layout.Page{Margin: cardFrom, Width: page.End() - cardFrom}
	}
	return page
}

// list returns the open list, its heading first, scrolled to the cursor.
func (m view) list(page layout.Page) []string {
	end := page.End()
	if m.beside() {
		end = listEnd
	}
	if m.count(m.open) == 0 {
		text := "Each lot of honey is listed here: what is left of it, its water and what it makes. + adds one."
		if m.open == cultures {
			text = "Each culture is listed here: where it is from, its steps and its proof. + adds one, from the day it is collected."
		}
		return widget.Labelled(page, page.Margin, end, "", text)
	}
	c := m.columnsOf(page, end)
	rows := []string{c.heading(m.Theme, m.open)}
	n := m.shown()
	from := max(0, min(m.at[m.open]-n/2, m.count(m.open)-n))
	for i := from; i < from+n; i++ {
		rows = append(rows, m.item(c, i))
	}
	return rows
}

func (m view) item(c columns, i int) string {
	r := layout.Row{}
	name := layout.Cut(m.id(m.open, i), c.idRoom)
	if i == m.at[m.open] {
		r = r.At(0, m.Theme.In(theme.Accent, "▌")).At(c.id-1, m.Theme.Tag(name))
	} else {
		r = r.At(c.id, m.Theme.Bold(name))
	}
	if m.open == cultures {
		return c.culture(m.Theme, r, m.words.Cultures[i])
	}
	return c.lot(m.Theme, r, m.words.Lots[i])
}

// columns are the columns of an item's figures; fields ending in End are right edges.
type columns struct {
	id, idRoom             int
	firstEnd, secondEnd    int // left and water, or the generation
	word, proved           int
	name, ageEnd, nameRoom int
}

// columnsOf returns the columns of the open list, which ends at a column. An id has 7 to 20 columns.
func (m view) columnsOf(page layout.Page, end int) columns {
	room, most := 7, 20
	for i := range m.count(m.open) {
		room = max(room, layout.Width(m.id(m.open, i)))
	}
	if end < 66 {
		most = 16
	}
	c := columns{id: page.Margin, idRoom: min(room, most), ageEnd: end}
	s := c.id + c.idRoom
	if m.open == cultures {
		c.firstEnd, c.word, c.proved = s+5, s+8, s+22
		return c
	}
	c.firstEnd, c.secondEnd, c.word = s+11, s+19, s+22
	c.name, c.nameRoom = c.word+17, end-7-c.word-17
	return c
}

const leastName = 14

func (c columns) heading(t theme.Theme, l list) string {
	r := layout.Row{}
	ending := func(end int, name string) { r = r.At(end-len(name), t.Faint(name)) }
	if l == cultures {
		r = r.At(c.id, t.Faint("culture"))
		ending(c.firstEnd, "gen")
		r = r.At(c.word+2, t.Faint("verdict")).At(c.proved, t.Faint("reached in proof"))
		ending(c.ageEnd, "stored")
		return r.In(c.ageEnd)
	}
	r = r.At(c.id, t.Faint("lot"))
	ending(c.firstEnd, "left")
	ending(c.secondEnd, "water")
	r = r.At(c.word+2, t.Faint("use"))
	if c.nameRoom >= leastName {
		r = r.At(c.name, t.Faint("name"))
	}
	ending(c.ageEnd, "age")
	return r.In(c.ageEnd)
}

func (c columns) lot(t theme.Theme, r layout.Row, l words.LotCard) string {
	r = r.Ending(c.firstEnd, l.Left, t.Bold)
	r = r.Ending(c.secondEnd, l.Water, layout.Unstyled)
	r = r.At(c.word, marked(t, l.Word, l.Keeps))
	if c.nameRoom >= leastName {
		r = r.At(c.name, layout.Cut(l.Name, c.nameRoom))
	}
	return r.Ending(c.ageEnd, l.Age, layout.Unstyled).In(c.ageEnd)
}

func (c columns) culture(t theme.Theme, r layout.Row, k words.CultureCard) string {
	r = r.Ending(c.firstEnd, k.Generation, layout.Unstyled)
	r = r.At(c.word, marked(t, k.Word, k.Verdict)).At(c.proved, k.Reached)
	return r.Ending(c.ageEnd, k.Age, layout.Unstyled).In(c.ageEnd)
}

// marked returns a text after the mark of a word, at the same column without one.
func marked(t theme.Theme, w words.Word, text string) string {
	if w == "" {
		return "  " + text
	}
	if w.OnField() {
		return widget.InWord(t, w, string(w.Mark())) + text
	}
	return widget.InWord(t, w, string(w.Mark())) + " " + text
}
