// Package problems is the screen of problems in the files and unlikely values, each with its line.
package problems

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Model is the screen. Its methods give a changed copy.
type Model struct {
	screen.Plain
	items []item
	at    int
}

type view struct {
	Model
	screen.Frame
}

type item struct {
	ferment.Problem
	word words.Word
}

// Show returns the screen with the present problems; the cursor stays on its file and line, if still there.
func (m Model) Show(f screen.Frame) screen.Screen {
	had := m.selected()
	m.items = ferment.Map(f.Files.Problems, func(p ferment.Problem) item { return item{p, words.Warn} })
	m.items = append(m.items, ferment.Map(f.Files.Remarks, func(p ferment.Problem) item { return item{p, words.Note} })...)
	m.at = max(slices.IndexFunc(m.items, func(it item) bool { return it.File == had.File && it.Line == had.Line }), 0)
	return m
}

func (m Model) selected() item {
	if m.at >= len(m.items) {
		return item{}
	}
	return m.items[m.at]
}

func (m Model) Do(f screen.Frame, a intent.Action) (screen.Screen, intent.Intent) {
	n, moves := widget.Steps(a, f.Height/4)
	switch {
	case a == intent.Open && m.opens():
		return m, intent.OpenEditor{}
	case moves:
		m.at = widget.ClampIndex(m.at+n, len(m.items))
		return m, nil
	}
	return m, intent.Act{Action: a}
}

// opens reports whether an editor can open what is selected: a file, not a folder.
func (m Model) opens() bool { return path.Ext(m.selected().File) != "" }

func (m Model) File(screen.Frame) (file string, line int) {
	if it := m.selected(); m.opens() {
		return it.File, max(it.Line, 1)
	}
	return "", 0
}

func (m Model) Word(a intent.Action) string {
	if (a == intent.Open || a == intent.Edit) && !m.opens() {
		return screen.Unnamed
	}
	return map[intent.Action]string{intent.Open: "to that line"}[a]
}

const textColumn = 12

func (m Model) View(f screen.Frame) string { return f.Draw(view{m, f}.drawn) }

func (m view) drawn() []string {
	page := m.Page()
	rows := []string{layout.Row{}.At(page.Margin, m.Theme.Bold("problems")).At(textColumn, m.answer()).In(page.End()), ""}
	return append(rows, m.list(page, m.Height-4)...)
}

func (m view) answer() string {
	problems := 0
	for _, it := range m.items {
		if it.word == words.Warn {
			problems++
		}
	}
	switch {
	case m.Files.Err != nil:
		return m.Files.Err.Error()
	case !m.Files.Read:
		return "every file is being read"
	case len(m.items) == 0:
		return "none: all can be read, nothing looks unlikely"
	}
	return fmt.Sprintf("cannot be read: %d; looks unlikely: %d", problems, len(m.items)-problems)
}

// list returns as many items as fit, including the one under the cursor.
func (m view) list(page layout.Page, room int) []string {
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

// item returns the rows of a problem: place, message, and the line of the file.
func (m view) item(page layout.Page, i int) []string {
	if i >= len(m.items) {
		return nil
	}
	it := m.items[i]
	where := it.File
	if it.Line > 0 {
		where += fmt.Sprintf(", line %d", it.Line)
	}
	rows := []string{layout.Row{}.At(page.Margin, widget.Word(m.Theme, it.word)).At(textColumn, m.Theme.Bold(where)).In(page.End())}
	if text := strings.TrimSpace(it.Text); text != "" {
		rows = append(rows, layout.Row{}.At(textColumn, layout.Cut(text, page.End()-textColumn)).In(page.End()))
	}
	rows = append(rows, widget.Labelled(page, textColumn, page.End(), "", it.Message)...)
	if i != m.at {
		return rows
	}
	for y, r := range rows {
		rows[y] = m.Theme.In(theme.Accent, "▌") + strings.TrimPrefix(r, " ")
	}
	return rows
}
