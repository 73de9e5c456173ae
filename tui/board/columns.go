package board

import (
	"regexp"
	"slices"
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// grid has the columns of both lists: tag, state or stage, text, and the right edge.
type grid struct {
	tag, state, text  int
	point, unit, what int // of an amount, and of what
	end               int
	narrow            bool
	short             bool   // few rows: a danger leaves out what is obvious
	low               bool   // few rows: tasks of any day are in one row from the start
	room              int    // for the tags
	done, skip        string // keys that end a danger; empty on paper
}

// Widths of tags.
const (
	usualTag  = 6
	sharedTag = 2 // extra room for the tag of a shared line
	widestTag = 12
)

// gridOf returns the columns for the tags of a sheet; longer tags move everything to the right.
func gridOf(p layout.Page, s words.Sheet) grid {
	room := usualTag
	for _, r := range s.Vessels {
		w := layout.Width(r.Tag)
		if r.Culture { // a culture has no mark before its stage
			w -= sharedTag
		}
		room = max(room, w)
	}
	for _, l := range words.Shared(s.Tasks) {
		room = max(room, layout.Width(l.Tag)-tagRoom(l))
	}
	room = min(room, widestTag)
	g := grid{tag: 3, state: 12, text: 22, point: 37, unit: 40, what: 43, end: p.End(), room: room}
	if p.Margin < 3 {
		g = grid{tag: 2, state: 11, text: 20, end: p.End(), room: room, narrow: true}
	}
	return g.shifted(room - usualTag)
}

// tagRoom returns the extra room for the tag of a line: a coloured background begins a column earlier.
func tagRoom(l words.Line) int {
	if l.Word.OnField() {
		return sharedTag - 1
	}
	return sharedTag
}

// shifted moves the columns after the tag.
func (g grid) shifted(by int) grid {
	g.state, g.text = g.state+by, g.text+by
	g.point, g.unit, g.what = g.point+by, g.unit+by, g.what+by
	return g
}

// The width from which the card is next to the lists, and its least and greatest width.
const (
	withCard   = 110
	widestCard = 52
)

// split divides a screen into the page of the lists and the columns of the card.
func split(width int) (lists layout.Page, cardAt, cardWidth int) {
	if width < withCard {
		return layout.PageOf(width), 0, 0
	}
	end := min(max(78+(width-112)/7, 78), 84)
	cardAt = end + min(max(width-107, 3), 6) - 1
	return layout.Page{Margin: 3, Width: end - 3}, cardAt, min(widestCard, width-2-cardAt)
}

// columns has the columns of a vessel's figures; 0 for one left out.
type columns struct {
	tag, honey, stage, dayEnd, gravity, agoEnd, pacePoint, alcoholPoint, course, next, end int

	cells    int
	headings bool
	calm     bool
	days     string // what follows the number of the day, if there is no heading
}

// The widths of the lists under which a column is left out.
const (
	withHoney   = 96
	withCourse  = 78
	withPace    = 70
	withAlcohol = layout.Narrow
)

// columnsOf returns the columns for a width; in a calm cellar what comes next replaces figures.
func columnsOf(g grid, width int, calm bool) columns {
	if g.narrow {
		s := g.state
		return columns{tag: g.tag, stage: s, dayEnd: s + 11, gravity: s + 15, agoEnd: s + 25, next: s + 29, end: g.end, days: " d"}
	}
	c := columns{tag: g.tag, stage: g.state, end: g.end, headings: true, calm: calm}
	if width >= withHoney {
		c.honey, c.stage = g.state, g.state+18
	}
	s := c.stage
	c.dayEnd, c.gravity, c.agoEnd, c.next = s+13, s+15, s+26, s+29
	if calm {
		return c
	}
	c.pacePoint, c.alcoholPoint, c.course, c.cells = s+33, s+40, s+44, 6
	if width >= withHoney {
		c.cells = min(max(width-92, 6), 12)
	}
	c.next = c.course + c.cells + 1
	if width < withCourse {
		c.course, c.next = 0, s+43
	}
	if width < withPace {
		c.pacePoint, c.alcoholPoint, c.next = 0, s+32, s+36
	}
	return c
}

func (c columns) heading(t theme.Theme) string {
	r := layout.Row{}.At(c.tag, t.Faint("vessel"))
	if c.honey > 0 {
		r = r.At(c.honey, t.Faint("honey and yeast"))
	}
	r = r.At(c.stage, t.Faint("stage")).At(c.dayEnd-3, t.Faint("day"))
	r = r.At(c.gravity, t.Faint("gravity")).At(c.agoEnd-3, t.Faint("ago"))
	if c.pacePoint > 0 {
		r = r.At(c.pacePoint-6, t.Faint("points/d"))
	}
	if c.alcoholPoint > 0 {
		r = r.At(c.alcoholPoint-3, t.Faint("% vol"))
	}
	if c.course > 0 {
		r = r.At(c.course, t.Faint("course"))
	}
	if c.alcoholPoint > 0 && r.End() < c.next {
		r = r.At(c.next, t.Faint("next"))
	}
	return r.In(c.end)
}

// row returns the row of a vessel from its stage on.
func (c columns) row(t theme.Theme, r words.Row, chart string) string {
	row := layout.Row{}
	if c.honey > 0 {
		row = row.At(c.honey, layout.Cut(r.HoneyAndYeast, c.stage-c.honey-2))
	}
	row = c.stageInto(row, t, r)
	if r.IsSentence() && c.days != "" {
		return row.At(row.End()+1, layout.CutClauses(r.Until, c.end-row.End()-1)).In(c.end)
	}
	if at := c.dayEnd - layout.Width(r.Day); row.End() < at {
		row = row.At(at, r.Day+c.days)
	}
	if r.IsSentence() && !c.calm {
		return row.At(c.gravity, quietly(r, c.end-c.gravity)).In(c.end)
	}
	return c.nextInto(c.figuresInto(row, t, r), t, r, chart).In(c.end)
}

// stageInto writes the stage, or a condition instead, with its mark to the left if there is room.
func (c columns) stageInto(row layout.Row, t theme.Theme, r words.Row) layout.Row {
	switch {
	case r.Condition != "":
		mark, at := widget.InWord(t, r.Condition, string(r.Condition.Mark())), c.stage-2
		if !c.headings {
			at = c.stage
		}
		return row.At(at, mark).At(at+2, t.Bold(r.Stage))
	case r.Steady:
		return row.At(c.stage, t.In(theme.Good, r.Stage))
	}
	return row.At(c.stage, r.Stage)
}

func (c columns) figuresInto(row layout.Row, t theme.Theme, r words.Row) layout.Row {
	row = row.At(c.gravity, t.Bold(r.Gravity)+doubt(r))
	ago := r.Ago
	if r.Stale {
		ago = t.BoldIn(theme.Warn, ago)
	}
	return row.At(max(c.agoEnd-layout.Width(r.Ago), c.gravity+6), ago)
}

// nextInto writes pace, alcohol, curve and what comes next.
func (c columns) nextInto(row layout.Row, t theme.Theme, r words.Row, chart string) layout.Row {
	says := r.Next
	if r.IsSentence() {
		return row.At(c.next, quietly(r, c.end-c.next))
	}
	if r.Condition != "" && c.alcoholPoint > 0 && layout.Width(says) > c.end-c.next {
		at := c.agoEnd + 3
		return row.At(at, layout.CutClauses(says, c.end-at))
	}
	if c.pacePoint > 0 {
		row = row.AtPoint(c.pacePoint, r.Pace, layout.Unstyled)
	}
	if c.alcoholPoint > 0 {
		row = row.AtPoint(c.alcoholPoint, r.Alcohol, layout.Unstyled)
	}
	if c.course > 0 {
		draw := widget.Braille
		if chart == "blocks" {
			draw = widget.Blocks
		}
		row = row.At(c.course, t.In(theme.Accent, draw(r.Curve, c.cells)))
	}
	at := c.next
	if c.course > 0 && len(r.Curve) == 0 && layout.Width(says) > c.end-at {
		at = c.course
	}
	return row.At(at, shortened(says, c.end-at))
}

// shortened returns what comes next in so many columns: of a day or an hour as much as there is room for, or none of it.
func shortened(says string, w int) string {
	if layout.Width(says) <= w {
		return says
	}
	ws := strings.Fields(says)
	when := slices.IndexFunc(ws, func(word string) bool { return slices.Contains(weekdays, word) || clock.MatchString(word) })
	for n := len(ws) - 1; when > 0 && n >= when; n-- { // "gravity Mon 12" for "gravity Mon 12 Oct"
		if less := strings.TrimRight(strings.TrimSuffix(strings.Join(ws[:n], " "), " by"), " ≈"); layout.Width(less) <= w {
			return less
		}
	}
	if less := layout.CutClauses(says, w); !strings.HasSuffix(less, "…") {
		return less
	}
	says, _, _ = strings.Cut(says, " by ")
	return layout.CutClauses(says, w)
}

var clock = regexp.MustCompile(`\d:\d`)

var weekdays = []string{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"}

func doubt(r words.Row) string {
	if r.Doubtful {
		return "?"
	}
	return ""
}

// quietly returns the state of a quiet vessel in the longest words that fit.
func quietly(r words.Row, w int) string {
	for _, text := range []string{r.Sentence, strings.ReplaceAll(r.Sentence, " the ", " "), words.Join("; ", r.Until, r.Next)} {
		if layout.Width(text) <= w {
			return text
		}
	}
	return layout.CutClauses(r.Until, w)
}
