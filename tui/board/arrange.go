package board

import (
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/theme"
)

// detail is how much of the list of tasks is shown, from everything down to
// what never goes. Each step gives up one thing more than the one before.
type detail int

const (
	everything detail = iota
	noInnerGaps
	noDueReasons
	noOptions
	noDone
	noGapBeforeLater
	noGaps
	oneRowReasons
	noLater
	noReasons // but those of danger; the vessels scroll before
)

// item is a line as it will be drawn.
type item struct {
	line   words.Line
	rows   []string
	gap    bool // a blank row above it
	tagged bool // its tag is written
}

// height is how many rows the items take.
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

// block is what lines stand together: what to do, what comes, what is done.
func block(w words.Word) int {
	switch w {
	case words.Later, words.Coming:
		return 1
	case words.Done, words.Skipped:
		return 2
	}
	return 0
}

// kept tells whether a line is shown at all in that detail. Where not all of
// what comes on other days has room it only fills up what is left; see fill.
func (d detail) kept(l words.Line) bool {
	switch l.Word {
	case words.Option:
		return d < noOptions
	case words.Done, words.Skipped:
		return d < noDone
	case words.Later:
		return d < noLater
	case words.Coming:
		return d == everything
	}
	return true
}

// tells is how much a line says of its reason in that detail.
func (d detail) tells(w words.Word) telling {
	switch {
	case d >= noReasons, d >= noDueReasons && (w == words.Due || w == words.Option):
		return untold
	case d >= oneRowReasons:
		return brief
	case w == words.Later || w == words.Coming:
		return untold
	case d > everything && (w == words.Late || w == words.Due || w == words.Option):
		return brief
	}
	return full
}

// items are the lines kept in that detail.
func (d detail) items(t theme.Theme, g grid, lines []words.Line) []item {
	var items []item
	for _, l := range lines {
		it := item{line: l, tagged: true}
		if n := len(items); n > 0 && sameReason(items[n-1].line, l) {
			l.Reason, l.Frees = "", ""
		}
		it.rows = taskRows(t, g, l, d.tells(l.Word))
		if n := len(items); n > 0 {
			before := items[n-1]
			it.gap = d.gap(before, l)
			it.tagged = l.Subject != before.line.Subject || block(l.Word) != block(before.line.Word)
		}
		items = append(items, it)
	}
	return items
}

// sameReason tells whether a line would only repeat the reason above it.
func sameReason(above, l words.Line) bool {
	return above.Subject == l.Subject && above.Word == words.Held && l.Word == words.Held &&
		above.Reason == l.Reason && above.Frees == l.Frees
}

// gap tells whether a blank row stands between a line and the one before.
func (d detail) gap(before item, l words.Line) bool {
	a, b := block(before.line.Word), block(l.Word)
	switch {
	case a != b && b == 1:
		return d < noGapBeforeLater
	case a != b:
		return d < noGaps
	case a != 0:
		return false
	case before.line.Subject != l.Subject:
		return d < noGaps
	}
	return d < noInnerGaps && before.line.Word == words.Due && len(before.rows) > 1
}

// arrange shows as much of the lines as goes into so many rows, down to the
// poorest detail that is allowed; without room even for that, it is taller.
func arrange(t theme.Theme, g grid, lines []words.Line, rows int, poorest detail) []item {
	var items []item
	for d := everything; d <= poorest; d++ {
		items = d.items(t, g, d.filter(lines))
		if height(items) > rows {
			continue
		}
		if d < noOptions {
			return d.fill(t, g, lines, rows)
		}
		return items
	}
	return items
}

func (d detail) filter(lines []words.Line) []words.Line {
	var out []words.Line
	for _, l := range lines {
		if d.kept(l) {
			out = append(out, l)
		}
	}
	return out
}

// fill adds what comes on other days, the nearest first, as long as it fits.
func (d detail) fill(t theme.Theme, g grid, lines []words.Line, rows int) []item {
	best, coming := d.items(t, g, d.filter(lines)), 0
	for _, l := range lines {
		if l.Word != words.Coming {
			continue
		}
		coming++
		more := d.items(t, g, d.withComing(lines, coming))
		if height(more) > rows {
			break
		}
		best = more
	}
	return best
}

func (d detail) withComing(lines []words.Line, n int) []words.Line {
	var out []words.Line
	for _, l := range lines {
		switch {
		case l.Word == words.Coming && n > 0:
			n--
			out = append(out, l)
		case d.kept(l):
			out = append(out, l)
		}
	}
	return out
}
