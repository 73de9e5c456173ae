package honey

import (
	"slices"

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
	for i, name := range names {
		if list(i) == m.open {
			name = m.Theme.Tag(name)
		} else {
			name = " " + name + " "
		}
		r = r.At(r.End()+2, name)
	}
	rows := []string{r.In(page.End()), ""}
	for _, line := range [][]string{m.words.Answer, {m.words.Growing}, {m.words.Closed + "; sorted by " + words.PastBy[m.by]}}[m.open] {
		rows = append(rows, layout.Row{}.Wrapped(page.Margin, page.End(), line, m.Theme.Bold)...)
	}
	return append(rows, "")
}

func (m view) room() int { return max(m.Height-len(m.head(m.Page()))-1, 0) }

// shown returns how many items of the list have a row.
func (m view) shown() int {
	n := len(m.ids(m.open))
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
	end, n := page.End(), len(m.ids(m.open))
	if m.beside() {
		end = listEnd
	}
	if n == 0 {
		return widget.Labelled(page, page.Margin, end, "", []string{
			"Each lot of honey is listed here: what is left of it, its water and what it makes. + adds one.",
			"Each culture is listed here: where it is from, its steps and its proof. + adds one, from the day it is collected.",
			"Each closed ferment is listed here: what it became, how it tasted and whether to make it again."}[m.open])
	}
	// An id has 7 to 20 columns.
	room, most := 7, 20
	for _, id := range m.ids(m.open) {
		room = max(room, layout.Width(id))
	}
	if end < 66 {
		most = 16
	}
	room = min(room, most)
	switch after := page.Margin + room; m.open {
	case cultures:
		return rowsOf(m, m.cultureColumns(after, end), m.words.Cultures, room, end)
	case past:
		return rowsOf(m, m.pastColumns(after, end), m.words.Past, room, end)
	default:
		return rowsOf(m, m.lotColumns(after, end), m.words.Lots, room, end)
	}
}

// rowsOf returns the heading and the items around the cursor, the id of the one under it highlighted.
func rowsOf[T any](m view, columns []widget.Column[T], items []T, room, end int) []string {
	rows, n := []string{widget.Heading(m.Theme, columns, end)}, m.shown()
	from := max(0, min(m.at[m.open]-n/2, len(items)-n))
	for i := from; i < from+n; i++ {
		id, margin := layout.Cut(m.ids(m.open)[i], room), columns[0].At
		r := layout.Row{}.At(margin, m.Theme.Bold(id))
		if i == m.at[m.open] {
			r = layout.Row{}.At(0, m.Theme.In(theme.Accent, "▌")).At(margin-1, m.Theme.Tag(id))
		}
		rows = append(rows, widget.Item(r, columns, items[i], end))
	}
	return rows
}

// The columns of each list, after its ids and up to an end.

func (m view) lotColumns(after, end int) []widget.Column[words.LotCard] {
	type lot = words.LotCard
	columns := []widget.Column[lot]{
		{Name: "lot", At: m.Page().Margin},
		{Name: "left", At: after + 11, Ends: true, Of: func(l lot) string { return l.Left }, Set: m.Theme.Bold},
		{Name: "water", At: after + 19, Ends: true, Of: func(l lot) string { return l.Water }},
		{Name: "  use", At: after + 22, Of: func(l lot) string { return marked(m.Theme, l.Word, l.Keeps) }},
		{Name: "name", At: after + 39, Of: func(l lot) string { return layout.Cut(l.Name, end-46-after) }},
		{Name: "age", At: end, Ends: true, Of: func(l lot) string { return l.Age }},
	}
	if end-46-after < leastName {
		columns = slices.Delete(columns, 4, 5)
	}
	return columns
}

func (m view) cultureColumns(after, end int) []widget.Column[words.CultureCard] {
	type culture = words.CultureCard
	columns := []widget.Column[culture]{
		{Name: "culture", At: m.Page().Margin},
		{Name: "gen", At: after + 5, Ends: true, Of: func(k culture) string { return k.Generation }},
		{Name: "  verdict", At: after + 8, Of: func(k culture) string { return marked(m.Theme, k.Word, k.Verdict) }},
		{Name: "reached", At: after + 22, Of: func(k culture) string { return k.Reached }},
		{Name: "left", At: after + 47, Ends: true, Of: func(k culture) string { return k.Left }, Set: m.Theme.Bold},
		{Name: "stored", At: end, Ends: true, Of: func(k culture) string { return k.Age }},
	}
	if after+47+8 > end { // the card says it
		columns = slices.Delete(columns, 4, 5)
	}
	return columns
}

// pastColumns has the honey last, or the yeast where it is sorted by that.
func (m view) pastColumns(after, end int) []widget.Column[words.PastCard] {
	type card = words.PastCard
	last, of := "honey", func(c card) string { return c.Honey }
	if words.PastBy[m.by] == "yeast" {
		last, of = "yeast", func(c card) string { return c.Yeast }
	}
	columns := []widget.Column[card]{
		{Name: "ferment", At: m.Page().Margin},
		{Name: "closed", At: after + 11, Ends: true, Of: func(c card) string { return c.Closed }},
		{Name: "% vol", At: after + 18, Ends: true, Of: func(c card) string { return c.Strength }},
		{Name: "score", At: after + 25, Ends: true, Of: func(c card) string { return c.Score }, Set: m.Theme.Bold},
		{Name: "again", At: after + 27, Of: func(c card) string { return c.Again }},
		{Name: last, At: after + 41, Of: func(c card) string { return layout.Cut(of(c), end-41-after) }},
	}
	if end-41-after < leastName {
		columns = columns[:5]
	}
	return columns
}

const leastName = 14

// marked returns a text after the mark of a word, in its place also without one.
func marked(t theme.Theme, w words.Word, text string) string {
	if w == "" {
		return "  " + text
	}
	mark := string(w.Mark())
	if w.OnField() {
		w = words.Late // a background would touch the text
	}
	return widget.InWord(t, w, mark) + " " + text
}
