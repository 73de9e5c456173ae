package shelf

import (
	"slices"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/widget"
)

// card is the selected batch from near: how it came into its bottles, what the
// opened ones showed, the pressure, what to watch, and which there are. In a
// small room the blank rows give way, then what to watch goes before the rest;
// a danger goes before everything.
func (m view) card(page layout.Page, room int) []string {
	r, is := m.row()
	if !is {
		return nil
	}
	c := r.Card
	how, watch, kinds := m.how(page, r), m.caution(page, c.Caution), widget.Told(page, m.column(page), page.End(), "", c.Kinds)
	facts := m.openings(page, c)
	parts := [][]string{how, facts, watch, kinds}
	if c.Caution.Word == words.Stop {
		parts = [][]string{watch, how, facts, kinds}
	}
	if rows := spaced(parts); len(rows) <= room {
		return rows
	}
	switch {
	case c.Caution.Word != words.Stop && len(how)+len(watch) >= room:
		return slices.Concat(watch, how, facts, kinds)
	case c.Caution.Word != words.Stop && len(how)+len(facts)+len(watch) >= room:
		return slices.Concat(how, watch, facts, kinds)
	}
	return slices.Concat(parts...)
}

// spaced are parts with a blank row between them.
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

// column is where the card's text begins.
func (m view) column(page layout.Page) int { return page.Margin + m.tagRoom() + 3 }

func (m view) how(page layout.Page, r words.ShelfRow) []string {
	rows := widget.Told(page, m.column(page), page.End(), "", r.Card.How)
	tag := layout.Row{}.At(page.Margin-1, m.Theme.HungOut(layout.Cut(r.Tag, m.tagRoom())))
	rows[0] = layout.Lead(tag.In(page.End()), rows[0])
	return rows
}

// caution is what is to be watched, its word set off.
func (m view) caution(page layout.Page, l words.Line) []string {
	word := page
	if l.Word == words.Stop {
		word.Margin-- // its field hangs out by a column
	}
	return widget.Told(word, m.column(page), page.End(), widget.Word(m.Theme, l.Word), l.Reason)
}

// The columns of what opened bottles showed, behind that of the text.
const (
	hissColumn   = 19
	foamColumn   = 29
	palateColumn = 39
)

// openings are the bottles that were opened, how the soft one feels, and the
// pressure that there should be.
func (m view) openings(page layout.Page, c words.ShelfCard) []string {
	var rows []string
	at := m.column(page)
	if len(c.Openings) > 0 {
		r := layout.Row{}.At(at, m.Theme.Faint("opened")).At(at+hissColumn, m.Theme.Faint("hiss"))
		rows = append(rows, r.At(at+foamColumn, m.Theme.Faint("foam")).At(at+palateColumn, m.Theme.Faint("palate")).In(page.End()))
	}
	for _, o := range c.Openings {
		r := endingIn(layout.Row{}.At(at, o.When), at+hissColumn+4, o.Hiss, m.Theme.Bold)
		rows = append(rows, r.At(at+foamColumn, m.Theme.Bold(o.Foam)).At(at+palateColumn, o.Palate).In(page.End()))
	}
	if c.Soft != "" {
		rows = append(rows, layout.Row{}.At(at, "soft bottle").At(at+hissColumn, m.Theme.Bold(c.Soft)).At(at+foamColumn, c.SoftOn).In(page.End()))
	}
	return append(rows, widget.Told(layout.Page{Margin: at}, at+hissColumn, page.End(), "expected", c.Expected)...)
}
