package guide

import (
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	chapters "cellar/jugkeeper/schedule/guide"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/widget"
)

// textColumn is where what is said of a head stands.
const textColumn = 22

// View draws the guide in exactly its size, rows parted by line feeds.
func (m Model) View(foot string) string {
	if !layout.Fits(m.width, m.height) {
		return widget.Fill(widget.TooSmall(m.theme, m.width, m.height), "", m.width, m.height)
	}
	page := layout.PageOf(m.width)
	rows, _ := m.rows()
	out := append(m.head(page), widget.Scrolled(m.theme, page, page.End(), rows, m.top, m.room())...)
	return widget.Fill(out, widget.Foot(page, foot), m.width, m.height)
}

func (m Model) room() int { return m.height - len(m.head(layout.PageOf(m.width))) - 1 }

// head names the chapters, the open one hung out, and what this one is about.
func (m Model) head(page layout.Page) []string {
	r := layout.Row{}.At(page.Margin, m.theme.Bold("guide"))
	for i, c := range m.chapters {
		name := " " + c.Name + " "
		if i == m.chapter {
			name = m.theme.HungOut(c.Name)
		}
		r = r.At(max(r.End(), page.Margin+6), name)
	}
	rows := []string{r.In(page.End()), ""}
	rows = append(rows, widget.Told(page, page.Margin, page.End(), "", m.chapters[m.chapter].Title)...)
	return append(rows, "")
}

// rows is the open chapter, as it is drawn and as plain text.
func (m Model) rows() (drawn, plain []string) {
	page := layout.PageOf(m.width)
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

// part is a head, what is said of it, and its source under it.
func (m Model) part(page layout.Page, p chapters.Part) []string {
	head, column := m.theme.Bold(p.Head), textColumn
	if p.Mark != "" {
		head = widget.Word(m.theme, p.Mark)
	}
	if p.Head == "" && p.Mark == "" {
		column = page.Margin
	}
	rows := widget.Told(page, column, page.End(), head, p.Text)
	if p.Source == "" {
		return rows
	}
	for _, r := range widget.Told(page, column, page.End(), "", p.Source) {
		rows = append(rows, strings.Repeat(" ", column)+m.theme.Faint(strings.TrimSpace(r)))
	}
	return rows
}
