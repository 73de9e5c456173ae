package board

import (
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// narrowRows put the amount first, and the act under it; what has no amount
// stands in one row.
func narrowRows(t theme.Theme, g grid, l words.Line, tell telling) []string {
	if l.Word == words.Lapsed {
		return lapsedRows(t, g, l, tell)
	}
	w := g.end - g.text
	if l.Word == words.Held && tell != full {
		text := loud(t, l, l.Act)
		if l.Reason != "" {
			text += ": " + briefly(l, w-layout.Width(l.Act)-2)
		}
		return []string{layout.Row{}.At(g.state, widget.Word(t, l.Word)).At(g.text, text).In(g.end)}
	}
	head, under := narrowHead(t, l)
	row, until := layout.Row{}.At(stateAt(g, l), widget.Word(t, l.Word)), strings.Replace(l.Until, "by ≈", "≈", 1)
	at := max(g.text, row.End()+1)
	if l.Amount.Words != "" && !row.At(at, head).Fits(g.end, until) {
		row = row.At(at, loud(t, l, l.Act))
		return append([]string{row.Until(g.end, until).In(g.end)}, wordsUnder(t, g, l)...)
	}
	rows := []string{row.At(at, head).Until(g.end, until).In(g.end)}
	if under != "" {
		rows = append(rows, layout.Row{}.At(g.text, layout.Cut(under, w)).In(g.end))
		return rows
	}
	if l.Word == words.Due && tell != full {
		return rows
	}
	for _, text := range reasonRows(l, w, tell) {
		rows = append(rows, layout.Row{}.At(g.text, text).In(g.end))
	}
	return append(rows, insteadRows(t, g, l)...)
}

// narrowHead is the first row of a narrow line, and the one under it where the
// act has given way to the amount.
func narrowHead(t theme.Theme, l words.Line) (head, under string) {
	amount := l.Amount.String()
	switch {
	case l.Word == words.Held, amount == "":
		return loud(t, l, l.Act), ""
	case l.Amount.Words != "":
		head = given(t, l, l.Act+" "+amount)
		if l.Of != "" {
			head += ", " + l.Of
		}
		return head, ""
	}
	under = loud(t, l, l.Act)
	if l.First != "" {
		under += ", " + l.First
	}
	if tail := limitOrReason(l); tail != "" {
		under += "; " + tail
	}
	return strings.TrimSpace(given(t, l, amount) + " " + l.Of), under
}

func limitOrReason(l words.Line) string {
	if l.Limit != "" && !strings.HasPrefix(l.Until, "down") {
		return l.Limit
	}
	return layout.FirstClause(l.Reason)
}
