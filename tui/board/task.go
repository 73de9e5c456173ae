package board

import (
	"strconv"
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// telling is how much of a line's reason is shown.
type telling int

const (
	untold telling = iota // at most its first clause, in the line itself
	brief                 // one row of it
	full
)

// taskRows returns the rows of one task, after its tag.
func taskRows(t theme.Theme, g grid, l words.Line, tell telling) []string {
	if l.Alarm != nil {
		return alarmRows(t, g, l)
	}
	if l.Danger {
		tell = full
	}
	if l.Round != nil && g.done != "" && l.Word.Wants() {
		l.Reason += " " + t.Bold(g.done) + ": yes, all · " + t.Bold(g.skip) + ": no"
	}
	rows := wideRows
	if g.narrow {
		rows = narrowRows
	}
	return rows(t, g, l, tell)
}

// alarmRows returns a danger: what it is, what may happen, what to do step by step, and how it ends. A small screen
// leaves out what may happen and the keys.
func alarmRows(t theme.Theme, g grid, l words.Line) []string {
	head := layout.Row{}.At(stateAt(g, l), widget.Word(t, l.Word)).At(g.text, t.Bold(l.Act))
	if head.Fits(g.end, l.Until) {
		head = head.Until(g.end, l.Until)
	}
	rows, at := []string{head.In(g.end)}, g.text
	if g.short { // a long tag above costs the steps no columns
		at = g.state - (g.room - usualTag)
	}
	if !g.short && l.Reason != "" {
		rows = append(rows, layout.Row{}.Wrapped(at, g.end, l.Reason, layout.Unstyled)...)
	}
	for i, step := range l.Alarm.Steps {
		rows = append(rows, layout.Row{}.At(at, t.Bold(strconv.Itoa(i+1))).Wrapped(at+2, g.end, step, t.Bold)...)
	}
	switch {
	case g.short:
	case g.done == "":
		rows = append(rows, layout.Row{}.At(at, "Over when "+l.Alarm.Ends+".").In(g.end))
	default:
		done, skip := t.Bold(g.done)+" "+l.Alarm.Ends, t.Bold(g.skip)+" not a danger: say why"
		row := layout.Row{}.At(at, done)
		if row.End()+3+layout.Width(skip) > g.end {
			rows, row = append(rows, row.In(g.end)), layout.Row{}
		}
		rows = append(rows, row.At(max(at, row.End()+3), skip).In(g.end))
	}
	return rows
}

// wideRows returns act, amount, substance and until when in one row, more below it.
func wideRows(t theme.Theme, g grid, l words.Line, tell telling) []string {
	if l.Word == words.Lapsed {
		return lapsedRows(t, g, l, tell)
	}
	if l.Word == words.Held && tell == untold && l.Reason != "" {
		return []string{layout.Row{}.At(g.state, widget.Word(t, l.Word)).At(g.text, loud(t, l, l.Act)+": "+briefly(l, g.end-g.text-layout.Width(l.Act)-2)).In(g.end)}
	}
	head := layout.Row{}.At(stateAt(g, l), widget.Word(t, l.Word)).At(g.text, loud(t, l, l.Act))
	row, l, under := fitted(head, t, g, l)
	if whatAt := row.At(whatColumn(g, l), l.Of); whatAt.Fits(g.end, l.Until) {
		row = whatAt
	} else if l.Of != "" && (l.Word.Now() || tell == full) {
		under = append(under, layout.Row{}.At(max(min(whatColumn(g, l), g.end-layout.Width(l.Of)), g.text), l.Of).In(g.end))
	}
	if l.Word == words.Late && tell == untold {
		late, _, _ := strings.Cut(l.Short, ":")
		until := words.Join(", ", late, l.Until)
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

// fitted puts the amount after the act, or returns its words for the next row if they are too long.
func fitted(head layout.Row, t theme.Theme, g grid, l words.Line) (row layout.Row, rest words.Line, under []string) {
	if long := layout.Width(l.Act) > g.point-g.text-2; long && l.Amount != (words.Amount{}) {
		colon := layout.Row{}.At(stateAt(g, l), widget.Word(t, l.Word)).At(g.text, loud(t, l, l.Act+":"))
		row = colon.At(colon.End()+1, given(t, l, l.Amount.String()))
		if row.Fits(g.end, l.Until) {
			return row, l, nil
		}
	} else {
		set := func(s string) string { return given(t, l, s) }
		if l.Amount.Number == "" {
			row = head.At(g.point-1, set(l.Amount.Words))
		} else {
			row = head.AtPoint(g.point, l.Amount.Number, set).At(unitColumn(g, l.Amount), set(l.Amount.Unit))
		}
		if l.Amount.Words == "" || row.Fits(g.end, l.Until) {
			return row, l, nil
		}
	}
	rest = l
	rest.Amount = words.Amount{}
	set := func(text string) string { return given(t, l, text) }
	return head, rest, layout.Row{}.Wrapped(g.text, g.end, l.Amount.String(), set)
}

// stateAt returns the column of the state; the background of a stop begins one column earlier.
func stateAt(g grid, l words.Line) int {
	if l.Word.OnField() {
		return g.state - 1
	}
	return g.state
}

// loud highlights what can be done now, and the name of what cannot.
func loud(t theme.Theme, l words.Line, text string) string {
	if l.Word.Wants() {
		return t.Bold(text)
	}
	return text
}

// given highlights an amount that can be given now.
func given(t theme.Theme, l words.Line, text string) string {
	if l.Word == words.Held {
		return text
	}
	return loud(t, l, text)
}

// unitColumn returns the column of the unit; two decimals need one column more.
func unitColumn(g grid, a words.Amount) int {
	_, places := layout.Point(a.Number)
	return max(g.unit, g.point+layout.Width(places)+1)
}

// whatColumn returns the column of the substance: after the unit, or after an amount in words.
func whatColumn(g grid, l words.Line) int {
	if l.Amount.Words == "" {
		return max(g.what, unitColumn(g, l.Amount)+layout.Width(l.Amount.Unit)+2)
	}
	return g.point + 1 + layout.Width(l.Amount.Words)
}

// secondMeasure returns the acts that go first and the dose as a stock solution.
func secondMeasure(g grid, l words.Line) []string {
	if l.First == "" && l.Stock == nil {
		return nil
	}
	row := layout.Row{}.At(g.text, l.First)
	if l.Stock != nil {
		row = row.AtPoint(g.point, l.Stock.Number, layout.Unstyled).At(unitColumn(g, *l.Stock), l.Stock.Unit)
		of := l.StockOf
		if row.End()+1+layout.Width(of) > g.end {
			of = strings.Replace(of, "of the ", "of ", 1)
		}
		row = row.At(row.End()+1, of)
	}
	return []string{row.In(g.end)}
}

// reasonRows returns a line's reason in rows of w columns, or in one row if brief.
func reasonRows(l words.Line, w int, tell telling) []string {
	switch {
	case tell == untold || l.Reason == "":
		return nil
	case tell == brief && layout.Width(l.Reason) > w:
		return []string{briefly(l, w)}
	}
	return layout.Wrap(l.Reason, w)
}

// briefly returns a reason in one row of w columns: the long form, else the short one without its brackets.
func briefly(l words.Line, w int) string {
	if l.Short == "" {
		return layout.CutClauses(l.Reason, w)
	}
	if layout.Width(l.Short) <= w {
		return l.Short
	}
	if less := strings.NewReplacer("(last ", "(", " ago)", ")").Replace(l.Short); layout.Width(less) <= w {
		return less
	}
	without, _, _ := strings.Cut(l.Short, " (")
	return layout.CutClauses(without, w)
}

func insteadRows(t theme.Theme, g grid, l words.Line) []string {
	return layout.Row{}.At(g.state, words.Do.String()).Wrapped(g.text, g.end, l.Instead, t.Bold)
}

// lapsedRows says what can no longer be done and why, in one sentence.
func lapsedRows(t theme.Theme, g grid, l words.Line, tell telling) []string {
	w := g.end - g.text
	texts := []string{l.Act}
	if l.Reason != "" {
		texts = layout.Wrap(l.Act+": "+l.Reason, w)
	}
	if len(texts) > 1 && tell != full {
		texts = []string{l.Act + ": " + briefly(l, w-layout.Width(l.Act)-2)}
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
