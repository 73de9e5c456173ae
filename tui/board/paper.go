package board

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Today returns the day as text in so many columns, for a terminal to scroll.
func Today(s words.Sheet, width int, t theme.Theme) string {
	if width < layout.Narrow {
		return slip{t, width}.write(s)
	}
	return paper{t, width, gridOf(layout.Page{Margin: 3}, s).room}.write(s)
}

// paper is a page with the columns of the board.
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
	rows = append(rows, ferment.Map(s.Vessels, func(r words.Row) string { return p.vessel(r, p.room, s.Calm()) })...)
	return sheetOf(append(rows, lastLines(p.theme, s, p.width)...))
}

const paperDetail = noInnerGaps

func (p paper) tasks(s words.Sheet, lines []words.Line) []string {
	var rows []string
	if s.Calm() {
		rows = calmLines(p.theme, s, p.width)
	}
	return append(rows, ferment.Flat(words.Shared(lines), p.task)...)
}

// task returns a task; one to come has no reason.
func (p paper) task(l words.Line) []string {
	g := grid{tag: 0, state: 10, text: 21, point: 36, unit: 39, what: 42, end: p.width, room: p.room}.shifted(p.room - usualTag)
	rows := taskRows(p.theme, g, l, paperDetail.tells(g, l, false))
	if l.Word == words.Coming {
		rows[0] = strings.Replace(rows[0], l.Word.String(), strings.Repeat(" ", layout.Width(l.Word.String())), 1)
	}
	rows[0] = layout.Overlay(p.theme.Bold(layout.Cut(l.Tag, p.room+sharedTag)), rows[0])
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
	case r.IsSentence() && !calm:
		return row.At(29+at, quietly(r, p.width-29-at)).In(p.width)
	case calm:
		row = p.gravity(row, r, at)
		if r.IsSentence() {
			return row.At(46+at, quietly(r, p.width-46-at)).In(p.width)
		}
		return row.At(46+at, shortened(r.Next, p.width-46-at)).In(p.width)
	}
	row = p.gravity(row, r, at).AtPoint(49+at, r.Pace, layout.Unstyled)
	row = row.At(row.End(), "/d").AtPoint(57+at, r.Alcohol, layout.Unstyled)
	return row.At(row.End()+1, "%").At(63+at, shortened(r.Next, p.width-63-at)).In(p.width)
}

// gravity adds gravity and its age.
func (p paper) gravity(row layout.Row, r words.Row, at int) layout.Row {
	ago := strings.TrimPrefix(r.Ago+" ago", words.Unknown+" ago") // empty without a reading
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

// lastRows returns the honey to know of and the files that were left out, each as say writes it.
func lastRows(s words.Sheet, say func(kind, of, says string) []string) []string {
	var rows []string
	for i, l := range s.Honey {
		if i == 0 {
			rows = append(rows, "")
		}
		rows = append(rows, say("honey ", l.Name, l.Says)...)
	}
	for i, b := range s.Broken {
		if i == 0 {
			rows = append(rows, "")
		}
		rows = append(rows, say("", b.Where, b.What)...)
	}
	return rows
}

func lastLines(t theme.Theme, s words.Sheet, width int) []string {
	return lastRows(s, func(_, of, says string) []string { return lastLine(t, of, says, width) })
}

// lastLine returns the text about a file or a lot.
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

// daysAhead returns the days ahead that have tasks, each under its name, and last the days that have none. Share puts
// the same task of several vessels into one; head writes the name of a day, say a task of it.
func daysAhead(s words.Sheet, width int, share func([]words.Line) []words.Line, head func(string) string, say func(words.Line) []string) []string {
	var rows, idle []string
	for n := 1; n <= s.Days; n++ {
		day, lines := s.At.AddDate(0, 0, n), s.On(n)
		if len(lines) == 0 {
			idle = append(idle, day.Format("Monday 2 January"))
			continue
		}
		rows = append(append(rows, "", head(day.Format("Monday 2 January"))), ferment.Flat(share(lines), say)...)
	}
	if text := layout.Wrap(nothingOn(idle, s.Days), width); len(text) > 0 {
		rows = append(append(rows, ""), text...)
	}
	return rows
}

// nothingOn names the days without tasks; if there are more than three, only how many.
func nothingOn(idle []string, days int) string {
	switch n := len(idle); {
	case n == 0:
		return ""
	case n > 3 && n == days:
		return fmt.Sprintf("Nothing is planned for the next %d days.", days)
	case n > 3:
		return fmt.Sprintf("Nothing is planned for the other %d days.", n)
	case n == 1:
		return "Nothing is planned for " + idle[0] + "."
	default:
		return "Nothing is planned for " + strings.Join(idle[:n-1], ", ") + " and " + idle[n-1] + "."
	}
}

// Plain returns the day in sentences without signs or colours.
func Plain(s words.Sheet, width int) string {
	counts := ferment.Map(s.Counts, func(c words.Count) string { return fmt.Sprintf("%d %s", c.N, string(c.Word)) })
	rows := []string{words.Join(": ", s.FullTitle(), strings.Join(counts, ", ")), ""}
	if s.Calm() {
		rows = append(rows, widget.Spoken("", plainCalm(s), 0, width)...)
	}
	room := longestTag(s)
	say := func(l words.Line) []string {
		head := fmt.Sprintf("%-*s  %-8s", room, l.Tag, strings.ToUpper(string(l.Word)))
		return widget.Spoken(head, l.Spoken(), room+10, width)
	}
	rows = append(rows, ferment.Flat(s.Today(), say)...)
	rows = append(rows, daysAhead(s, width, slices.Clone, layout.Unstyled, say)...)
	if len(s.Vessels) > 0 {
		rows = append(rows, "")
	}
	for _, r := range s.Vessels {
		head := fmt.Sprintf("%-*s  ", room, r.Tag)
		rows = append(rows, widget.Spoken(head, plainVessel(r), room+2, width)...)
	}
	return sheetOf(append(rows, lastRows(s, func(kind, of, says string) []string { return widget.Spoken("", kind+of+": "+says, 2, width) })...))
}

func plainCalm(s words.Sheet) string {
	switch {
	case s.Empty():
		return noVessels + " " + strings.Join(whereLooked(s), " ") + " Or type: " + waysOn[0][0] + ", " + waysOn[0][1] + "; " + waysOn[1][0] + ", " + waysOn[1][1] + "."
	case s.Next == "":
		return "Nothing to do today."
	}
	return "Nothing to do today. Next: " + s.Next + "."
}

// plainVessel returns a vessel in sentences. A condition is in capitals.
func plainVessel(r words.Row) string {
	stage := r.Stage
	if r.Condition != "" {
		stage = strings.ToUpper(stage)
	}
	head := stage + ", day " + r.Day
	if r.IsSentence() {
		return words.Sentences(head+", "+r.Until, next(r))
	}
	return words.Sentences(head, plainFigures(r), next(r))
}

func plainFigures(r words.Row) string {
	if r.Gravity == words.Unknown {
		return "No gravity yet"
	}
	text := "Gravity " + r.Gravity
	if r.Doubtful {
		text += " in doubt"
	}
	text += ", " + r.Ago + " ago"
	if r.Pace != words.Unknown {
		text += ", " + r.Pace + " points a day"
	}
	if r.Alcohol != words.Unknown {
		text += ", " + r.Alcohol + " % vol"
	}
	return text
}

func next(r words.Row) string {
	if r.Next == "" {
		return ""
	}
	return "Next: " + r.Next
}

func longestTag(s words.Sheet) int {
	room := usualTag
	for _, l := range s.Tasks {
		room = max(room, layout.Width(l.Tag))
	}
	for _, r := range s.Vessels {
		room = max(room, layout.Width(r.Tag))
	}
	return room
}
