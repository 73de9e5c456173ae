package widget

import (
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// Card returns the selected vessel in a column of its own: its stem in 8 to 25 rows, its
// figures, and the end of its log where there is room. Column 0 is the edge of its
// highlighted tag.
func Card(t theme.Theme, r words.Row, w, h int) []string {
	inner := w - 1
	rows := cardHead(t, r, inner)
	figures := cardFigures(t, r.Card.Figures, inner)
	if room := h - len(rows) - len(figures) - 1; room >= 8 {
		rows = append(rows, Stem(t, r.Card.Stem, inner, min(room, 25))...)
	}
	if h-len(rows) >= len(figures)+1 {
		rows = append(append(rows, ""), figures...)
	}
	if left := h - len(rows) - 1; left >= 2 && inner >= roomyStem {
		rows = append(rows, "")
		for _, l := range r.Card.Log[:min(len(r.Card.Log), left)] {
			rows = append(rows, layout.Row{}.At(0, t.Faint(l.When)).At(11, l.What).In(inner))
		}
	}
	for i, row := range rows {
		if i > 0 && row != "" {
			rows[i] = " " + row
		}
	}
	return fit(rows, w, h)
}

// cardHead returns the tag, what the vessel is, and its day.
func cardHead(t theme.Theme, r words.Row, w int) []string {
	day, column := "day "+r.Day, 0
	if r.Day == words.Unknown {
		day = ""
	}
	head, about := layout.Row{}.At(0, t.HungOut(r.Tag)), r.Card.About
	if w >= roomyStem && len(about) > 0 {
		column = max(9, layout.Width(r.Tag)+2)
		head, about = head.At(column+1, about[0]), about[1:]
	} else if len(about) > 1 {
		about = about[:1]
	}
	rows := []string{head.Until(w+1, day).In(w + 1)}
	for _, more := range about {
		rows = append(rows, layout.Row{}.At(column, more).In(w))
	}
	return append(rows, "")
}

func cardFigures(t theme.Theme, fs []words.Figure, w int) []string {
	point, unit := 15, 20
	if w < roomyStem {
		point, unit = 13, 17
	}
	var rows []string
	for _, f := range fs {
		says := f.Unit
		if w < roomyStem {
			says = f.Short
		}
		rows = append(rows, layout.Row{}.At(0, f.Name).AtPoint(point, f.Number, t.Bold).At(unit, says).In(w))
	}
	return rows
}
