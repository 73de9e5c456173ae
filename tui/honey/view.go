package honey

import (
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Where there is room the card stands beside the list.
const (
	besideFrom = 110
	listEnd    = 62
	cardFrom   = 66
)

// A screen under this height spends no row on what can be missed.
const roomy = 20

func (m Model) beside() bool { return m.width >= besideFrom }

// View draws the honey room in exactly its size, rows parted by line feeds.
func (m Model) View(foot string) string {
	if !layout.Fits(m.width, m.height) {
		return widget.Fill(widget.TooSmall(m.theme, m.width, m.height), "", m.width, m.height)
	}
	page := layout.PageOf(m.width)
	rows := m.head(page)
	list := m.list(page)
	scrolled := widget.Scrolled(m.theme, layout.Page{Margin: m.cardPage().Margin}, m.cardPage().End(), m.card(), m.top, m.cardRoom())
	if m.beside() {
		rows = append(rows, side(list, scrolled)...)
	} else {
		rows = append(append(append(rows, list...), ""), scrolled...)
	}
	return widget.Fill(rows, widget.Foot(page, foot), m.width, m.height)
}

// side puts the rows of the list over the blanks that those of the card begin
// with.
func side(left, right []string) []string {
	var rows []string
	for i := range max(len(left), len(right)) {
		rows = append(rows, layout.Lead(at(left, i), at(right, i)))
	}
	return rows
}

func at(rows []string, i int) string {
	if i < len(rows) {
		return rows[i]
	}
	return ""
}

// head is the day, the two lists by name with the open one hung out, and the
// plain answer.
func (m Model) head(page layout.Page) []string {
	title := m.day.Title()
	if m.width < 76 {
		title = m.day.ShortTitle()
	}
	r := layout.Row{}.At(page.Margin, title)
	for i, name := range []string{"honey room", "cultures"} {
		if list(i) == m.open {
			name = m.theme.HungOut(name)
		} else {
			name = " " + name + " "
		}
		r = r.At(r.End()+2, name)
	}
	rows := []string{r.In(page.End()), ""}
	for _, line := range m.answer() {
		for _, part := range layout.Wrap(line, page.Width) {
			rows = append(rows, layout.Row{}.At(page.Margin, m.theme.Bold(part)).In(page.End()))
		}
	}
	return append(rows, "")
}

// answer is the plain one: of the honey which first and why, of the cultures
// which wants something.
func (m Model) answer() []string {
	if m.open == cultures {
		return []string{m.words.Growing}
	}
	return m.words.Answer
}

// room is what list and card have together.
func (m Model) room() int { return max(m.height-len(m.head(layout.PageOf(m.width)))-1, 0) }

// shown is how many items of the list have a row.
func (m Model) shown() int {
	n := m.count(m.open)
	switch {
	case m.beside():
		return min(n, max(m.room()-1, 1))
	case m.near && m.open == lots:
		return min(n, 1)
	case m.height < roomy:
		return min(n, 3)
	}
	return min(n, max((m.room()-2)/3, 3))
}

// cardRoom is how many rows the card has.
func (m Model) cardRoom() int {
	if m.beside() {
		return m.room()
	}
	return max(m.room()-m.shown()-2, 0)
}

// cardPage is where the card stands.
func (m Model) cardPage() layout.Page {
	page := layout.PageOf(m.width)
	if m.beside() {
		return layout.Page{Margin: cardFrom, Width: page.End() - cardFrom}
	}
	return page
}

// list is the open list, its heading first, scrolled to the cursor.
func (m Model) list(page layout.Page) []string {
	end := page.End()
	if m.beside() {
		end = listEnd
	}
	if m.count(m.open) == 0 {
		return m.empty(page, end)
	}
	c := m.columnsOf(page, end)
	rows := []string{c.heading(m.theme, m.open)}
	n := m.shown()
	from := max(0, min(m.at[m.open]-n/2, m.count(m.open)-n))
	for i := from; i < from+n; i++ {
		rows = append(rows, m.item(c, i))
	}
	return rows
}

// item is one row of the list, its id hung out under the cursor.
func (m Model) item(c columns, i int) string {
	r := layout.Row{}
	name := layout.Cut(m.id(m.open, i), c.idRoom)
	if i == m.at[m.open] {
		r = r.At(0, m.theme.In(theme.Accent, "▌")).At(c.id-1, m.theme.HungOut(name))
	} else {
		r = r.At(c.id, m.theme.Bold(name))
	}
	if m.open == cultures {
		return c.culture(m.theme, r, m.words.Cultures[i])
	}
	return c.lot(m.theme, r, m.words.Lots[i])
}

// empty says how the list is begun.
func (m Model) empty(page layout.Page, end int) []string {
	text := "A lot of honey stands here with what is left of it, how wet it is and what it makes: + writes one down."
	if m.open == cultures {
		text = "A culture stands here with its descent, its passages and its proof: + writes one down, from the day that it is collected."
	}
	return widget.Told(page, page.Margin, end, "", text)
}
