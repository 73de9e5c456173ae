package board

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// draw fills the screen from its top row to its last.
func (p plan) draw() []string {
	m := p.m
	rows := make([]string, m.height)
	rows[0] = p.head()
	body := rows[top:]
	copy(body, p.taskList(p.tasks))
	if !m.open {
		p.drawVessels(rows)
		p.beside(rows, p.foot)
	} else {
		p.drawBelow(rows)
	}
	rows[m.height-1] = strings.Repeat(" ", layout.PageOf(m.width).Margin) + layout.Cut(m.foot, layout.PageOf(m.width).Width)
	return rows
}

// drawVessels draws the vessels and what is broken.
func (p plan) drawVessels(rows []string) {
	at := p.header
	if p.columns.headings {
		rows[at] = p.columns.heading(p.m.theme)
		at++
	}
	n := copy(rows[at:p.foot], p.vesselList(p.vessels))
	last := at + n - 1
	broken := p.broken()
	if p.foot+1 > p.m.height-1 { // no row of its own
		if len(broken) > 0 && last >= at {
			rows[last] = p.merged(rows[last])
		}
		return
	}
	from := p.m.height - 1 - len(broken)
	if p.m.height >= roomy {
		from--
	}
	copy(rows[from:], broken)
}

// drawBelow draws what stands in place of the vessels. Where it needs more rows
// than they had, the tasks scroll.
func (p plan) drawBelow(rows []string) {
	last := p.m.height - 1
	at := min(p.header, last-len(p.m.below))
	if at < p.header {
		at = max(at, top+2)
		clear(rows[top:])
		copy(rows[top:at-1], p.taskList(at-1-top))
	}
	p.beside(rows, at-1)
	copy(rows[at:last], p.m.below)
}

// beside draws the selected vessel's card down to a row.
func (p plan) beside(rows []string, end int) {
	i := p.m.indexOfVessel(p.m.vessel)
	if p.cardAt == 0 || i < 0 {
		return
	}
	for y, text := range widget.Card(p.m.theme, p.m.sheet.Vessels[i], p.card, end-top) {
		rows[top+y] = layout.Pad(rows[top+y], p.cardAt) + text
	}
}

// head is the day and how many tasks stand under each word.
func (p plan) head() string {
	title, gap := p.m.sheet.Title(), "   "
	if p.grid.narrow {
		title, gap = p.m.sheet.ShortTitle(), "  "
	}
	n := widget.Counts(p.m.theme, p.m.sheet.Counts, gap)
	if !(layout.Row{}).At(p.page.Margin, title).Fits(p.page.End(), n) {
		title = p.m.sheet.ShortTitle()
	}
	return layout.Row{}.At(p.page.Margin, p.m.theme.Bold(title)).Until(p.page.End(), n).In(p.page.End() + 1)
}

// broken are the files that were left out.
func (p plan) broken() []string {
	bs, t := p.m.sheet.Broken, p.m.theme
	var rows []string
	for i, b := range bs {
		if i == mostBroken-1 && len(bs) > mostBroken {
			rows = append(rows, layout.Row{}.At(p.page.Margin, fmt.Sprintf("△ and %d more: jugkeeper check", len(bs)-i)).In(p.m.width))
			break
		}
		rows = append(rows, p.brokenRow(t, b))
	}
	return rows
}

func (p plan) brokenRow(t theme.Theme, b words.Broken) string {
	page := layout.PageOf(p.m.width)
	where := t.In(theme.Warn, "△ "+b.Where)
	what := ": " + b.What
	if b.LeftOut != "" && layout.Width(where+what+b.LeftOut)+2 <= page.Width {
		what += "; " + b.LeftOut
	}
	return layout.Row{}.At(page.Margin, where+what).In(page.End())
}

// merged puts the first broken file at the right of a row that is short.
func (p plan) merged(row string) string {
	where := p.m.theme.In(theme.Warn, "△ "+p.m.sheet.Broken[0].Where)
	return layout.Row{}.At(0, row).Until(p.page.End(), where).In(p.page.End())
}
