package layout

// The smallest screen that can be drawn on.
const (
	LeastWidth  = 60
	LeastHeight = 15
)

// Fits tells whether a screen of that size can be drawn on.
func Fits(width, height int) bool { return width >= LeastWidth && height >= LeastHeight }

// Narrow is the width under which the page has the narrow columns.
const Narrow = 66

// Page is where text may stand on a screen: from the margin on, and how far.
type Page struct{ Margin, Width int }

// PageOf is the page of a screen of that many columns.
func PageOf(columns int) Page {
	if columns < Narrow {
		return Page{Margin: 2, Width: max(columns-3, 0)}
	}
	return Page{Margin: 3, Width: columns - 5}
}

// End is the column after the last one of the page.
func (p Page) End() int { return p.Margin + p.Width }
