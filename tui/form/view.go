package form

import (
	"fmt"
	"strings"

	forms "cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/fill"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/widget"
)

// grid is where the form stands.
func (m view) grid() fill.Grid {
	return fill.Grid{Theme: m.Theme, Page: m.Page(), Value: 17, From: 33, Text: 12}
}

// View draws the form.
func (m Model) View(f screen.Frame) string { return f.Draw(view{m, f}.drawn) }

func (m view) drawn() []string {
	page := m.Page()
	rows := append(m.head(), m.rows()...)
	rows = append(rows, m.hint())
	return append(rows, widget.Scrolled(m.Theme, page, page.End(), m.under(), m.top, m.room())...)
}

// head is the title and the plain answer.
func (m view) head() []string {
	g := m.grid()
	first, rest, _ := strings.Cut(m.form.Title, " ")
	rows := []string{layout.Row{}.At(g.Page.Margin, m.Theme.Bold(first)).At(g.Text, rest).In(g.Page.End()), ""}
	if answer := g.Answer(m.outcome); len(answer) > 0 {
		rows = append(append(rows, answer...), "")
	}
	return rows
}

// leastUnder is how many rows what follows keeps for itself.
func (m view) leastUnder() int { return max(m.Height/4, 3) }

// window is which fields there is room for around the cursor.
func (m view) window() (from, to int) {
	room := max(m.Height-2-len(m.head())-m.leastUnder(), 3)
	from = max(0, min(m.Index(m.fields)-room/2, len(m.fields)-room))
	return from, min(from+room, len(m.fields))
}

// rows are the fields in the window.
func (m view) rows() []string {
	g := m.grid()
	from, to := m.window()
	var rows []string
	for i := from; i < to; i++ {
		f, here, typing := m.fields[i], i == m.Index(m.fields), 0
		if here {
			typing = max(g.From-g.Value-2, min(layout.Width(m.Value(f))+2, g.Page.End()-g.Value))
		}
		rows = append(rows, g.Row(m.In, f, here, typing, m.from(f, here)).In(g.Page.End()))
	}
	return rows
}

// from is where a value came from, or what may stand there.
func (m Model) from(f forms.Field, here bool) string {
	_, set := m.Typed[f.Key]
	switch {
	case here && len(f.Words) > 0:
		return "← → " + strings.Join(f.Words, ", ")
	case set:
		return ""
	}
	return f.From
}

// hint is the blank row under the fields: what may stand in the one under the
// cursor, where its own row has no room for it, and how many fields follow.
func (m view) hint() string {
	g, f, r := m.grid(), m.field(), layout.Row{}
	from := m.from(f, true)
	if max(g.From, g.Value+layout.Width(m.Value(f))+2)+layout.Width(from) > g.Page.End() {
		r = r.At(g.Page.Margin, m.Theme.Faint(strings.TrimPrefix(from, "← → ")))
	}
	if _, to := m.window(); to < len(m.fields) {
		r = r.Until(g.Page.End(), m.Theme.Faint(fmt.Sprintf("↓ %d more", len(m.fields)-to)))
	}
	return r.In(g.Page.End())
}

// room is how many rows there are under the fields.
func (m view) room() int {
	return max(m.Height-2-len(m.head())-len(m.rows()), 0)
}

// under is what follows from the fields: what is wrong, then cautions and gates
// by their loudness, then the rest.
func (m view) under() []string {
	g := m.grid()
	var rows []string
	if m.failed != "" {
		rows = append(rows, g.Told(words.Said{Word: words.No, Text: m.failed})...)
	}
	for _, w := range m.outcome.Wrong {
		if m.tried || w.Key == m.Key && m.Value(m.field()) != "" {
			rows = append(rows, g.Told(words.Said{Word: words.Ask, Text: m.label(w.Key) + ": " + w.Text})...)
		}
	}
	for _, loud := range []bool{true, false} {
		for _, l := range m.outcome.Lines {
			if isLoud(l) == loud {
				rows = append(rows, g.Told(l)...)
			}
		}
	}
	return rows
}

func (m Model) label(key string) string {
	for _, f := range m.fields {
		if f.Key == key {
			return f.Label
		}
	}
	return key
}

// isLoud tells whether a line must have been seen before the form is kept.
func isLoud(l words.Said) bool {
	return l.Word == words.Stop || l.Word == words.No || l.Word == words.Warn || l.Word == words.Shut
}

// loud is how many rows the lines take that must be seen.
func (m view) loud() int {
	n := 0
	for _, l := range m.outcome.Lines {
		if isLoud(l) {
			n += len(m.grid().Told(l))
		}
	}
	return n
}

// unseen is how far to scroll for what must be seen and was not; 0 for nothing.
func (m view) unseen() int {
	under, room := m.under(), m.room()
	last := m.loud()
	if len(under) > room {
		room-- // the last row says how many more there are
	}
	if last <= m.top+room || m.top >= widget.LastTop(under, room) {
		return 0
	}
	return min(m.top+max(room, 1), widget.LastTop(under, room))
}

// scroll moves what stands under the fields by n screens of it.
func (m view) scroll(n int) Model {
	room := m.room()
	m.top = max(0, min(m.top+n*max(room-1, 1), widget.LastTop(m.under(), room)))
	return m.Model
}
