package board

import (
	"fmt"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// draw fills the screen from its top row to the last but one.
func (p view) draw() []string {
	rows := make([]string, p.Height)
	rows[0] = p.head()
	body := rows[top:]
	copy(body, p.taskList(p.tasks))
	if len(p.Below) == 0 {
		p.drawVessels(rows)
		p.beside(rows, p.under)
	} else {
		p.drawBelow(rows)
	}
	return rows
}

// drawVessels draws the vessels and what is broken.
func (p view) drawVessels(rows []string) {
	at := p.header
	if p.columns.headings {
		rows[at] = p.columns.heading(p.Theme)
		at++
	}
	n := copy(rows[at:p.under], p.vesselList(p.vessels))
	last := at + n - 1
	broken := p.broken()
	if p.under+1 > p.Height-1 { // no row of its own
		if len(broken) > 0 && last >= at {
			rows[last] = p.merged(rows[last])
		}
		return
	}
	from := p.Height - 1 - len(broken)
	if p.Height >= roomy {
		from--
	}
	copy(rows[from:], broken)
}

// drawBelow draws what stands in place of the vessels. Where it needs more rows
// than they had, the tasks scroll.
func (p view) drawBelow(rows []string) {
	last := p.Height - 1
	at := min(p.header, last-len(p.Below))
	if at < p.header {
		at = max(at, top+2)
		clear(rows[top:])
		copy(rows[top:at-1], p.taskList(at-1-top))
	}
	p.beside(rows, at-1)
	copy(rows[at:last], p.Below)
}

// beside draws the selected vessel's card down to a row.
func (p view) beside(rows []string, end int) {
	i := p.indexOfVessel(p.vessel)
	if p.cardAt == 0 || i < 0 {
		return
	}
	for y, text := range widget.Card(p.Theme, p.Sheet.Vessels[i], p.card, end-top) {
		rows[top+y] = layout.Pad(rows[top+y], p.cardAt) + text
	}
}

// head is the day and how many tasks stand under each word.
func (p view) head() string {
	title, gap := p.Sheet.Title(), "   "
	if p.grid.narrow {
		title, gap = p.Sheet.ShortTitle(), "  "
	}
	n := widget.Counts(p.Theme, p.Sheet.Counts, gap)
	if !(layout.Row{}).At(p.page.Margin, title).Fits(p.page.End(), n) {
		title = p.Sheet.ShortTitle()
	}
	return layout.Row{}.At(p.page.Margin, p.Theme.Bold(title)).Until(p.page.End(), n).In(p.page.End() + 1)
}

// broken are the files that were left out.
func (p view) broken() []string {
	bs, t := p.Sheet.Broken, p.Theme
	var rows []string
	for i, b := range bs {
		if i == mostBroken-1 && len(bs) > mostBroken {
			rows = append(rows, layout.Row{}.At(p.page.Margin, fmt.Sprintf("△ and %d more: jugkeeper check", len(bs)-i)).In(p.Width))
			break
		}
		rows = append(rows, p.brokenRow(t, b))
	}
	return rows
}

func (p view) brokenRow(t theme.Theme, b words.Broken) string {
	page := layout.PageOf(p.Width)
	where := t.In(theme.Warn, "△ "+b.Where)
	what := ": " + b.What
	if b.LeftOut != "" && layout.Width(where+what+b.LeftOut)+2 <= page.Width {
		what += "; " + b.LeftOut
	}
	return layout.Row{}.At(page.Margin, where+what).In(page.End())
}

// merged puts the first broken file at the right of a row that is short.
func (p view) merged(row string) string {
	where := p.Theme.In(theme.Warn, "△ "+p.Sheet.Broken[0].Where)
	return layout.Row{}.At(0, row).Until(p.page.End(), where).In(p.page.End())
}
