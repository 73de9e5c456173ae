package bench

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment"
	figures "cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// The columns of a form, and the room that the list of figures takes beside it
// where there is room.
const (
	valueColumn = 18
	fromColumn  = 33
	listWidth   = 18
	besideFrom  = 96
)

// end is the column that the answer and the form may go up to.
func (m view) end() int {
	end := m.Page().End()
	if m.Width >= besideFrom {
		end -= listWidth
	}
	return end
}

// View draws the bench.
func (m Model) View(f screen.Frame) string { return f.Draw(m.in(f).drawn) }

func (m view) drawn() []string {
	page, end := m.Page(), m.end()
	beside := m.Width >= besideFrom
	rows := []string{m.head(page), ""}
	if m.listing && !beside {
		rows = append(rows, m.list(m.Height-4)...)
	} else {
		rows = append(rows, m.body(page, end)...)
	}
	rows = append(rows, make([]string, m.Height)...)[:m.Height-1]
	if beside {
		for i, name := range m.list(m.Height - 4) {
			rows[2+i] = layout.Row{}.At(0, layout.Cut(rows[2+i], end)).At(end+2, strings.TrimPrefix(name, strings.Repeat(" ", page.Margin))).In(m.Width)
		}
	}
	return rows
}

func (m view) head(page layout.Page) string {
	r := layout.Row{}.At(page.Margin, m.Theme.Bold("bench")).At(page.Margin+9, m.open().Use)
	if m.has {
		r = r.Until(page.End(), "values of "+m.vessel.Label())
	}
	return r.In(m.Width)
}

// body is the answer on top, the form, and under them what it rests on, which
// scrolls.
func (m view) body(page layout.Page, end int) []string {
	rows, under, room := m.parts(page, end)
	return append(rows, widget.Scrolled(m.Theme, page, end, under, m.top, room)...)
}

// parts are the rows that stand, those under them, and the room for these.
func (m view) parts(page layout.Page, end int) (standing, under []string, room int) {
	answer, err := m.answer()
	standing = append(append(m.result(page, end, answer, err), ""), m.form(page, end)...)
	standing = append(standing, "")
	return standing, m.under(page, end, answer, err), max(m.Height-4-len(standing), min(m.Height-3-len(standing), 1))
}

// result is the plain answer, as many numbers to a row as fit; or what keeps
// there from being one.
func (m view) result(page layout.Page, end int, a figures.Answer, err error) []string {
	if err != nil {
		return m.marked(page, end, words.Warn, measure.Prose(err.Error(), m.units))
	}
	var rows []string
	r := layout.Row{}
	for _, res := range a.Results {
		number, unit := res.In(m.units)
		part := m.Theme.Bold(strings.TrimSpace(number+" "+unit)) + " " + res.Label()
		switch {
		case r.End() == 0:
			r = r.At(page.Margin, part)
		case r.End()+3+layout.Width(part) > end:
			rows = append(rows, r.In(end))
			r = layout.Row{}.At(page.Margin, part)
		default:
			r = r.At(r.End()+3, part)
		}
	}
	return append(rows, r.In(end))
}

// form is one row a field: its name, what stands in it, where that came from.
func (m view) form(page layout.Page, end int) []string {
	var rows []string
	for i, k := range m.keys() {
		text, from := m.value(k)
		r := layout.Row{}
		if i == m.field && !m.listing {
			r = r.At(0, m.Theme.In(theme.Accent, "▌"))
		}
		r = r.At(page.Margin, strings.ReplaceAll(k.Name, "-", " "))
		switch {
		case m.typing && i == m.field:
			r = r.At(valueColumn, m.text.Drawn(m.Theme, fromColumn-valueColumn-2))
		case text == "":
			r = r.At(valueColumn, "·")
		default:
			r = r.At(valueColumn, text)
		}
		rows = append(rows, r.At(fromColumn, m.Theme.Faint(from)).In(end))
	}
	if len(m.open().Ways) > 1 {
		rows = append(rows, layout.Row{}.At(page.Margin, m.Theme.Faint(fmt.Sprintf("← → another way to give it, %d of %d", m.way+1, len(m.open().Ways)))).In(end))
	}
	return rows
}

// under is what the answer rests on: its table, cautions, what was assumed,
// equation, source and uncertainty.
func (m view) under(page layout.Page, end int, a figures.Answer, err error) []string {
	f := m.open()
	var rows []string
	if err == nil {
		if rows = m.table(page, end, a.Table); len(rows) > 0 {
			rows = append(rows, "")
		}
		rows = append(rows, m.gate(page, end)...)
		for _, c := range a.Cautions {
			rows = append(rows, m.marked(page, end, words.Word(c.Loud), c.Text)...)
		}
		for i, assumed := range a.Assumed {
			rows = append(rows, m.named(page, end, first(i, "assumed"), assumed)...)
		}
	}
	for _, said := range [][2]string{{"sure to", f.Uncertainty}, {"equation", f.Equation}, {"source", f.Source}, {"range", f.Range}, {"checked to", f.Within}} {
		rows = append(rows, m.named(page, end, said[0], said[1])...)
	}
	return rows
}

// gate says that the vessel may not be bottled with sugar yet, where what is
// worked out is about that.
func (m view) gate(page layout.Page, end int) []string {
	if name := m.open().Name; !m.has || name != "prime" && name != "pressure" {
		return nil
	}
	for _, g := range m.vessel.Day.Gates {
		if g.Name == ferment.ConditioningGate && !g.Open {
			return m.marked(page, end, words.Stop, "bottle-conditioning is shut for "+m.vessel.Label()+": "+g.Says)
		}
	}
	return nil
}

func first(i int, word string) string {
	if i == 0 {
		return word
	}
	return ""
}

const wordColumn = 15

// marked is a sentence after its word with its mark.
func (m view) marked(page layout.Page, end int, w words.Word, text string) []string {
	return widget.Told(page, wordColumn, end, widget.Word(m.Theme, w), text)
}

func (m view) named(page layout.Page, end int, name, text string) []string {
	return widget.Told(page, wordColumn, end, m.Theme.Faint(name), text)
}

// table lays a small table out in columns that fit.
func (m view) table(page layout.Page, end int, t figures.Table) []string {
	if len(t.Rows) == 0 {
		return nil
	}
	widths := make([]int, len(t.Head))
	for _, row := range append([][]string{t.Head}, t.Rows...) {
		for i, cell := range row {
			widths[i] = max(widths[i], layout.Width(cell))
		}
	}
	rows := []string{}
	for n, row := range append([][]string{t.Head}, t.Rows...) {
		r, at := layout.Row{}, page.Margin
		for i, cell := range row {
			if n == 0 {
				cell = m.Theme.Faint(cell)
			}
			r = r.At(at, cell)
			at += widths[i] + 3
		}
		rows = append(rows, r.In(end))
	}
	return rows
}

// list is the names of the figures, the open one marked, scrolled to it.
func (m view) list(room int) []string {
	from := widget.Within(m.figure-room/2, max(len(all)-room, 0)+1)
	var rows []string
	for i := from; i < len(all) && len(rows) < room; i++ {
		name := "  " + all[i].Name
		if i == m.figure {
			name = "● " + all[i].Name
			if m.listing {
				name = m.Theme.HungOut(all[i].Name)
			}
		}
		r := layout.Row{}
		if i == m.figure && m.listing && m.Width < besideFrom {
			r = r.At(0, m.Theme.In(theme.Accent, "▌"))
		}
		rows = append(rows, r.At(m.Page().Margin, name).In(m.Width))
	}
	return rows
}
