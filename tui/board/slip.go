package board

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/schedule/sheet"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// slip is a narrow strip of paper: each task under its tag.
type slip struct {
	theme theme.Theme
	width int
}

func (p slip) task(l sheet.Line) []string {
	state := max(8, layout.Width(l.Tag)+2)
	head := layout.Row{}.At(0, p.theme.Bold(l.Tag)).At(stateAt(grid{state: state}, l), widget.Word(p.theme, l.Word))
	rows := []string{head.Until(p.width, l.Until).In(p.width)}
	w := p.width - 2
	if l.Word == sheet.Lapsed {
		return append(rows, indented(layout.Wrap(strings.TrimSuffix(l.Act+": "+l.Reason, ": "), w))...)
	}
	g := grid{text: 2, point: 17, unit: 20, end: p.width}
	row := amountInto(layout.Row{}.At(2, loud(p.theme, l, l.Act)), p.theme, g, l)
	switch {
	case l.Of == "":
	case l.Amount.Words != "" && row.End()+2+layout.Width(l.Of) <= p.width:
		row = row.At(row.End(), ", "+l.Of)
	default:
		rows = append(rows, row.In(p.width))
		row = layout.Row{}.At(16, l.Of)
	}
	rows = append(append(rows, row.In(p.width)), secondMeasure(g, l)...)
	rows = append(rows, indented(reasonRows(l, w, p.tells(l)))...)
	return append(rows, indented(layout.Wrap(instead(l), w))...)
}

// tells: a slip has no end, but what is merely due says how in a breath.
func (p slip) tells(l sheet.Line) telling {
	switch l.Word {
	case sheet.Due, sheet.Option:
		return brief
	}
	return full
}

func instead(l sheet.Line) string {
	if l.Instead == "" {
		return ""
	}
	return "→ " + l.Instead
}

func indented(rows []string) []string {
	for i, r := range rows {
		rows[i] = "  " + r
	}
	return rows
}
