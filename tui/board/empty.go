package board

import (
	"cellar/jugkeeper/tui/layout"
)

// empty is the board of a cellar without a vessel: where it looks, and the ways
// on.
func (m Model) empty() []string {
	t, page := m.theme, layout.PageOf(m.width)
	line := func(text string) string { return layout.Row{}.At(page.Margin, text).In(page.End()) }
	way := func(key, does string, column int) string {
		return layout.Row{}.At(page.Margin, t.Bold(key)).At(column, does).In(page.End())
	}
	p := plan{m: m, page: page, grid: gridOf(page, m.sheet)}
	body := []string{line(t.Bold("No vessels yet.")), ""}
	for _, text := range layout.Wrap("This cellar is "+m.sheet.Dir+"; a file in its ferments is a vessel.", page.Width) {
		body = append(body, line(text))
	}
	body = append(body, "",
		way("?", "keys and words", p.grid.state), "",
		line("Or leave with "+t.Bold("q")+" and type"), "",
		way("jugkeeper demo", "an invented cellar to walk about in", page.Margin+22),
		way("jugkeeper new LIME-A", "a commented file for your editor", page.Margin+22))
	rows := make([]string, m.height)
	rows[0] = p.head()
	broken := p.broken()
	from := m.height - 1 - len(broken)
	copy(rows[top:from], body)
	copy(rows[from:], broken)
	rows[m.height-1] = layout.Row{}.At(page.Margin, layout.Cut(m.foot, page.Width)).In(page.End())
	return rows
}
