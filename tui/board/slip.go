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

func (p slip) write(s sheet.Sheet) string {
	rows := []string{p.theme.Bold(layout.Cut(s.ShortTitle(), p.width))}
	if len(s.Counts) > 0 {
		rows = append(rows, layout.Cut(counts(p.theme, s.Counts, "   "), p.width))
	}
	if s.Calm() {
		rows = append(append(rows, ""), calmLines(p.theme, s, p.width)...)
	}
	for i, l := range s.Tasks {
		if i == 0 || s.Tasks[i-1].Subject != l.Subject {
			rows = append(rows, "")
		}
		rows = append(rows, p.task(l)...)
	}
	rows = append(rows, "")
	for _, r := range s.Vessels {
		rows = append(rows, p.vessel(r))
	}
	return sheetOf(append(rows, footLines(p.theme, s, p.width)...))
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
	row := layout.Row{}.At(2, loud(p.theme, l, l.Act))
	if amountInto(row, p.theme, g, l).End() > p.width {
		rows = append(append(rows, row.In(p.width)), wordsUnder(p.theme, g, l)...)
		return append(rows, indented(reasonRows(l, w, p.tells(l)))...)
	}
	row = amountInto(row, p.theme, g, l)
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

func (p slip) vessel(r sheet.Row) string {
	at := max(8, layout.Width(r.Tag)+2)
	row := layout.Row{}.At(0, p.theme.Bold(r.Tag))
	c := columns{stage: at}
	row = c.stageInto(row, p.theme, r)
	if r.Quiet {
		return row.At(row.End()+1, r.Until).In(p.width)
	}
	row = row.At(at+12, p.theme.Bold(r.Gravity)+doubt(r))
	return row.Until(p.width, fmt.Sprintf("%s ago", r.Ago)).In(p.width)
}
