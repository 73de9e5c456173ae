// Package guide is the guide inside the program: keys, words, cautions, and
// where each figure comes from.
package guide

import (
	"strings"

	"cellar/jugkeeper/schedule/app"
	chapters "cellar/jugkeeper/schedule/guide"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Model is the guide. Its methods give a changed copy.
type Model struct {
	theme         theme.Theme
	width, height int
	chapters      []chapters.Chapter
	chapter       int
	top           int
}

// New is the guide, with the keys as they are on this keyboard before the rest.
func New(keys chapters.Chapter) Model {
	return Model{chapters: append([]chapters.Chapter{keys}, chapters.Chapters()...)}
}

// SetSize is the guide on a screen of that size.
func (m Model) SetSize(width, height int) screen.Screen {
	m.width, m.height = width, height
	return m
}

// SetTheme is the guide in other colours.
func (m Model) SetTheme(t theme.Theme) screen.Screen {
	m.theme = t
	return m
}

// Show changes nothing: the guide is the same every day.
func (m Model) Show(app.Snapshot, words.Sheet) screen.Screen { return m }

// Do goes to another chapter, or along this one.
func (m Model) Do(a intent.Action) (screen.Screen, intent.Intent) {
	switch a {
	case intent.Next, intent.Side:
		return m.to(m.chapter + 1), nil
	case intent.Previous:
		return m.to(m.chapter - 1), nil
	}
	return widget.Along(m, a), nil
}

// to is another chapter, round and round.
func (m Model) to(chapter int) Model {
	m.chapter, m.top = (chapter+len(m.chapters))%len(m.chapters), 0
	return m
}

// Move scrolls by n rows.
func (m Model) Move(n int) Model {
	last := 0
	if layout.Fits(m.width, m.height) {
		rows, _ := m.rows()
		last = widget.LastTop(rows, m.room())
	}
	m.top = max(0, min(m.top+n, last))
	return m
}

// Page scrolls by n screens.
func (m Model) Page(n int) Model { return m.Move(n * max(m.room()-1, 1)) }

// Home scrolls to the top.
func (m Model) Home() Model { return m.Move(-m.top) }

// End scrolls to the bottom.
func (m Model) End() Model { return m.Move(1 << 20) }

// Typing is never.
func (m Model) Typing() bool { return false }

// Press does nothing: there is nothing to type.
func (m Model) Press(intent.Stroke) (screen.Screen, intent.Intent) { return m, nil }

// Subject is nobody.
func (m Model) Subject() string { return "" }

// Word is the table's own.
func (m Model) Word(a intent.Action) string {
	return map[intent.Action]string{intent.Next: "next chapter"}[a]
}

// Seek is the guide where a text stands: in this chapter from here on, else in
// the next that has it.
func (m Model) Seek(text string, again bool) (screen.Screen, bool) {
	after := m.top
	if again {
		after++
	}
	for range len(m.chapters) + 1 {
		_, plain := m.rows()
		for i := after; i < len(plain); i++ {
			if strings.Contains(strings.ToLower(plain[i]), strings.ToLower(text)) {
				return m.Move(i - m.top), true
			}
		}
		m, after = m.to(m.chapter+1), 0
	}
	return m, false
}
