package board

import (
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// reasonRows are a line's reason in rows of w columns. A danger is told whole.
func reasonRows(l words.Line, w int, tell telling) []string {
	text := l.Reason
	if l.Frees != "" {
		text += ": " + l.Frees
	}
	if more := text + ", " + l.Ahead; l.Ahead != "" && text != "" && (tell == full || layout.Width(more) <= w) {
		text = more
	}
	switch {
	case tell == untold || text == "":
		return nil
	case tell == brief && layout.Width(text) > w:
		return []string{briefly(l, w)}
	}
	return layout.Wrap(text, w)
}

// briefly is a reason in one row: what frees it stays where a whole clause of
// the reason has room before it.
func briefly(l words.Line, w int) string {
	frees := ": " + l.Frees
	if room := w - layout.Width(frees); l.Frees != "" && layout.Width(layout.FirstClause(l.Reason)) <= room {
		return layout.CutClauses(l.Reason, room) + frees
	}
	return layout.CutClauses(l.Reason, w)
}

func insteadRows(t theme.Theme, g grid, l words.Line) []string {
	var rows []string
	for i, text := range layout.Wrap(l.Instead, g.end-g.text) {
		row := layout.Row{}
		if i == 0 {
			row = row.At(g.state, words.Do.String())
		}
		rows = append(rows, row.At(g.text, t.Bold(text)).In(g.end))
	}
	return rows
}

// lapsedRows name what can no longer be done and why, in one sentence.
func lapsedRows(t theme.Theme, g grid, l words.Line, tell telling) []string {
	w := g.end - g.text
	texts := []string{l.Act}
	if l.Reason != "" {
		texts = layout.Wrap(l.Act+": "+l.Reason, w)
	}
	if len(texts) > 1 && tell != full {
		texts = []string{l.Act + ": " + layout.CutClauses(l.Reason, w-layout.Width(l.Act)-2)}
	}
	var rows []string
	for i, text := range texts {
		row := layout.Row{}
		if i == 0 {
			row = row.At(g.state, widget.Word(t, l.Word))
		}
		rows = append(rows, row.At(g.text, text).In(g.end))
	}
	return rows
}
