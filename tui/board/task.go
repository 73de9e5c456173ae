package board

import (
	"strconv"
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// telling is how much of a line's reason is told.
type telling int

const (
	untold telling = iota // at most its first clause, in the line itself
	brief                 // one row of it
	full
)

// taskRows are the rows of one task, without what stands left of its state.
func taskRows(t theme.Theme, g grid, l words.Line, tell telling) []string {
	if l.Alarm != nil {
		return alarmRows(t, g, l)
	}
	if l.Danger {
		tell = full
	}
	rows := wideRows
	if g.narrow {
		rows = narrowRows
	}
	return rows(t, g, l, tell)
}

// alarmRows are a danger: what it is, what may happen, what to do step by step, and
// how it ends. On a small screen what may happen and the keys, which the last row
// has, go without saying.
func alarmRows(t theme.Theme, g grid, l words.Line) []string {
	rows := []string{layout.Row{}.At(stateAt(g, l), widget.Word(t, l.Word)).At(g.text, t.Bold(l.Act)).In(g.end)}
	at := g.text
	if g.short {
		at = g.state
	}
	if !g.short && l.Reason != "" {
		rows = append(rows, layout.Row{}.At(at, l.Reason).In(g.end))
	}
	for i, step := range l.Alarm.Steps {
		for n, text := range layout.Wrap(step, g.end-at-2) {
			row := layout.Row{}
			if n == 0 {
				row = row.At(at, t.Bold(strconv.Itoa(i+1)))
			}
			rows = append(rows, row.At(at+2, t.Bold(text)).In(g.end))
		}
	}
	switch {
	case g.short:
	case g.done == "":
		rows = append(rows, layout.Row{}.At(at, "Over when "+l.Alarm.Ends+".").In(g.end))
	default:
		rows = append(rows, layout.Row{}.At(at, t.Bold(g.done)+" "+l.Alarm.Ends+"   "+t.Bold(g.skip)+" not a danger: say why").In(g.end))
	}
	return rows
}

// wideRows are act, amount, of what and until when in one row, a second measure
// of the dose and the reason under it.
func wideRows(t theme.Theme, g grid, l words.Line, tell telling) []string {
	if l.Word == words.Lapsed {
		return lapsedRows(t, g, l, tell)
	}
	if l.Word == words.Held && tell == untold && l.Reason != "" {
		l.Reason = briefly(l, g.end-g.text-layout.Width(l.Act)-2)
		row := layout.Row{}.At(stateAt(g, l), widget.Word(t, l.Word)).At(g.text, loud(t, l, l.Act)+": "+l.Reason)
		return []string{row.In(g.end)}
	}
	head := layout.Row{}.At(stateAt(g, l), widget.Word(t, l.Word)).At(g.text, loud(t, l, l.Act))
	row, l, under := fitted(head, t, g, l)
	what := l.Of
	if tell == untold && what != "" {
		what = withClause(row, g, l)
	}
	if whatAt := row.At(whatColumn(g, l), what); whatAt.Fits(g.end, l.Until) {
		row = whatAt
	} else if what != "" && (mayBeGiven(l) || tell == full) {
		under = append(under, layout.Row{}.At(whatUnder(g, l), l.Of).In(g.end))
	}
	if l.Word == words.Late && tell == untold {
		until := strings.TrimSuffix(layout.FirstClause(l.Reason)+", "+l.Until, ", ")
		if l.Reason != "" && len(under) == 0 && row.Fits(g.end, until) {
			l.Until = until
		} else {
			tell = brief
		}
	}
	rows := append([]string{row.Until(g.end, l.Until).In(g.end)}, under...)
	rows = append(rows, secondMeasure(g, l)...)
	for _, text := range reasonRows(l, g.end-g.text, tell) {
		rows = append(rows, layout.Row{}.At(g.text, text).In(g.end))
	}
	return append(rows, insteadRows(t, g, l)...)
}

// fitted puts the amount behind the act. One in words that are too long for the
// row stands whole under it.
func fitted(head layout.Row, t theme.Theme, g grid, l words.Line) (row layout.Row, rest words.Line, under []string) {
	if long := layout.Width(l.Act) > g.point-g.text-2; long && l.Amount != (words.Amount{}) {
		colon := layout.Row{}.At(stateAt(g, l), widget.Word(t, l.Word)).At(g.text, loud(t, l, l.Act+":"))
		row = colon.At(colon.End()+1, given(t, l, l.Amount.String()))
		if row.Fits(g.end, l.Until) {
			return row, l, nil
		}
		rest = l
		rest.Amount = words.Amount{}
		return head, rest, wordsUnder(t, g, l)
	}
	row = amountInto(head, t, g, l)
	if l.Amount.Words == "" || row.Fits(g.end, l.Until) {
		return row, l, nil
	}
	rest = l
	rest.Amount = words.Amount{}
	return head, rest, wordsUnder(t, g, l)
}

// wordsUnder is an amount in rows of its own.
func wordsUnder(t theme.Theme, g grid, l words.Line) []string {
	var rows []string
	for _, text := range layout.Wrap(l.Amount.String(), g.end-g.text) {
		rows = append(rows, layout.Row{}.At(g.text, given(t, l, text)).In(g.end))
	}
	return rows
}

// stateAt is where the word begins: the field of a stop hangs out by a column.
func stateAt(g grid, l words.Line) int {
	if l.Word.OnField() {
		return g.state - 1
	}
	return g.state
}

// loud sets off what may be done now, and the name of what may not.
func loud(t theme.Theme, l words.Line, text string) string {
	if l.Word.Wants() {
		return t.Bold(text)
	}
	return text
}

// mayBeGiven tells whether the amount may go in now: then it says of what,
// wherever that has room.
func mayBeGiven(l words.Line) bool { return l.Word.Now() }

// given sets off an amount that may be given now.
func given(t theme.Theme, l words.Line, text string) string {
	if l.Word == words.Held {
		return text
	}
	return loud(t, l, text)
}

func amountInto(row layout.Row, t theme.Theme, g grid, l words.Line) layout.Row {
	set := func(s string) string { return given(t, l, s) }
	if l.Amount.Number == "" {
		return row.At(g.point-1, set(l.Amount.Words))
	}
	return row.AtPoint(g.point, l.Amount.Number, set).At(unitColumn(g, l.Amount), set(l.Amount.Unit))
}

// unitColumn is where the unit stands, further on behind a second decimal place.
func unitColumn(g grid, a words.Amount) int {
	_, places := layout.Point(a.Number)
	return max(g.unit, g.point+layout.Width(places)+1)
}

// whatColumn is where it says of what: behind the unit, or behind an amount in
// words.
func whatColumn(g grid, l words.Line) int {
	if l.Amount.Words == "" {
		return max(g.what, unitColumn(g, l.Amount)+layout.Width(l.Amount.Unit)+1)
	}
	return g.point + 1 + layout.Width(l.Amount.Words)
}

// whatUnder is where it says of what in a row of its own.
func whatUnder(g grid, l words.Line) int {
	return max(min(whatColumn(g, l), g.end-layout.Width(l.Of)), g.text)
}

// withClause adds the first clause of a reason that is not told otherwise,
// where it fits.
func withClause(row layout.Row, g grid, l words.Line) string {
	more := l.Of + ", " + layout.FirstClause(l.Reason)
	if l.Reason != "" && row.At(whatColumn(g, l), more).Fits(g.end, l.Until) {
		return more
	}
	return l.Of
}

// secondMeasure is what goes first and the same dose as a stock solution.
func secondMeasure(g grid, l words.Line) []string {
	if l.First == "" && l.Stock == nil {
		return nil
	}
	row := layout.Row{}.At(g.text, l.First)
	if l.Stock != nil {
		plain := func(s string) string { return s }
		row = row.AtPoint(g.point, l.Stock.Number, plain).At(unitColumn(g, *l.Stock), l.Stock.Unit)
		of := l.StockOf
		if row.End()+1+layout.Width(of) > g.end {
			of = strings.Replace(of, "of the ", "of ", 1)
		}
		row = row.At(row.End()+1, of)
	}
	return []string{row.In(g.end)}
}

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

// briefly is a reason in one row: a whole clause of the reason and what frees the
// task where both have room, else what frees it, which is what there is to do.
func briefly(l words.Line, w int) string {
	frees := ": " + l.Frees
	if room := w - layout.Width(frees); l.Frees != "" && layout.Width(layout.FirstClause(l.Reason)) <= room {
		return layout.CutClauses(l.Reason, room) + frees
	}
	if l.Frees != "" && layout.Width(l.Frees) <= w {
		return l.Frees
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
