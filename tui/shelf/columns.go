package shelf

import (
	"strings"

	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// columns are the columns of a batch's figures; 0 for one left out.
type columns struct {
	tag, honey, bottledEnd, ageEnd, fizz, leftEnd, bar int
	ends                                               [4]int // drink, keep, taste, test
	end                                                int
}

// withBar is the width of the screen under which the bars are left out.
const withBar = 74

// columnsOf returns the columns of a screen for tags of that width.
func columnsOf(page layout.Page, width, room int) columns {
	s := page.Margin + room + 3 // after the tag
	c := columns{tag: page.Margin, end: page.End()}
	switch {
	case width >= 96:
		c.honey, c.bottledEnd, c.ageEnd, c.fizz, c.leftEnd, c.bar = s, s+27, s+34, s+36, s+47, s+48
		c.ends = [4]int{s + 67, s + 73, s + 80, s + 86}
	case width >= withBar:
		c.bottledEnd, c.ageEnd, c.fizz, c.leftEnd, c.bar = s+9, s+16, s+18, s+28, s+29
		c.ends = [4]int{s + 47, s + 53, s + 60, s + 66}
	default:
		c.ageEnd, c.fizz, c.leftEnd = s+5, s+7, s+18
		c.ends = [4]int{s + 28, s + 34, s + 41, s + 47}
	}
	return c
}

var purposes = [4]string{"drink", "keep", "taste", "test"}

func (c columns) heading(t theme.Theme) string {
	r := layout.Row{}.At(c.tag, t.Faint("vessel"))
	r = named(r, t, c.honey, "honey")
	if c.bottledEnd > 0 {
		r = r.At(c.bottledEnd-9, t.Faint("bottled"))
	}
	r = named(named(r, t, c.ageEnd-3, "age"), t, c.fizz, "fizz").At(c.leftEnd-2, t.Faint("left"))
	for i, end := range c.ends {
		r = r.At(end-len(purposes[i]), t.Faint(purposes[i]))
	}
	return r.In(c.end)
}

func named(r layout.Row, t theme.Theme, column int, name string) layout.Row {
	if column <= 0 {
		return r
	}
	return r.At(column, t.Faint(name))
}

func (c columns) row(t theme.Theme, b words.ShelfRow) string {
	r := layout.Row{}
	if c.honey > 0 {
		r = r.At(c.honey, layout.Cut(b.Honey, c.bottledEnd-9-c.honey-2))
	}
	if c.bottledEnd > 0 {
		r = r.Ending(c.bottledEnd, b.Bottled, layout.Unstyled)
	}
	r = r.Ending(c.ageEnd, b.Age, layout.Unstyled).At(c.fizz, b.Fizz)
	r = r.Ending(c.leftEnd, b.Left.String(), t.Bold)
	if c.bar > 0 {
		r = r.At(c.bar, bar(t, b.Left, b.Filled))
	}
	for i, n := range [4]shelf.Count{b.Drink, b.Keep, b.Tasting, b.Test} {
		set := t.Faint
		if n.Some() {
			set = t.Bold
		}
		r = r.Ending(c.ends[i]-1, n.String(), set)
	}
	return r.In(c.end)
}

// bar returns a mark for each bottle, the ones left first; only the count for over 12.
func bar(t theme.Theme, left, filled shelf.Count) string {
	switch {
	case filled.Unknown:
		return t.Faint("nobody counted")
	case filled.N > 12:
		return t.Faint("of " + filled.String())
	}
	return strings.Repeat("▮", min(left.N, filled.N)) + strings.Repeat("▯", max(filled.N-left.N, 0))
}
