package shelf

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

func (m Model) View(f screen.Frame) string { return f.Draw(view{m, f}.drawn) }

func (m view) drawn() []string {
	page := m.Page()
	rows := []string{m.head(page), ""}
	if m.items() > 0 {
		return append(rows, m.body(page)...)
	}
	rows = append(rows, layout.Row{}.At(page.Margin, m.Theme.Bold("Nothing is bottled yet.")).In(page.End()), "")
	rows = append(rows, widget.Labelled(page, page.Margin, page.End(), "", "Each bottling is listed here: how many bottles, what each is for and what comes due.")...)
	return append(rows, "", layout.Row{}.At(page.Margin, m.Theme.Faint(m.words.Made)).In(page.End()))
}

func (m view) head(page layout.Page) string {
	r := layout.Row{}
	if m.Width >= withBar {
		r = r.At(page.Margin, m.Theme.Bold(m.Sheet.Title()))
	}
	about, counts, at := "the shelf", widget.Counts(m.Theme, m.words.Counts, "   "), max(r.End()+3, page.Margin)
	if m.items() > 0 {
		about = layout.CutClauses("the shelf: "+m.words.Total, page.End()-layout.Width(counts)-2-at)
	}
	return r.At(at, about).Until(page.End(), counts).In(m.Width)
}

// roomy is the height from which there are blank rows, reasons, and the year's total.
const roomy = 30

// body returns tasks, bottles, the selected batch, and the year's total. If there is little room, reasons are left out
// first, then rows of the table, which scrolls; the card gets the rest.
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

// leastCard returns the least number of rows of the card, so that a danger is whole.
func (m view) leastCard(page layout.Page) int {
	if r, is := m.row(); is && r.Card.Caution.Word == words.Stop {
		return max(len(m.caution(page, r.Card.Caution))+1, 4)
	}
	return 4
}

// parts divides the rows between tasks, table and card.
func (m view) parts(page layout.Page) (due, table []string, room int) {
	total := m.Height - 4 // without the title, its blank row, the one before the card and the footer
	if m.Height >= roomy {
		total -= 3 // the year's total between blank rows
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

func (m view) table(page layout.Page, most int) []string {
	columns := m.columns(page)
	var rows []string
	for i, b := range m.words.Rows {
		rows = append(rows, m.lead(len(m.words.Due)+i == m.at, b.Trial, layout.Cut(b.Tag, m.tagRoom()), b.ID == m.Subject(), widget.Item(layout.Row{}, columns, b, page.End())))
	}
	r, _ := m.row()
	at := slices.IndexFunc(m.words.Rows, func(o words.ShelfRow) bool { return o.ID == r.ID && o.Batch == r.Batch })
	room := max(most-1, 1)
	from := max(0, min(max(at, 0)-room+1, len(rows)-room))
	return append([]string{widget.Heading(m.Theme, columns, page.End())}, rows[from:min(from+room, len(rows))]...)
}

// lead puts cursor bar, sign of a trial and tag before a row, the tag highlighted if it is chosen.
func (m view) lead(on bool, trial, tag string, chosen bool, row string) string {
	bar := " "
	if on {
		bar = m.Theme.In(theme.Accent, "▌")
	}
	switch narrow := m.Page().Margin < 3; {
	case !narrow:
		bar += cmp.Or(trial, " ")
	case !on:
		bar = cmp.Or(trial, bar)
	}
	if chosen {
		return layout.Overlay(bar+m.Theme.Tag(tag), row)
	}
	return layout.Overlay(bar+" "+m.Theme.Bold(tag), row)
}

func (m view) tagRoom() int {
	room := 6
	if m.Width < withBar {
		return room
	}
	for _, r := range m.words.Rows {
		room = max(room, layout.Width(r.Tag))
	}
	return min(room, 12)
}

// due returns the tasks in so many rows, as on the board, and a blank row.
func (m view) due(page layout.Page, room int) []string {
	if len(m.words.Due) == 0 {
		return nil
	}
	// Whose reasons are shown, with less and less room: all tasks; dangers and the one under the cursor; dangers.
	tells := []func(int) bool{
		func(int) bool { return true }, func(i int) bool { return i == m.at || m.dangers(i) }, m.dangers,
	}
	if m.Height < roomy {
		tells = tells[1:]
	}
	var blocks [][]string
	for _, tell := range tells {
		blocks = m.blocks(page, tell)
		if rows := slices.Concat(blocks...); len(rows) < room {
			return append(rows, "")
		}
	}
	return m.window(page, blocks, room)
}

// window returns as many blocks as fit, including the one under the cursor, and counts the rest.
func (m view) window(page layout.Page, blocks [][]string, room int) []string {
	from, to := min(m.at, len(blocks)-1), min(m.at, len(blocks)-1)+1
	rows := blocks[from]
	for from > 0 && len(rows)+len(blocks[from-1]) < room {
		from--
		rows = slices.Concat(blocks[from], rows)
	}
	for to < len(blocks) && len(rows)+len(blocks[to]) < room {
		rows = slices.Concat(rows, blocks[to])
		to++
	}
	more := ""
	if rest := len(blocks) - (to - from); rest > 0 {
		more = layout.Row{}.At(page.Margin, m.Theme.Faint(fmt.Sprintf("%d more to do", rest))).In(page.End())
	}
	return append(slices.Clone(rows[:min(len(rows), max(room-1, 1))]), more)
}

// dangers reports whether a task is a danger, late, or held.
func (m view) dangers(i int) bool {
	w := m.words.Due[i].Line.Word
	return w != words.Due && w != words.AnyDay && w != words.Option
}

// blocks returns the rows of each task; tell says which tell their reason.
func (m view) blocks(page layout.Page, tell func(int) bool) [][]string {
	var blocks [][]string
	for i, t := range m.words.Due {
		b := m.block(page, t, i == m.at, tell(i))
		if i > 0 && m.Height >= roomy {
			b = append([]string{""}, b...)
		}
		blocks = append(blocks, b)
	}
	return blocks
}

// block returns one task: tags, word, act and until when; under it why, how, what instead.
func (m view) block(page layout.Page, t words.ShelfTask, on, tell bool) []string {
	l, room := t.Line, m.tagRoom()
	for _, t := range m.words.Due { // two share a tag
		room = max(room, min(layout.Width(t.Line.Tag), 12))
	}
	state := page.Margin + room + 3
	text, at := state+10, state
	if l.Word.OnField() {
		at-- // its background begins a column further left
	}
	head := layout.Row{}.At(at, widget.Word(m.Theme, l.Word)).At(text, m.Theme.Bold(layout.CutClauses(l.Act, page.End()-text)))
	until := l.Until
	if head.Fits(page.End(), until) {
		head, until = head.Until(page.End(), until), ""
	}
	rows := []string{head.In(page.End())}
	if l.Alarm != nil && m.Width >= withBar { // otherwise the caution says it
		for i, step := range l.Alarm.Steps {
			rows = append(rows, layout.Row{}.Wrapped(text, page.End(), strconv.Itoa(i+1)+" "+step, m.Theme.Bold)...)
		}
	} else if tell && l.Alarm == nil {
		rows = append(rows, layout.Row{}.Wrapped(text, page.End(), l.Reason, layout.Unstyled)...)
	}
	rows = append(rows, layout.Row{}.At(state, words.Do.String()).Wrapped(text, page.End(), l.Instead, m.Theme.Bold)...)
	if until != "" {
		if len(rows) == 1 {
			rows = append(rows, "")
		}
		rows[1] = layout.Row{}.At(0, rows[1]).Until(page.End(), until).In(page.End())
	}
	rows[0] = m.lead(on, "", layout.Cut(l.Tag, room), slices.Contains(t.Subjects, m.Subject()), rows[0])
	for i := 1; on && i < len(rows); i++ {
		rows[i] = layout.Overlay(m.Theme.In(theme.Accent, "▌"), rows[i])
	}
	return rows
}

// card returns the details of the selected batch: how it was bottled, what opened bottles showed, the pressure, and
// cautions; those are first in a danger and where not all of it fits.
func (m view) card(page layout.Page, room int) []string {
	r, is := m.row()
	if !is {
		return nil
	}
	c := r.Card
	how := append(m.how(page, r), widget.Labelled(page, m.column(page), page.End(), "", c.Kinds)...)
	facts, watch := m.openings(page, c), m.caution(page, c.Caution)
	if t, due := m.task(); due && t.Line.Alarm != nil && m.Width >= withBar { // it says what to do already
		watch = nil
	}
	parts := [][]string{how, facts, watch}
	if c.Caution.Word == words.Stop || len(slices.Concat(parts...)) > room {
		parts = [][]string{watch, how, facts}
	}
	if rows := spaced(parts); len(rows) <= room {
		return rows
	}
	return slices.Concat(parts...)
}

// spaced returns parts with a blank row between them.
func spaced(parts [][]string) []string {
	var rows []string
	for _, p := range parts {
		if len(rows) > 0 && len(p) > 0 {
			rows = append(rows, "")
		}
		rows = append(rows, p...)
	}
	return rows
}

func (m view) column(page layout.Page) int { return page.Margin + m.tagRoom() + 3 }

// how returns how the selected batch was bottled, behind its tag.
func (m view) how(page layout.Page, r words.ShelfRow) []string {
	rows := widget.Labelled(page, m.column(page), page.End(), "", r.Card.How)
	tag := layout.Row{}.At(page.Margin-1, m.Theme.Tag(layout.Cut(r.Tag, m.tagRoom())))
	rows[0] = layout.Overlay(tag.In(page.End()), rows[0])
	return rows
}

func (m view) caution(page layout.Page, l words.Line) []string {
	word := page
	if l.Word == words.Stop {
		word.Margin-- // its background begins a column further left
	}
	return widget.Labelled(word, m.column(page), page.End(), widget.Word(m.Theme, l.Word), l.Reason)
}

// The columns of the openings, from that of the text.
const (
	hissColumn   = 19
	foamColumn   = 29
	palateColumn = 39
)

// openings returns the opened bottles, how the soft one feels, and the expected pressure.
func (m view) openings(page layout.Page, c words.ShelfCard) []string {
	var rows []string
	at := m.column(page)
	if len(c.Openings) > 0 {
		r := layout.Row{}.At(at, m.Theme.Faint("opened")).At(at+hissColumn, m.Theme.Faint("hiss"))
		rows = append(rows, r.At(at+foamColumn, m.Theme.Faint("foam")).At(at+palateColumn, m.Theme.Faint("palate")).In(page.End()))
	}
	for _, o := range c.Openings {
		r := layout.Row{}.At(at, o.When).Ending(at+hissColumn+4, o.Hiss, m.Theme.Bold)
		rows = append(rows, r.At(at+foamColumn, m.Theme.Bold(o.Foam)).At(at+palateColumn, o.Palate).In(page.End()))
	}
	if c.Soft != "" {
		rows = append(rows, layout.Row{}.At(at, "soft bottle").At(at+hissColumn, m.Theme.Bold(c.Soft)).At(at+foamColumn, c.SoftOn).In(page.End()))
	}
	return append(rows, widget.Labelled(layout.Page{Margin: at}, at+hissColumn, page.End(), "expected", c.Expected)...)
}
