// Package widget has the parts that screens are made of.
package widget

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// Key is a key and what it does, for the last row of a screen.
type Key struct{ Key, Does string }

// KeyRow writes the keys in one row of at most w columns. If there is no room the gaps narrow, then keys are left out
// from the middle; help, the way back, Enter and what is further down always stay.
func KeyRow(t theme.Theme, keys []Key, w int) string {
	row := func(gap string) string {
		parts := make([]string, len(keys))
		for i, k := range keys {
			parts[i] = t.Bold(k.Key) + " " + t.Faint(k.Does)
		}
		return strings.Join(parts, gap)
	}
	if wide := row("   "); layout.Width(wide) <= w {
		return wide
	}
	for len(keys) > 1 && layout.Width(row("  ")) > w {
		i := len(keys) - 2 // the last is help
		for i > 0 && (slices.Contains([]string{"Esc", "q", "Enter"}, keys[i].Key) || keys[i] == Key{"↓", "more"}) {
			i--
		}
		keys = slices.Concat(keys[:i], keys[i+1:])
	}
	return layout.Cut(row("  "), w)
}

// Ends returns a row of w columns with a text at each end; the left one is cut if need be.
func Ends(left, right string, w int) string {
	room := w - layout.Width(right)
	if right == "" || room < 2 {
		return layout.Cut(left, w)
	}
	return layout.Pad(left, room-2) + "  " + right
}

// Labelled writes a label at the margin, and its text wrapped from a column on.
func Labelled(page layout.Page, column, end int, word, text string) []string {
	return layout.Row{}.At(page.Margin, word).Wrapped(column, end, text, layout.Unstyled)
}

// Scrolled returns the rows from top on that fit; the last counts the hidden ones.
func Scrolled(t theme.Theme, page layout.Page, end int, rows []string, top, room int) []string {
	rows = rows[min(top, LastTop(rows, room)):]
	if len(rows) <= room || room <= 1 {
		return rows[:min(len(rows), max(room, 0))]
	}
	more := fmt.Sprintf("↓ %d more", len(rows)-room+1)
	return append(rows[:room-1:room-1], layout.Row{}.At(page.Margin, t.Faint(more)).In(end))
}

// LastTop returns the last row to which rows can be scrolled.
func LastTop(rows []string, room int) int { return max(len(rows)-max(room, 0), 0) }

// Fill joins rows to a screen of exactly its size, with a last row.
func Fill(rows []string, last string, width, height int) string {
	out := make([]string, max(height, 0))
	copy(out, rows)
	if height > 0 && last != "" {
		out[height-1] = last
	}
	return strings.Join(fit(out, width, height), "\n")
}

// far is more steps than any list has.
const far = 1 << 20

// Steps returns by how many steps an action moves along a list with so many steps a page; not ok for an action that
// does not move.
func Steps(a intent.Action, page int) (steps int, ok bool) {
	page = max(page, 1)
	steps, ok = map[intent.Action]int{intent.Up: -1, intent.Down: 1, intent.PageUp: -page, intent.PageDown: page, intent.Top: -far, intent.Bottom: far}[a]
	return steps, ok
}

// Pages returns by how many pages an action turns; not ok for any other action.
func Pages(a intent.Action) (pages int, ok bool) {
	pages, ok = map[intent.Action]int{intent.PageUp: -1, intent.PageDown: 1}[a]
	return pages, ok
}

// FindFrom returns the first index, from one on and wrapping around, for which has is true.
func FindFrom(from, n int, again bool, has func(i int) bool) (at int, found bool) {
	if again {
		from++
	}
	for i := range n {
		if at := (from + i) % n; has(at) {
			return at, true
		}
	}
	return 0, false
}

// ContainsFold reports whether a text contains another, ignoring case.
func ContainsFold(text, sought string) bool {
	return strings.Contains(strings.ToLower(text), strings.ToLower(sought))
}

// ClampIndex limits an index to 0 to n−1.
func ClampIndex(i, n int) int { return max(0, min(i, n-1)) }

// TooSmall is shown on a screen that is too small; it says what would fit.
func TooSmall(t theme.Theme, w, h int) []string {
	rows := make([]string, max(h, 0))
	says := layout.Wrap(fmt.Sprintf("jugkeeper needs %d × %d; this is %d × %d.", layout.LeastWidth, layout.LeastHeight, w, h), max(w-2, 1))
	if w >= leastPaper {
		says = append(append(says, ""), fmt.Sprintf("jugkeeper today --width %d fits.", w-2))
	}
	for i, text := range says {
		if at := i + max(min(4, h/2-2), 0); at < max(h-1, 1) && at < h {
			rows[at] = strings.Repeat(" ", min(2, max(w-1, 0))) + text
		}
	}
	if h > 2 {
		rows[h-1] = "  " + KeyRow(t, []Key{{"q", "leave"}}, w-2)
	}
	return fit(rows, w, h)
}

// leastPaper is the least width of the printed day.
const leastPaper = 32

// fit cuts rows to a width and a height.
func fit(rows []string, w, h int) []string {
	rows = rows[:min(len(rows), max(h, 0))]
	for i, r := range rows {
		rows[i] = layout.Cut(r, w)
	}
	return rows
}

// Spoken writes a text without signs or colours, in lines of so many columns, indented.
func Spoken(head, text string, indent, width int) []string {
	lines := layout.WrapWords(words.Aloud(text), max(width-indent, 20))
	for i, line := range lines {
		if i == 0 && head != "" {
			lines[i] = words.Aloud(head) + line
		} else if i > 0 {
			lines[i] = strings.Repeat(" ", indent) + line
		}
	}
	return lines
}

// weights are the highlights of words; others are plain.
var weights = map[words.Word]struct {
	role theme.Role
	bold bool
}{
	words.Late: {theme.Late, true}, words.No: {theme.Late, true},
	words.Held: {theme.Warn, true}, words.Warn: {theme.Warn, true}, words.Ask: {theme.Warn, true},
	words.Shut: {theme.Warn, false},
	words.Due:  {theme.Plain, true},
	words.Done: {theme.Good, false}, words.Open: {theme.Good, false}, words.Saved: {theme.Good, false},
}

// Word writes a word with its mark, highlighted as one.
func Word(t theme.Theme, w words.Word) string { return InWord(t, w, w.String()) }

// Explained writes a word as Word does, in a list of what words mean: without a background, which begins a column earlier.
func Explained(t theme.Theme, w words.Word) string {
	if w.OnField() {
		return t.BoldIn(theme.Late, w.String())
	}
	return Word(t, w)
}

// InWord highlights a text like a word: the mark alone, or a count.
func InWord(t theme.Theme, w words.Word, text string) string {
	if w.OnField() {
		return t.Block(theme.Late, text)
	}
	switch set, ok := weights[w]; {
	case ok && set.bold:
		return t.BoldIn(set.role, text)
	case ok:
		return t.In(set.role, text)
	}
	return text
}

// Counts writes how many tasks have each of the words.
func Counts(t theme.Theme, cs []words.Count, gap string) string {
	parts := make([]string, len(cs))
	for i, c := range cs {
		text := fmt.Sprintf("%c %d %s", c.Word.Mark(), c.N, string(c.Word))
		parts[i] = InWord(t, c.Word, text)
	}
	return strings.Join(parts, gap)
}
