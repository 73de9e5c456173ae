package board

import (
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

// grid are the columns that both lists share, so that the eye falls down one
// edge: which, its state or stage, what. End is the column after the last.
type grid struct {
	tag, state, text  int
	point, unit, what int // of an amount, and of what
	end               int
	narrow            bool
	room              int // for the tags
}

// The tags that a grid has room for without giving way, and at most.
const (
	usualTag  = 6
	widestTag = 12
)

// gridOf are the columns of a page for the tags of a sheet. Names that are
// longer than a tag may be push all columns to the right.
func gridOf(p layout.Page, s words.Sheet) grid {
	room := usualTag
	for _, r := range s.Vessels {
		room = max(room, layout.Width(r.Tag))
	}
	for _, l := range s.Tasks {
		room = max(room, layout.Width(l.Tag))
	}
	room = min(room, widestTag)
	g := grid{tag: 3, state: 12, text: 22, point: 37, unit: 40, what: 43, end: p.End(), room: room}
	if p.Margin < 3 {
		g = grid{tag: 2, state: 10, text: 19, end: p.End(), room: room, narrow: true}
	}
	return g.shifted(room - usualTag)
}

func (g grid) shifted(by int) grid {
	g.state, g.text = g.state+by, g.text+by
	g.point, g.unit, g.what = g.point+by, g.unit+by, g.what+by
	return g
}

// The widths from which the card of the selected vessel stands beside the
// lists, and its own least and greatest width.
const (
	withCard   = 110
	widestCard = 52
)

// split parts a screen into the page of the lists and the columns of the card.
func split(width int) (lists layout.Page, cardAt, cardWidth int) {
	if width < withCard {
		return layout.PageOf(width), 0, 0
	}
	end := min(max(78+(width-112)/7, 78), 84)
	cardAt = end + min(max(width-107, 3), 6) - 1
	return layout.Page{Margin: 3, Width: end - 3}, cardAt, min(widestCard, width-2-cardAt)
}
