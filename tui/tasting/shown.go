package tasting

import (
	"fmt"

	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/widget"
)

// shown is which was which, and what was ever tasted of them, lined up by age.
func (m view) shown(page layout.Page) []string {
	var rows []string
	if m.want.Blind {
		for _, g := range m.glasses {
			rows = append(rows, layout.Row{}.At(page.Margin, m.Theme.Bold(fmt.Sprint(g.code))).At(textColumn, m.Theme.Bold(g.poured.Vessel.Label())).In(page.End()))
		}
		rows = append(rows, "")
	}
	if m.triangle {
		rows = append(append(rows, m.answer(page)...), "")
	}
	return append(rows, m.tastings(page)...)
}

// answer says whether the odd one was found, and what all the tests so far
// amount to.
func (m view) answer(page layout.Page) []string {
	says := fmt.Sprintf("it was %d; %d was said", m.odd, m.said())
	if m.odd == m.said() {
		says = fmt.Sprintf("it was %d, as said", m.odd)
	}
	rows := widget.Told(page, textColumn, page.End(), m.Theme.Faint("odd one"), says)
	r := m.result()
	so := fmt.Sprintf("%d of %d so far; ", r.Right, r.Tests)
	switch {
	case r.Needed == 0:
		so += "too few to show anything: at least three"
	case r.Shown():
		so += fmt.Sprintf("that shows a difference: guessing does as well in %s %% of such series", measure.Decimal(100*r.Chance, 1))
	default:
		so += fmt.Sprintf("%d of %d would show a difference (at 5 %%, as in ISO 4120)", r.Needed, r.Tests)
	}
	return append(rows, widget.Told(page, textColumn, page.End(), m.Theme.Faint("found"), so)...)
}

// ageColumn is where the words stand behind their ages.
const ageColumn = 15

// tastings are all of them by age, each glass in a column of its own.
func (m view) tastings(page layout.Page) []string {
	each := (page.End() - ageColumn) / max(len(m.kept.Labels), 1)
	head := layout.Row{}.At(page.Margin, m.Theme.Faint("by age"))
	for i, label := range m.kept.Labels {
		head = head.At(ageColumn+i*each, m.Theme.Bold(label))
	}
	rows := []string{head.In(page.End())}
	for _, t := range m.kept.Tastings {
		rows = append(rows, m.tasting(page, t, each)...)
	}
	return rows
}

func (m view) tasting(page layout.Page, t words.Compared, each int) []string {
	var cells [][]string
	most := 1
	for _, v := range t.Values {
		lines := layout.Wrap(v, each-2)
		cells, most = append(cells, lines), max(most, len(lines))
	}
	rows := make([]string, most)
	for y := range rows {
		r := layout.Row{}
		if y == 0 {
			r = r.At(page.Margin, t.Name)
		}
		for i, lines := range cells {
			if y < len(lines) {
				r = r.At(ageColumn+i*each, lines[y])
			}
		}
		rows[y] = r.In(page.End())
	}
	return rows
}
