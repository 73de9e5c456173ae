package board

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// slip is a narrow page, with each task under its tag.
type slip struct {
	theme theme.Theme
	width int
}

func (p slip) write(s words.Sheet) string {
	rows := []string{p.theme.Bold(layout.Cut(s.ShortTitle(), p.width))}
	if len(s.Counts) > 0 {
		rows = append(rows, layout.Cut(widget.Counts(p.theme, s.Counts, "   "), p.width))
	}
	if s.Calm() {
		rows = append(append(rows, ""), calmLines(p.theme, s, p.width)...)
	}
	lines := s.Today()
	for i, l := range lines {
		if i == 0 || lines[i-1].Subject != l.Subject {
			rows = append(rows, "")
		}
		rows = append(rows, p.task(l)...)
	}
	rows = append(rows, daysAhead(s, p.width, words.Shared, p.theme.Bold, func(l words.Line) []string {
		return layout.Wrap(words.Join(", ", l.Tag+" "+l.Act, words.Join(" ", l.Amount.String(), l.Of), l.Until), p.width)
	})...)
	rows = append(append(rows, ""), ferment.Flat(s.Vessels, p.vessel)...)
	return sheetOf(append(rows, lastLines(p.theme, s, p.width)...))
}

func (p slip) task(l words.Line) []string {
	rows, w := p.head(l), p.width-2
	say := func(rest ...string) {
		for _, text := range rest {
			rows = append(rows, "  "+text)
		}
	}
	what := words.Join(", ", l.Act, l.Amount.String())
	switch {
	case l.Alarm != nil:
		say(layout.Wrap(p.theme.Bold(l.Act), w)...)
		for i, step := range l.Alarm.Steps {
			say(layout.Wrap(fmt.Sprintf("%d %s", i+1, step), w)...)
		}
		return rows
	case l.Word == words.Lapsed:
		say(layout.Wrap(words.Join(": ", l.Act, l.Reason), w)...)
		return rows
	case layout.Width(what+" "+l.Of) <= w:
		say(strings.TrimSpace(given(p.theme, l, what) + " " + l.Of))
	default:
		for _, text := range layout.Wrap(what, w) {
			say(given(p.theme, l, text))
		}
		say(layout.Wrap(l.Of, w)...)
	}
	if l.Stock != nil {
		say(layout.Wrap(words.Join("; ", l.First, "or "+l.Stock.String()+" "+l.StockOf), w)...)
	} else {
		say(layout.Wrap(l.First, w)...)
	}
	say(reasonRows(l, w, p.tells(l))...)
	if l.Instead != "" {
		say(layout.Wrap("→ "+l.Instead, w)...)
	}
	return rows
}

// head returns tag, state and until when; the latter in its own row if necessary.
func (p slip) head(l words.Line) []string {
	tag := layout.Cut(l.Tag, p.tagRoom())
	at := stateAt(grid{state: max(8, layout.Width(tag)+2)}, l)
	row := layout.Row{}.At(0, p.theme.Bold(tag)).At(at, widget.Word(p.theme, l.Word))
	return p.withRight(row, l.Until)
}

// withRight returns a row with a text at its right edge, or below it if both do not fit.
func (p slip) withRight(row layout.Row, right string) []string {
	if row.Fits(p.width, right) {
		return []string{row.Until(p.width, right).In(p.width)}
	}
	return []string{row.In(p.width), layout.Row{}.Until(p.width, right).In(p.width)}
}

// tagRoom returns the greatest width of a tag: a third of the slip.
func (p slip) tagRoom() int { return max(widestTag, p.width/3) }

// tells returns how much of the reason is shown: all of it, as a slip has no end; for a task that is only due a single
// clause.
func (p slip) tells(l words.Line) telling {
	switch l.Word {
	case words.Due, words.AnyDay, words.Option:
		return brief
	}
	return full
}

func (p slip) vessel(r words.Row) []string {
	tag := layout.Cut(r.Tag, p.tagRoom())
	at := max(8, layout.Width(tag)+2)
	row := layout.Row{}.At(0, p.theme.Bold(tag))
	c := columns{stage: at}
	row = c.stageInto(row, p.theme, r)
	if r.IsSentence() {
		return []string{row.At(row.End()+1, r.Until).In(p.width)}
	}
	gravity, ago := p.theme.Bold(r.Gravity)+doubt(r), r.Ago+" ago"
	room := p.width - layout.Width(ago) - 2 - layout.Width(gravity)
	row = row.At(min(at+12, max(room, at)), gravity)
	return p.withRight(row, ago)
}

// narrowRows returns title, amount and substance in one row. If the time needs the room the title is left out, then
// "by". A late task has its time in its reason.
func narrowRows(t theme.Theme, g grid, l words.Line, tell telling) []string {
	if l.Word == words.Lapsed {
		return lapsedRows(t, g, l, tell)
	}
	if n := len(l.Round); n > 0 {
		l.Act, l.Reason = "weekly round: "+words.Plural(n, "vessel"), strings.Replace(l.Reason, "airlocks full? nothing growing?", "all fine?", 1)
	}
	row, w := layout.Row{}.At(stateAt(g, l), widget.Word(t, l.Word)), g.end-g.text
	at := max(g.text, row.End()+1)
	if l.Word == words.Held && tell != full {
		return []string{row.At(at, loud(t, l, l.Act)+": "+briefly(l, g.end-at-layout.Width(l.Act)-2)).In(g.end)}
	}
	until := l.Until
	if l.Word == words.Late {
		until = ""
		l.Reason = l.Short
		for _, more := range []string{l.Until, l.First} {
			if longer := words.Join(", ", l.Reason, more); layout.Width(longer) <= w {
				l.Reason = longer
			}
		}
	}
	rows := narrowHead(t, row, at, g.end, l, until)
	if l.Word == words.Due && l.Round == nil && tell != full {
		return rows
	}
	for _, text := range reasonRows(l, w, tell) {
		rows = append(rows, layout.Row{}.At(g.text, text).In(g.end))
	}
	return append(rows, insteadRows(t, g, l)...)
}

// narrowHead returns the first row of a task, with as much as fits: act, amount, time.
func narrowHead(t theme.Theme, row layout.Row, at, end int, l words.Line, until string) []string {
	whole, amount := words.Join(", ", l.Act, l.Amount.String()), l.Amount.String()
	clock := strings.TrimPrefix(until, "by ")
	for _, try := range [][2]string{{whole, until}, {amount, until}, {amount, clock}, {whole, clock}} {
		text := strings.TrimSpace(given(t, l, try[0]) + " " + l.Of)
		if r := row.At(at, text); try[0] != "" && r.Fits(end, try[1]) && r.End() <= end {
			return []string{r.Until(end, try[1]).In(end)}
		}
	}
	rows := row.Wrapped(at, end, words.Join(" ", whole, l.Of), func(text string) string { return given(t, l, text) })
	if until != "" {
		rows = append(rows, layout.Row{}.Until(end, until).In(end))
	}
	return rows
}
