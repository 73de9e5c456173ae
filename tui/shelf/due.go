package shelf

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// due is what is to be done in so many rows, in the order of the board, and a
// blank row under it.
func (m view) due(page layout.Page, room int) []string {
	if len(m.words.Due) == 0 {
		return nil
	}
	tells := []func(int) bool{m.always, m.underCursor, m.dangers}
	if m.Height < roomy {
		tells = tells[1:]
	}
	var blocks [][]string
	for _, tell := range tells {
		blocks = m.blocks(page, tell)
		if rows := slices.Concat(blocks...); len(rows) < room {
			return append(rows, "")
		}
	}
	return m.window(page, blocks, room)
}

// window is as many blocks as go into so many rows, the one under the cursor
// among them, and how many more there are.
func (m view) window(page layout.Page, blocks [][]string, room int) []string {
	from, to := min(m.at, len(blocks)-1), min(m.at, len(blocks)-1)+1
	rows := blocks[from]
	for from > 0 && len(rows)+len(blocks[from-1]) < room {
		from--
		rows = slices.Concat(blocks[from], rows)
	}
	for to < len(blocks) && len(rows)+len(blocks[to]) < room {
		rows = slices.Concat(rows, blocks[to])
		to++
	}
	more := ""
	if rest := len(blocks) - (to - from); rest > 0 {
		more = layout.Row{}.At(page.Margin, m.Theme.Faint(fmt.Sprintf("%d more to do", rest))).In(page.End())
	}
	return append(slices.Clone(rows[:min(len(rows), max(room-1, 1))]), more)
}

// What is told of a task besides its line: all of it, the one under the cursor,
// or dangers and what is late alone.
func (m view) always(int) bool        { return true }
func (m view) underCursor(i int) bool { return i == m.at || m.dangers(i) }
func (m view) dangers(i int) bool {
	w := m.words.Due[i].Line.Word
	return w != words.Due && w != words.Option
}

func (m view) blocks(page layout.Page, tell func(int) bool) [][]string {
	var blocks [][]string
	for i, t := range m.words.Due {
		b := m.block(page, t, i == m.at, tell(i))
		if i > 0 && m.Height >= roomy {
			b = append([]string{""}, b...)
		}
		blocks = append(blocks, b)
	}
	return blocks
}

// state is where the word of a task begins: behind the tags of two where there
// is room for them.
func (m view) state(page layout.Page) int {
	tags := 1
	for _, t := range m.words.Due {
		if m.Width >= withBar {
			tags = max(tags, len(t.Tags))
		}
	}
	return page.Margin + tags*(m.tagRoom()+2) + 1
}

// wordRoom is what the word of a task takes.
const wordRoom = 9

// block is one task: its tags, its word, the act and until when; under it why
// and how, and what to do instead.
func (m view) block(page layout.Page, t words.ShelfTask, on, tell bool) []string {
	l, state := t.Line, m.state(page)
	text, at := state+wordRoom, state
	if l.Word == words.Stop {
		at-- // its field hangs out by a column
	}
	head := layout.Row{}.At(at, widget.Word(m.Theme, l.Word)).At(text, m.Theme.Bold(layout.CutClauses(l.Act, page.End()-text)))
	until := l.Until
	if head.Fits(page.End(), until) {
		head, until = head.Until(page.End(), until), ""
	}
	rows := []string{head.In(page.End())}
	if tell {
		for _, part := range layout.Wrap(joined(": ", l.Reason, l.Frees), page.End()-text) {
			rows = append(rows, layout.Row{}.At(text, part).In(page.End()))
		}
	}
	for i, part := range layout.Wrap(l.Instead, page.End()-text) {
		r := layout.Row{}
		if i == 0 {
			r = r.At(state, words.Do.String())
		}
		rows = append(rows, r.At(text, m.Theme.Bold(part)).In(page.End()))
	}
	stacked := m.Width < withBar && len(t.Tags) > 1
	if len(rows) == 1 && (until != "" || stacked) {
		rows = append(rows, "")
	}
	if until != "" {
		rows[1] = layout.Row{}.At(0, rows[1]).Until(page.End(), until).In(page.End())
	}
	return m.led(rows, t, on, stacked)
}

// led puts the cursor and the tags before the rows of a task; where there is no
// room for two the second stands under the first.
func (m view) led(rows []string, t words.ShelfTask, on, stacked bool) []string {
	for i := range rows {
		tags, ids := t.Tags, t.Subjects
		switch {
		case stacked && i < len(t.Tags):
			tags, ids = t.Tags[i:i+1], t.Subjects[i:i+1]
		case i > 0 && on:
			rows[i] = layout.Lead(m.Theme.In(theme.Accent, "▌"), rows[i])
			continue
		case i > 0:
			continue
		}
		rows[i] = m.lead(on, "", tags, ids, rows[i])
	}
	return rows
}

func joined(by string, texts ...string) string {
	return strings.Join(slices.DeleteFunc(texts, func(s string) bool { return s == "" }), by)
}
