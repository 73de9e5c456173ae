package shelf

import (
	"slices"
	"strings"

	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// withBar is the width of the screen under which the bars are left out.
const withBar = 74

// columns returns those of a batch; a figure that a narrow screen leaves out has no place.
func (m view) columns(page layout.Page) []widget.Column[words.ShelfRow] {
	type row = words.ShelfRow
	after, at := page.Margin+m.tagRoom()+3, [10]int{-1, -1, 5, 7, 18, -1, 28, 34, 41, 47}
	switch {
	case m.Width >= 96:
		at = [10]int{0, 27, 34, 36, 47, 48, 67, 73, 80, 86}
	case m.Width >= withBar:
		at = [10]int{-1, 9, 16, 18, 28, 29, 47, 53, 60, 66}
	}
	columns := []widget.Column[row]{
		{Name: "honey", At: at[0], Of: func(b row) string { return layout.Cut(b.Honey, at[1]-11) }},
		{Name: "bottled", At: at[1], Ends: true, Of: func(b row) string { return b.Bottled }},
		{Name: "age", At: at[2], Ends: true, Of: func(b row) string { return b.Age }},
		{Name: "fizz", At: at[3], Of: func(b row) string { return b.Fizz }},
		{Name: "left", At: at[4], Ends: true, Of: func(b row) string { return b.Left.String() }, Set: m.Theme.Bold},
		{At: at[5], Of: func(b row) string { return bar(m.Theme, b.Left, b.Filled) }},
	}
	for i, name := range []string{"drink", "keep", "taste", "test"} {
		columns = append(columns, widget.Column[row]{Name: name, At: at[6+i], Ends: true, Of: func(b row) string {
			n := [4]shelf.Count{b.Drink, b.Keep, b.Tasting, b.Test}[i]
			if n.Some() {
				return m.Theme.Bold(n.String())
			}
			return m.Theme.Faint(n.String())
		}})
	}
	columns = slices.DeleteFunc(columns, func(c widget.Column[row]) bool { return c.At < 0 })
	for i := range columns {
		columns[i].At += after
	}
	return append([]widget.Column[row]{{Name: "vessel", At: page.Margin}}, columns...)
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
