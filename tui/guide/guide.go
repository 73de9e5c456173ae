// Package guide is the screen of the guide: keys, words, cautions, and the source of each figure.
package guide

import (
	"slices"

	"github.com/charmbracelet/x/ansi"

	chapters "cellar/jugkeeper/schedule/guide"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/widget"
)

// Model is the guide. Its methods give a changed copy.
type Model struct {
	screen.Plain
	chapters []chapters.Chapter
	chapter  int
	top      int
}

// New returns the guide, with chapters of this keyboard and this cellar first.
func New(first ...chapters.Chapter) Model {
	return Model{chapters: append(first, chapters.Chapters()...)}
}

type view struct {
	Model
	screen.Frame
}

// Show changes nothing: the guide does not depend on the cellar.
func (m Model) Show(screen.Frame) screen.Screen { return m }

func (m Model) Do(f screen.Frame, a intent.Action) (screen.Screen, intent.Intent) {
	switch a {
	case intent.Next, intent.Side:
		return m.to(m.chapter + 1), nil
	case intent.Previous:
		return m.to(m.chapter - 1), nil
	}
	v := view{m, f}
	if n, moves := widget.Steps(a, v.room()-1); moves {
		return v.move(n), nil
	}
	return m, intent.Act{Action: a}
}

func (m Model) to(chapter int) Model {
	m.chapter, m.top = (chapter+len(m.chapters))%len(m.chapters), 0
	return m
}

func (m view) move(n int) Model {
	rows, _ := m.rows()
	m.top = widget.ClampIndex(m.top+n, widget.LastTop(rows, m.room())+1)
	return m.Model
}

func (m Model) Word(a intent.Action) string {
	return map[intent.Action]string{intent.Next: "next chapter"}[a]
}

// Seek goes to the next place of a text: in this chapter from here on, else in the next that has it.
func (m Model) Seek(f screen.Frame, text string, again bool) (screen.Screen, bool) {
	after := m.top
	if again {
		after++
	}
	for range len(m.chapters) + 1 {
		_, plain := view{m, f}.rows()
		for i := after; i < len(plain); i++ {
			if widget.ContainsFold(plain[i], text) {
				return view{m, f}.move(i - m.top), true
			}
		}
		m, after = m.to(m.chapter+1), 0
	}
	return m, false
}

// textColumn returns the column of the text, after the widest head of the chapter.
func (m view) textColumn() int {
	column := 22
	for _, p := range m.chapters[m.chapter].Parts {
		column = max(column, m.Page().Margin+layout.Width(p.Head)+2)
	}
	return min(column, m.Width/2)
}

func (m Model) View(f screen.Frame) string { return f.Draw(view{m, f}.drawn) }

func (m view) drawn() []string {
	rows, _ := m.rows()
	return append(m.head(), widget.Scrolled(m.Theme, m.Page(), m.Page().End(), rows, m.top, m.room())...)
}

// AtEnd reports whether the chapter's last row is in sight.
func (m Model) AtEnd(f screen.Frame) bool {
	rows, _ := view{m, f}.rows()
	return m.top >= widget.LastTop(rows, view{m, f}.room())
}

func (m view) room() int { return m.Height - len(m.head()) - 1 }

func (m view) head() []string {
	page := m.Page()
	rows := append(m.names(), "")
	rows = append(rows, widget.Labelled(page, page.Margin, page.End(), "", m.chapters[m.chapter].Title)...)
	return append(rows, "")
}

// names returns the rows with the names of the chapters, the open one marked.
func (m view) names() (rows []string) {
	page := m.Page()
	first := page.Margin + 6
	r, at := layout.Row{}.At(page.Margin, m.Theme.Bold("guide")), first
	for i, c := range m.chapters {
		if at+layout.Width(c.Name)+2 > page.End() {
			rows, r, at = append(rows, r.In(page.End())), layout.Row{}, first
		}
		if i == m.chapter {
			r = r.At(at, m.Theme.Tag(c.Name))
		} else {
			r = r.At(at+1, c.Name)
		}
		at += layout.Width(c.Name) + 2
	}
	return append(rows, r.In(page.End()))
}

// rows returns the open chapter as drawn, and as plain text.
func (m view) rows() (drawn, plain []string) {
	page := m.Page()
	parts := m.chapters[m.chapter].Parts
	apart := !slices.ContainsFunc(parts, func(p chapters.Part) bool { return p.Source == "" })
	for i, p := range parts {
		if i > 0 && apart {
			drawn = append(drawn, "")
		}
		drawn = append(drawn, m.part(page, p)...)
	}
	for _, r := range drawn {
		plain = append(plain, ansi.Strip(r))
	}
	return drawn, plain
}

func (m view) part(page layout.Page, p chapters.Part) []string {
	head, column := m.Theme.Bold(p.Head), m.textColumn()
	if p.Mark != "" {
		head = widget.Explained(m.Theme, p.Mark)
	}
	if p.Head == "" && p.Mark == "" {
		column = page.Margin
	}
	rows := widget.Labelled(page, column, page.End(), head, p.Text)
	return append(rows, layout.Row{}.Wrapped(column, page.End(), p.Source, m.Theme.Faint)...)
}
