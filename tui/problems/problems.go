// Package problems is what is wrong in the files, and what looks unlikely there,
// each with its line.
package problems

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Model is the screen. Its methods give a changed copy.
type Model struct {
	theme         theme.Theme
	width, height int
	read          bool // the files have been read
	failed        string
	items         []item
	at            int
}

// item is a problem or a remark.
type item struct {
	ferment.Problem
	word words.Word
}

// New is the screen before the files are read.
func New() Model { return Model{} }

// Found is the screen with what stands in the files. The cursor stays at its
// place, by file and line, where that is still there.
func (m Model) Found(problems, remarks []ferment.Problem, err error) Model {
	had := m.selected()
	m.read, m.failed, m.items, m.at = true, "", nil, 0
	if err != nil {
		m.failed = err.Error()
	}
	for _, p := range problems {
		m.items = append(m.items, item{p, words.Warn})
	}
	for _, p := range remarks {
		m.items = append(m.items, item{p, words.Note})
	}
	for i, it := range m.items {
		if it.File == had.File && it.Line == had.Line {
			m.at = i
			break
		}
	}
	return m
}

func (m Model) selected() item {
	if m.at >= len(m.items) {
		return item{}
	}
	return m.items[m.at]
}

// SetSize is the screen on a terminal of that size.
func (m Model) SetSize(width, height int) screen.Screen {
	m.width, m.height = width, height
	return m
}

// SetTheme is the screen in other colours.
func (m Model) SetTheme(t theme.Theme) screen.Screen {
	m.theme = t
	return m
}

// Show changes nothing: what is wrong is read for this screen alone.
func (m Model) Show(app.Snapshot, words.Sheet) screen.Screen { return m }

// Do moves the cursor, or opens the file at its line.
func (m Model) Do(a intent.Action) (screen.Screen, intent.Intent) {
	if a == intent.Open && len(m.items) > 0 {
		return m, intent.Amend{}
	}
	return widget.Along(m, a), nil
}

// Move moves the cursor by n.
func (m Model) Move(n int) Model {
	m.at = max(0, min(m.at+n, len(m.items)-1))
	return m
}

// Page moves the cursor by n screens.
func (m Model) Page(n int) Model { return m.Move(n * max(m.height/4, 1)) }

// Home goes to the first.
func (m Model) Home() Model { return m.Move(-len(m.items)) }

// End goes to the last.
func (m Model) End() Model { return m.Move(len(m.items)) }

// Typing is never.
func (m Model) Typing() bool { return false }

// Press does nothing: there is nothing to type.
func (m Model) Press(intent.Stroke) (screen.Screen, intent.Intent) { return m, nil }

// Subject is nobody.
func (m Model) Subject() string { return "" }

// File is the file under the cursor, and its line.
func (m Model) File() (file string, line int) {
	it := m.selected()
	return it.File, max(it.Line, 1)
}

// Word is what a key does here.
func (m Model) Word(a intent.Action) string {
	if a == intent.Open && len(m.items) == 0 {
		return "-"
	}
	return map[intent.Action]string{intent.Open: "to that line"}[a]
}

// textColumn is where what stands there is said.
const textColumn = 12

// View draws the screen in exactly its size, rows parted by line feeds.
func (m Model) View(foot string) string {
	if !layout.Fits(m.width, m.height) {
		return widget.Fill(widget.TooSmall(m.theme, m.width, m.height), "", m.width, m.height)
	}
	page := layout.PageOf(m.width)
	rows := []string{layout.Row{}.At(page.Margin, m.theme.Bold("to mend")).At(textColumn, m.answer()).In(page.End()), ""}
	rows = append(rows, m.list(page, m.height-4)...)
	return widget.Fill(rows, widget.Foot(page, foot), m.width, m.height)
}

// answer is the plain one.
func (m Model) answer() string {
	problems := 0
	for _, it := range m.items {
		if it.word == words.Warn {
			problems++
		}
	}
	switch {
	case m.failed != "":
		return m.failed
	case !m.read:
		return "every file is being read"
	case len(m.items) == 0:
		return "every file can be read, and nothing looks unlikely"
	}
	return fmt.Sprintf("cannot be read: %d; looks unlikely: %d", problems, len(m.items)-problems)
}

// list is as many of the items as there is room for, the one under the cursor
// among them.
func (m Model) list(page layout.Page, room int) []string {
	from, height := m.at, len(m.item(page, m.at))
	for from > 0 && height+1+len(m.item(page, from-1)) <= room {
		from--
		height += 1 + len(m.item(page, from))
	}
	var rows []string
	for i := from; i < len(m.items) && len(rows) < room; i++ {
		if i > from {
			rows = append(rows, "")
		}
		rows = append(rows, m.item(page, i)...)
	}
	return rows[:min(len(rows), room)]
}

// item is where something stands, what is wrong with it, and its line.
func (m Model) item(page layout.Page, i int) []string {
	if i >= len(m.items) {
		return nil
	}
	it := m.items[i]
	where := it.File
	if it.Line > 0 {
		where += fmt.Sprintf(", line %d", it.Line)
	}
	rows := []string{layout.Row{}.At(page.Margin, widget.Word(m.theme, it.word)).At(textColumn, m.theme.Bold(where)).In(page.End())}
	if text := strings.TrimSpace(it.Text); text != "" {
		rows = append(rows, layout.Row{}.At(textColumn, layout.Cut(text, page.End()-textColumn)).In(page.End()))
	}
	rows = append(rows, widget.Told(page, textColumn, page.End(), "", it.Message)...)
	if i != m.at {
		return rows
	}
	for y, r := range rows {
		rows[y] = m.theme.In(theme.Accent, "▌") + strings.TrimPrefix(r, " ")
	}
	return rows
}
