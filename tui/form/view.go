package form

import (
	"fmt"
	"strings"

	forms "cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// The columns of a form.
const (
	valueColumn = 17
	fromColumn  = 33
	wordColumn  = 12
)

// View draws the form.
func (m Model) View(f screen.Frame) string { return f.Draw(view{m, f}.drawn) }

func (m view) drawn() []string {
	page := m.Page()
	rows := append(m.head(page), m.rows(page)...)
	rows = append(rows, m.hint(page))
	return append(rows, widget.Scrolled(m.Theme, page, page.End(), m.under(page), m.top, m.room(page))...)
}

// head is the title and the plain answer.
func (m view) head(page layout.Page) []string {
	first, rest, _ := strings.Cut(m.form.Title, " ")
	rows := []string{layout.Row{}.At(page.Margin, m.Theme.Bold(first)).At(wordColumn, rest).In(page.End()), ""}
	for _, line := range m.outcome.Answer {
		for _, part := range layout.Wrap(line, page.Width) {
			rows = append(rows, layout.Row{}.At(page.Margin, m.Theme.Bold(part)).In(page.End()))
		}
	}
	if len(m.outcome.Answer) > 0 {
		rows = append(rows, "")
	}
	return rows
}

// leastUnder is how many rows what follows keeps for itself.
func (m view) leastUnder() int { return max(m.Height/4, 3) }

// window is which fields there is room for around the cursor.
func (m view) window(page layout.Page) (from, to int) {
	room := max(m.Height-2-len(m.head(page))-m.leastUnder(), 3)
	from = max(0, min(m.index()-room/2, len(m.fields)-room))
	return from, min(from+room, len(m.fields))
}

// rows are the fields in the window.
func (m view) rows(page layout.Page) []string {
	from, to := m.window(page)
	var rows []string
	for i := from; i < to; i++ {
		rows = append(rows, m.row(page, m.fields[i], i == m.index()))
	}
	return rows
}

// row is one field: its name, what stands in it, and where that came from.
func (m view) row(page layout.Page, f forms.Field, here bool) string {
	value, from := m.value(f), m.from(f, here)
	r := layout.Row{}
	if here {
		r = r.At(0, m.Theme.In(theme.Accent, "▌"))
	}
	r = r.At(page.Margin, f.Label)
	switch {
	case here:
		r = r.At(valueColumn, m.text.Drawn(m.Theme, max(fromColumn-valueColumn-2, min(layout.Width(value)+2, page.End()-valueColumn))))
	case value == "":
		r = r.At(valueColumn, "·")
	default:
		r = r.At(valueColumn, value)
	}
	if here || r.End() < fromColumn {
		r = r.At(fromColumn, m.Theme.Faint(from))
	}
	return r.In(page.End())
}

// from is where a value came from, or what may stand there.
func (m Model) from(f forms.Field, here bool) string {
	_, set := m.typed[f.Key]
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
func (m view) hint(page layout.Page) string {
	f, r := m.field(), layout.Row{}
	from := m.from(f, true)
	if max(fromColumn, valueColumn+layout.Width(m.value(f))+2)+layout.Width(from) > page.End() {
		r = r.At(page.Margin, m.Theme.Faint(strings.TrimPrefix(from, "← → ")))
	}
	if _, to := m.window(page); to < len(m.fields) {
		r = r.Until(page.End(), m.Theme.Faint(fmt.Sprintf("↓ %d more", len(m.fields)-to)))
	}
	return r.In(page.End())
}

// room is how many rows there are under the fields.
func (m view) room(page layout.Page) int {
	return max(m.Height-2-len(m.head(page))-len(m.rows(page)), 0)
}

// under is what follows from the fields: what is wrong, then cautions and gates
// by their loudness, then the rest.
func (m view) under(page layout.Page) []string {
	var rows []string
	if m.failed != "" {
		rows = append(rows, m.told(page, words.No, m.failed)...)
	}
	for _, w := range m.outcome.Wrong {
		if m.tried || w.Key == m.key && m.value(m.field()) != "" {
			rows = append(rows, m.told(page, words.Ask, m.label(w.Key)+": "+w.Text)...)
		}
	}
	for _, loud := range []bool{true, false} {
		for _, l := range m.outcome.Lines {
			if isLoud(l) == loud {
				rows = append(rows, m.told(page, l.Word, l.Text)...)
			}
		}
	}
	return rows
}

func (m view) told(page layout.Page, w words.Word, text string) []string {
	word := ""
	if w != "" {
		word = widget.Word(m.Theme, w)
	}
	return widget.Told(page, wordColumn, page.End(), word, text)
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
func isLoud(l forms.Line) bool {
	return l.Word == words.Stop || l.Word == words.No || l.Word == words.Warn || l.Word == words.Shut
}

// loud is how many rows the lines take that must be seen.
func (m view) loud(page layout.Page) int {
	n := 0
	for _, l := range m.outcome.Lines {
		if isLoud(l) {
			n += len(m.told(page, l.Word, l.Text))
		}
	}
	return n
}

// unseen is how far to scroll for what must be seen and was not; 0 for nothing.
func (m view) unseen() int {
	page := m.Page()
	under, room := m.under(page), m.room(page)
	last := m.loud(page)
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
	page := m.Page()
	room := m.room(page)
	m.top = max(0, min(m.top+n*max(room-1, 1), widget.LastTop(m.under(page), room)))
	return m.Model
}
