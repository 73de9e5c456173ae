// Package widget holds the drawn parts that screens are made of.
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

// KeyRow names the keys in one row of at most w columns. Where there is no
// room the gaps narrow, then keys give way from the middle: the first ones
// longest, help and the way back never.
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
		for i > 0 && (keys[i].Key == "Esc" || keys[i].Key == "q") {
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

// Told returns a text beside its word: the word at the margin, the text from a column on.
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

// Scrolled returns the rows there is room for, from one on; the last counts the rest.
func Scrolled(t theme.Theme, page layout.Page, end int, rows []string, top, room int) []string {
	rows = rows[min(top, LastTop(rows, room)):]
	if len(rows) <= room || room <= 1 {
		return rows[:min(len(rows), max(room, 0))]
	}
	more := fmt.Sprintf("↓ %d more", len(rows)-room+1)
	return append(rows[:room-1:room-1], layout.Row{}.At(page.Margin, t.Faint(more)).In(end))
}

// LastTop returns how far rows can be scrolled.
func LastTop(rows []string, room int) int { return max(len(rows)-max(room, 0), 0) }

// Fill returns a screen of exactly its size, rows parted by line feeds, and a last one.
func Fill(rows []string, last string, width, height int) string {
	out := make([]string, max(height, 0))
	copy(out, rows)
	if height > 0 && last != "" {
		out[height-1] = last
	}
	return strings.Join(fit(out, width, height), "\n")
}

// far is farther than any list goes.
const far = 1 << 20

// Along returns how far an action moves along a list, with so many steps a page, to the ends as far as the list goes;
// not ok for no movement.
func Along(a intent.Action, page int) (steps int, ok bool) {
	page = max(page, 1)
	steps, ok = map[intent.Action]int{intent.Up: -1, intent.Down: 1, intent.PageUp: -page, intent.PageDown: page, intent.Top: -far, intent.Bottom: far}[a]
	return steps, ok
}

// Turned returns how many pages an action turns; it is not ok for any other.
func Turned(a intent.Action) (pages int, ok bool) {
	pages, ok = map[intent.Action]int{intent.PageUp: -1, intent.PageDown: 1}[a]
	return pages, ok
}

// Round returns the first place, on and round, that has what is looked for.
func Round(from, n int, again bool, has func(i int) bool) (at int, found bool) {
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

// Holds reports whether a text stands in another, in capitals or not.
func Holds(text, sought string) bool {
	return strings.Contains(strings.ToLower(text), strings.ToLower(sought))
}

// Within returns a place among so many, the nearest to the one that is wished for.
func Within(i, n int) int { return max(0, min(i, n-1)) }

// TooSmall says on a screen that is too small what would fit.
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

// leastPaper is the width from which the printed day can be read.
const leastPaper = 32

// fit cuts rows to a width and a height.
func fit(rows []string, w, h int) []string {
	rows = rows[:min(len(rows), max(h, 0))]
	for i, r := range rows {
		rows[i] = layout.Cut(r, w)
	}
	return rows
}

// Spoken returns a text without signs or colours, in lines of so many columns, indented.
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

// weights are how words are highlighted; others are plain.
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

// Word returns a word with its mark, one unit in one colour.
func Word(t theme.Theme, w words.Word) string { return InWord(t, w, w.String()) }

// InWord highlights a text as a word is: the mark alone, or a count.
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

// Counts returns how many tasks have each of the words that matter.
func Counts(t theme.Theme, cs []words.Count, gap string) string {
	parts := make([]string, len(cs))
	for i, c := range cs {
		text := fmt.Sprintf("%c %d %s", c.Word.Mark(), c.N, string(c.Word))
		parts[i] = InWord(t, c.Word, text)
	}
	return strings.Join(parts, gap)
}
