package widget

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// Told is a text beside its word: the word at the margin, the text wrapped from
// a column up to an end.
func Told(page layout.Page, column, end int, word, text string) []string {
	var rows []string
	for i, line := range layout.Wrap(text, max(end-column, 10)) {
		r := layout.Row{}
		if i == 0 {
			r = r.At(page.Margin, word)
		}
		rows = append(rows, r.At(column, line).In(end))
	}
	return rows
}

// Scrolled is as many rows as there is room for, from one on; the last says how
// many more there are.
func Scrolled(t theme.Theme, page layout.Page, end int, rows []string, top, room int) []string {
	rows = rows[min(top, LastTop(rows, room)):]
	if len(rows) <= room || room <= 1 {
		return rows[:min(len(rows), max(room, 0))]
	}
	more := fmt.Sprintf("↓ %d more", len(rows)-room+1)
	return append(rows[:room-1:room-1], layout.Row{}.At(page.Margin, t.Faint(more)).In(end))
}

// LastTop is how far rows can be scrolled.
func LastTop(rows []string, room int) int { return max(len(rows)-max(room, 0), 0) }

// Fill is a screen of exactly its size, rows parted by line feeds: rows from the
// top, and a last one.
func Fill(rows []string, last string, width, height int) string {
	out := make([]string, max(height, 0))
	copy(out, rows)
	if height > 0 && last != "" {
		out[height-1] = last
	}
	for i, r := range out {
		out[i] = layout.Cut(r, width)
	}
	return strings.Join(out, "\n")
}
