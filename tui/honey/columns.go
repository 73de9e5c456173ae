package honey

import (
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// columns are where the figures of an item stand. Those that end in a column say
// so.
type columns struct {
	id, idRoom             int
	firstEnd, secondEnd    int // left and water, or the generation
	word, proved           int
	name, ageEnd, nameRoom int
}

// The room that an id has at least and at most.
const (
	leastID = 7
	mostID  = 20
)

// columnsOf are the columns of the open list up to a column.
func (m view) columnsOf(page layout.Page, end int) columns {
	room := leastID
	for i := range m.count(m.open) {
		room = max(room, layout.Width(m.id(m.open, i)))
	}
	most := mostID
	if end < 66 {
		most = 16
	}
	c := columns{id: page.Margin, idRoom: min(room, most), ageEnd: end}
	s := c.id + c.idRoom
	if m.open == cultures {
		c.firstEnd, c.word, c.proved = s+5, s+8, s+22
		return c
	}
	c.firstEnd, c.secondEnd, c.word = s+11, s+19, s+22
	c.name, c.nameRoom = c.word+17, end-7-c.word-17
	return c
}

// leastName is the room from which a name is worth its place.
const leastName = 14

func (c columns) heading(t theme.Theme, l list) string {
	r := layout.Row{}
	ending := func(end int, name string) { r = r.At(end-len(name), t.Faint(name)) }
	if l == cultures {
		r = r.At(c.id, t.Faint("culture"))
		ending(c.firstEnd, "gen")
		r = r.At(c.word+2, t.Faint("verdict")).At(c.proved, t.Faint("reached in proof"))
		ending(c.ageEnd, "stored")
		return r.In(c.ageEnd)
	}
	r = r.At(c.id, t.Faint("lot"))
	ending(c.firstEnd, "left")
	ending(c.secondEnd, "water")
	r = r.At(c.word+2, t.Faint("use"))
	if c.nameRoom >= leastName {
		r = r.At(c.name, t.Faint("name"))
	}
	ending(c.ageEnd, "age")
	return r.In(c.ageEnd)
}

// lot is the rest of the row of a lot.
func (c columns) lot(t theme.Theme, r layout.Row, l words.LotCard) string {
	r = ending(r, c.firstEnd, l.Left, t.Bold)
	r = ending(r, c.secondEnd, l.Water, plain)
	r = r.At(c.word, marked(t, l.Word, l.Keeps))
	if c.nameRoom >= leastName {
		r = r.At(c.name, layout.Cut(l.Name, c.nameRoom))
	}
	return ending(r, c.ageEnd, l.Age, plain).In(c.ageEnd)
}

// culture is the rest of the row of a culture.
func (c columns) culture(t theme.Theme, r layout.Row, k words.CultureCard) string {
	r = ending(r, c.firstEnd, k.Generation, plain)
	r = r.At(c.word, marked(t, k.Word, k.Verdict)).At(c.proved, k.Reached)
	return ending(r, c.ageEnd, k.Age, plain).In(c.ageEnd)
}

func plain(s string) string { return s }

func ending(r layout.Row, column int, text string, set func(string) string) layout.Row {
	return r.At(column-layout.Width(text), set(text))
}

// marked is a text behind the mark of a word, in its place also without one.
func marked(t theme.Theme, w words.Word, text string) string {
	if w == "" {
		return "  " + text
	}
	if w == words.Stop {
		return widget.InWord(t, w, string(w.Mark())) + text
	}
	return widget.InWord(t, w, string(w.Mark())) + " " + text
}
