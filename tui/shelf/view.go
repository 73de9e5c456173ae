package shelf

import (
	"slices"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// The tags that there is room for without giving way, and at most.
const (
	usualTag  = 6
	widestTag = 12
)

// View draws the shelf.
func (m Model) View(f screen.Frame) string { return f.Draw(view{m, f}.drawn) }

func (m view) drawn() []string {
	page := m.Page()
	rows := []string{m.head(page), ""}
	if m.items() == 0 {
		return append(rows, m.empty(page)...)
	}
	return append(rows, m.body(page)...)
}

func (m view) head(page layout.Page) string {
	r := layout.Row{}
	if m.Width >= withBar {
		r = r.At(page.Margin, m.Theme.Bold(m.Sheet.Title()))
	}
	about := "the shelf"
	if m.items() > 0 {
		about += ": " + m.words.Total
	}
	return r.At(max(r.End()+3, page.Margin), about).Until(page.End(), widget.Counts(m.Theme, m.words.Counts, "   ")).In(m.Width)
}

func (m view) empty(page layout.Page) []string {
	rows := []string{layout.Row{}.At(page.Margin, m.Theme.Bold("Nothing stands in bottles yet.")).In(page.End()), ""}
	rows = append(rows, widget.Told(page, page.Margin, page.End(), "", "A bottling stands here with its counts, what each bottle is for and what comes due.")...)
	return append(rows, "", layout.Row{}.At(page.Margin, m.Theme.Faint(m.words.Made)).In(page.End()))
}

// roomy is the height from which there are blank rows and reasons, and what was
// made.
const roomy = 30

// body is what is due, the bottles, the selected batch from near, and what was
// made. Reasons of what is merely due give way first, then rows of the table,
// which scrolls with the cursor; the card takes what is left.
func (m view) body(page layout.Page) []string {
	due, table, room := m.parts(page)
	rows := append(append(due, table...), "")
	rows = append(rows, widget.Scrolled(m.Theme, page, page.End(), m.card(page, room), m.top, room)...)
	if m.Height < roomy {
		return rows
	}
	for len(rows) < m.Height-5 {
		rows = append(rows, "")
	}
	return append(rows, layout.Row{}.At(page.Margin, m.Theme.Faint(m.words.Made)).In(page.End()))
}

// leastCard are the rows that the card keeps for itself; what tells of a danger
// is seen whole.
func (m view) leastCard(page layout.Page) int {
	if r, is := m.row(); is && r.Card.Caution.Word == words.Stop {
		return max(len(m.caution(page, r.Card.Caution))+1, 4)
	}
	return 4
}

// parts are the rows above the card, and the room for it.
func (m view) parts(page layout.Page) (due, table []string, room int) {
	total := m.Height - 4 // without the head, its blank row, the one before the card and the foot
	if m.Height >= roomy {
		total -= 3 // what was made, between blank rows
	}
	total -= m.leastCard(page)
	due = m.due(page, total-1-min(len(m.words.Rows), 2))
	table = m.table(page, total-len(due))
	return due, table, total + m.leastCard(page) - len(due) - len(table)
}

func (m view) lastTop() int {
	if !m.Fits() || m.items() == 0 {
		return 0
	}
	page := m.Page()
	_, _, room := m.parts(page)
	return widget.LastTop(m.card(page, room), room)
}

// table is the bottles in so many rows.
func (m view) table(page layout.Page, most int) []string {
	c := columnsOf(page, m.Width, m.tagRoom())
	var rows []string
	for i, b := range m.words.Rows {
		rows = append(rows, m.lead(len(m.words.Due)+i == m.at, b.Trial, []string{b.Tag}, []string{b.ID}, c.row(m.Theme, b)))
	}
	r, _ := m.row()
	at := slices.IndexFunc(m.words.Rows, func(o words.ShelfRow) bool { return o.ID == r.ID && o.Batch == r.Batch })
	return append([]string{c.heading(m.Theme)}, around(rows, max(at, 0), max(most-1, 1))...)
}

// around are as many rows as there is room for, with one of them in sight.
func around(rows []string, at, room int) []string {
	from := max(0, min(at-room+1, len(rows)-room))
	return rows[from:min(from+max(room, 0), len(rows))]
}

// lead is what stands left of a row: the cursor bar, the string of a trial, the
// tags, hung out where their vessel is selected.
func (m view) lead(on bool, trial string, tags, ids []string, row string) string {
	bar := " "
	if on {
		bar = m.Theme.In(theme.Accent, "▌")
	}
	page := m.Page()
	if page.Margin < 3 {
		if !on && trial != "" {
			bar = trial
		}
		return layout.Lead(bar+m.tags(tags, ids), row)
	}
	if trial == "" {
		trial = " "
	}
	return layout.Lead(bar+trial+m.tags(tags, ids), row)
}

func (m view) tags(tags, ids []string) string {
	text := ""
	for i, tag := range tags {
		tag = layout.Cut(tag, m.tagRoom())
		if ids[i] == m.Subject() {
			text += m.Theme.HungOut(tag)
		} else {
			text += " " + m.Theme.Bold(tag) + " "
		}
	}
	return text
}

// tagRoom is the room that a tag has.
func (m view) tagRoom() int {
	room := usualTag
	for _, r := range m.words.Rows {
		room = max(room, layout.Width(r.Tag))
	}
	if m.Width < withBar {
		return min(room, usualTag)
	}
	return min(room, widestTag)
}
