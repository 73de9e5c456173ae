package widget

import (
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// Column is one column of a list.
type Column[T any] struct {
	Name string
	At   int                 // its first column, of one that Ends the one after its last
	Ends bool                // it is aligned at its right
	Of   func(T) string      // the text of an item; nil where its row begins with it
	Set  func(string) string // writes the text; nil for as it is
}

// Heading returns the names of columns.
func Heading[T any](t theme.Theme, columns []Column[T], end int) string {
	r := layout.Row{}
	for _, c := range columns {
		r = c.put(r, c.Name, t.Faint)
	}
	return r.In(end)
}

// Item returns one item in its columns, after what its row begins with.
func Item[T any](r layout.Row, columns []Column[T], item T, end int) string {
	for _, c := range columns {
		set := c.Set
		if set == nil {
			set = layout.Unstyled
		}
		if c.Of != nil {
			r = c.put(r, c.Of(item), set)
		}
	}
	return r.In(end)
}

func (c Column[T]) put(r layout.Row, text string, set func(string) string) layout.Row {
	if c.Ends {
		return r.Ending(c.At, text, set)
	}
	return r.At(c.At, set(text))
}
