package board

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// detail is how much of the lists is shown; each level leaves out one thing more.
type detail int

const (
	everything    detail = iota
	briefReasons         // a row of each reason
	noInnerGaps          // leave out blank rows between the tasks of a group
	noDone               // leave out what was done today
	noLater              // leave out what comes later today
	anyDayInOne          // tasks for any day in one row
	anyDayCounted        // tasks for any day only counted in the title
	quietInOne           // quiet vessels in one row
	noStock              // leave out the stock solution for a dose
	noMissed             // leave out missed tasks
	noReasons            // leave out reasons of today's tasks, except the selected one
	heldInOne            // a held task and its reason in one row
	lateInOne            // a late task and its reason in one row, if both fit
	noGroupGaps          // leave out blank rows between groups; then the vessels scroll, then the tasks
)

// item is a part of a list whose rows stay together: a task, the tasks of any day, a vessel.
type item struct {
	lines    []words.Line
	rows     []string
	gap      bool // with a blank row above it
	tagged   bool // with its tag
	selected bool
}

func (it item) first() words.Line { return it.lines[0] }

func height(items []item) int {
	n := 0
	for _, it := range items {
		n += len(it.rows)
		if it.gap {
			n++
		}
	}
	return n
}

// group returns which group a line belongs to: today, any day, to come, done.
func group(w words.Word) int {
	switch w {
	case words.AnyDay:
		return 1
	case words.Later, words.Coming:
		return 2
	case words.Done, words.Skipped, words.Lapsed:
		return 3
	}
	return 0
}

// kept reports whether a line is shown at that detail. Later tasks fill the rest; see fill.
func (d detail) kept(l words.Line) bool {
	switch l.Word {
	case words.Done, words.Skipped:
		return d < noDone
	case words.Later:
		return d < noLater
	case words.Coming:
		return false
	case words.AnyDay:
		return d < anyDayCounted
	case words.Lapsed, words.Option:
		return d < noMissed
	}
	return true
}

// tells returns how much of a line's reason is shown; all of it for the selected one.
func (d detail) tells(g grid, l words.Line, selected bool) telling {
	switch l.Word {
	case words.Later:
		if d == everything {
			return full
		}
		return untold
	case words.Coming:
		return untold
	case words.AnyDay:
		if g.low || d >= anyDayInOne {
			return untold
		}
		if d == everything {
			return full
		}
		return brief
	case words.Due, words.Option:
		switch {
		case d == everything:
			return full
		case d >= noReasons && !selected:
			return untold
		}
		return brief
	case words.Held:
		switch {
		case d >= heldInOne && !selected:
			return untold
		case d > everything:
			return brief
		}
	case words.Lapsed:
		if d > everything {
			return brief
		}
	case words.Late:
		switch {
		case d >= lateInOne && !selected:
			return untold
		case d > everything:
			return brief
		}
	}
	return full
}

// items returns the lines as rows; those that can wait share one where there is little room.
func (d detail) items(t theme.Theme, g grid, lines []words.Line, selected intent.Task) []item {
	var items []item
	for _, l := range lines {
		if n := len(items); n > 0 && l.Word == words.AnyDay && (g.low || d >= anyDayInOne) && items[n-1].first().Word == words.AnyDay {
			items[n-1].lines = append(items[n-1].lines, l)
			continue
		}
		it := item{lines: []words.Line{l}, tagged: true}
		if n := len(items); n > 0 {
			before := items[n-1]
			if above := before.first(); above.Subject == l.Subject && above.Word == words.Held && l.Word == words.Held && above.Reason == l.Reason {
				l.Reason = ""
			}
			it.gap = d.gap(before.first(), l)
			it.tagged = l.Tag != before.first().Tag || group(l.Word) != group(before.first().Word)
		}
		if d >= noStock && idOf(l) != selected {
			l.Stock, l.First = nil, ""
		}
		it.rows = taskRows(t, g, l, d.tells(g, l, idOf(l) == selected))
		items = append(items, it)
	}
	for i, it := range items {
		if len(it.lines) > 1 {
			items[i].rows, items[i].tagged = []string{anyDayRow(t, g, it.lines, selected)}, false
		}
	}
	return items
}

// gap reports whether there is a blank row between two lines.
func (d detail) gap(before, l words.Line) bool {
	a, b := group(before.Word), group(l.Word)
	switch {
	case before.Word == words.Danger:
		return true
	case a == 1 && b == 2:
		return false
	case a != b:
		return d < noGroupGaps
	case a != 0 || d >= noInnerGaps:
		return false
	}
	return before.Subject != l.Subject || before.Word.Now() && before.Reason != ""
}

// anyDayRow names the tasks of any day in one row, the soonest first: "bottle CLOV by 24 Feb · taste THY-A by 11 Dec".
// The selected one is always named, the ones that do not fit are counted.
func anyDayRow(t theme.Theme, g grid, lines []words.Line, selected intent.Task) string {
	room := g.end - g.text
	var parts []string
	width, left := 0, 0
	for i, l := range lines {
		plain := words.Join(" ", l.Act, l.Tag, l.Until)
		more := ""
		if rest := len(lines) - i - 1; rest > 0 {
			more = fmt.Sprintf(" · +%d", rest)
		}
		if need := layout.Width(plain) + 3*min(len(parts), 1); width+need+layout.Width(more) > room && len(parts) > 0 {
			left++
			continue
		}
		width += layout.Width(plain) + 3*min(len(parts), 1)
		rest := " " + l.Tag + " " + l.Until
		if idOf(l) == selected {
			rest = t.Tag(l.Tag) + l.Until
		}
		parts = append(parts, strings.TrimRight(t.Bold(l.Act)+rest, " "))
	}
	text := strings.Join(parts, " · ")
	if left > 0 {
		text += fmt.Sprintf(" · +%d", left)
	}
	return layout.Row{}.At(g.state, widget.Word(t, words.AnyDay)).At(g.text, text).In(g.end)
}

// tallest returns the most rows that the lines can take, whichever of them is selected.
func (d detail) tallest(t theme.Theme, g grid, lines []words.Line) int {
	kept := d.filter(lines, 0)
	most := height(d.items(t, g, kept, intent.Task{}))
	for _, l := range kept {
		if d >= noStock && (l.Word == words.Late || l.Word == words.Held || l.Word == words.Due) {
			most = max(most, height(d.items(t, g, kept, idOf(l))))
		}
	}
	return most
}

func count(lines []words.Line, w words.Word) int {
	return len(slices.DeleteFunc(slices.Clone(lines), func(l words.Line) bool { return l.Word != w }))
}

// filter returns the lines shown at that detail, with up to so many of the coming ones.
func (d detail) filter(lines []words.Line, coming int) []words.Line {
	return slices.DeleteFunc(slices.Clone(lines), func(l words.Line) bool {
		if l.Word == words.Coming && coming > 0 {
			coming--
			return false
		}
		return !d.kept(l)
	})
}

// mostComing is how many tasks of other days are shown at most; each vessel's row names its next one.
const mostComing = 6

// fill adds tasks of other days, the next first, while there is room.
func (d detail) fill(t theme.Theme, g grid, lines []words.Line, rows int, selected intent.Task) []item {
	best := d.items(t, g, d.filter(lines, 0), selected)
	for n := 1; d < noLater && n <= min(count(lines, words.Coming), mostComing); n++ {
		more := d.items(t, g, d.filter(lines, n), selected)
		if height(more) > rows {
			break
		}
		best = more
	}
	return best
}
