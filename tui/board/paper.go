package board

import (
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Today returns the day written down in so many columns, for a terminal to scroll.
func Today(s words.Sheet, width int, t theme.Theme) string {
	if width < layout.Narrow {
		return slip{t, width}.write(s)
	}
	return paper{t, width, gridOf(layout.Page{Margin: 3}, s).room}.write(s)
}

// paper is a page on which every task keeps to the columns of the board.
type paper struct {
	theme theme.Theme
	width int
	room  int // for the tags
}

func (p paper) write(s words.Sheet) string {
	counts, title := widget.Counts(p.theme, s.Counts, "   "), s.FullTitle()
	if !(layout.Row{}).At(0, title).Fits(p.width, counts) {
		counts, title = widget.Counts(p.theme, s.Counts, "  "), s.ShortTitle()
	}
	head := layout.Row{}.At(0, p.theme.Bold(title)).Until(p.width, counts)
	rows := []string{head.In(p.width), ""}
	rows = append(rows, p.tasks(s, s.Today())...)
	if s.Days > 0 {
		rows = append(rows, daysAhead(s, p.width, words.Shared, p.theme.Bold, p.task)...)
		return sheetOf(append(rows, lastLines(p.theme, s, p.width)...))
	}
	if len(s.Vessels) > 0 {
		rows = append(rows, "")
	}
	for _, r := range s.Vessels {
		rows = append(rows, p.vessel(r, p.room, s.Calm()))
	}
	return sheetOf(append(rows, lastLines(p.theme, s, p.width)...))
}

// paperDetail is how much a page says of the tasks.
const paperDetail = noInnerGaps

func (p paper) tasks(s words.Sheet, lines []words.Line) []string {
	var rows []string
	if s.Calm() {
		rows = calmLines(p.theme, s, p.width)
	}
	for _, l := range words.Shared(lines) {
		rows = append(rows, p.task(l)...)
	}
	return rows
}

// task returns a task; the day that it is on says enough of one to come.
func (p paper) task(l words.Line) []string {
	g := grid{tag: 0, state: 10, text: 21, point: 36, unit: 39, what: 42, end: p.width, room: p.room}.shifted(p.room - usualTag)
	rows := taskRows(p.theme, g, l, paperDetail.tells(g, l, false))
	if l.Word == words.Coming {
		rows[0] = strings.Replace(rows[0], l.Word.String(), strings.Repeat(" ", layout.Width(l.Word.String())), 1)
	}
	rows[0] = layout.Lead(p.theme.Bold(layout.Cut(l.Tag, p.room+sharedTag)), rows[0])
	return rows
}

func (p paper) vessel(r words.Row, room int, calm bool) string {
	at := room - usualTag
	if r.Culture {
		room += sharedTag
	}
	row := layout.Row{}.At(0, p.theme.Bold(layout.Cut(r.Tag, room)))
	c := columns{stage: 10 + at, headings: true}
	row = c.stageInto(row, p.theme, r).At(20+at, "day").At(27+at-layout.Width(r.Day), r.Day)
	switch {
	case r.Told() && !calm:
		return row.At(29+at, quietly(r, p.width-29-at)).In(p.width)
	case calm:
		row = p.gravity(row, r, at)
		if r.Told() {
			return row.At(46+at, quietly(r, p.width-46-at)).In(p.width)
		}
		return row.At(46+at, layout.CutClauses(r.Next, p.width-46-at)).In(p.width)
	}
	row = p.gravity(row, r, at).AtPoint(49+at, r.Pace, layout.As)
	row = row.At(row.End(), "/d").AtPoint(57+at, r.Alcohol, layout.As)
	return row.At(row.End()+1, "%").At(63+at, layout.CutClauses(r.Next, p.width-63-at)).In(p.width)
}

func (p paper) gravity(row layout.Row, r words.Row, at int) layout.Row {
	ago := r.Ago + " ago"
	row = row.At(29+at, p.theme.Bold(r.Gravity)+doubt(r))
	return row.At(max(44+at-layout.Width(ago), row.End()+1), ago)
}

func calmLines(t theme.Theme, s words.Sheet, width int) []string {
	if s.Empty() && s.Next == "" {
		return emptyLines(t, s, width)
	}
	nothing, next := t.Bold("Nothing to do today."), ""
	if s.Next != "" {
		next = "Next: " + s.Next + "."
	}
	if layout.Width(nothing)+1+layout.Width(next) <= width {
		return []string{words.Join(" ", nothing, next)}
	}
	return append([]string{nothing}, layout.Wrap(next, width)...)
}

// lastLines returns the files that were left out and the honey to know of.
func lastLines(t theme.Theme, s words.Sheet, width int) []string {
	var broken, honey []string
	for _, b := range s.Broken {
		broken = append(broken, lastLine(t, b.Where, b.What, width)...)
	}
	for _, l := range s.Honey {
		honey = append(honey, lastLine(t, l.Name, l.Says, width)...)
	}
	var rows []string
	for _, block := range [][]string{honey, broken} {
		if len(block) > 0 {
			rows = append(append(rows, ""), block...)
		}
	}
	return rows
}

// lastLine returns what is said of a file or a lot.
func lastLine(t theme.Theme, of, says string, width int) []string {
	rows := layout.Wrap("△ "+of+": "+says, width-2)
	for i, text := range rows {
		if rest, is := strings.CutPrefix(text, "△ "+of); is && i == 0 {
			rows[i] = t.In(theme.Warn, "△ "+of) + rest
		} else if i > 0 {
			rows[i] = "  " + text
		}
	}
	return rows
}

func sheetOf(rows []string) string { return strings.Join(rows, "\n") + "\n" }
