package board

import (
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// taskList is what to do in so many rows.
func (p view) taskList(rows int) []string {
	selected := p.taskIndexIn(p.items)
	calm := p.calmRows()
	var entries []entry
	for i, it := range p.items {
		on := p.side == Tasks && i == selected
		e := entry{gap: it.gap, selected: i == selected && p.side == Tasks}
		for y, row := range it.rows {
			tag := ""
			if y == 0 && it.tagged {
				tag = it.line.Tag
			}
			e.rows = append(e.rows, p.lead(on, "", tag, it.line.Subject, block(it.line.Word) == 0, row))
		}
		entries = append(entries, e)
	}
	return append(calm, window(entries, rows-len(calm), p.page.Margin)...)
}

func (p view) taskIndexIn(items []item) int {
	first := -1
	for i, it := range items {
		if idOf(it.line) == p.task {
			return i
		}
		if first < 0 && it.line.Subject == p.vessel {
			first = i
		}
	}
	return max(first, 0)
}

// calmRows say that there is nothing to do, and what is next.
func (p plan) calmRows() []string {
	if !p.Sheet.Calm() {
		return nil
	}
	rows := []string{layout.Row{}.At(p.page.Margin, p.Theme.Bold("Nothing to do today.")).In(p.Width)}
	if next := p.Sheet.Next; next != "" {
		rows = append(rows, layout.Row{}.At(p.page.Margin, "Next: "+next+".").In(p.page.End()))
	}
	if len(p.candidates()) > 0 {
		rows = append(rows, "")
	}
	return rows
}

// vesselList are the vessels in so many rows.
func (p view) vesselList(rows int) []string {
	var entries []entry
	for _, r := range p.Sheet.Vessels {
		on := p.side == Vessels && r.ID == p.vessel
		row := p.columns.row(p.Theme, r, p.Sheet.Chart)
		entries = append(entries, entry{
			rows:     []string{p.lead(on, r.Trial, r.Tag, r.ID, true, row)},
			selected: r.ID == p.vessel,
		})
	}
	return window(entries, rows, p.page.Margin)
}

// lead is what stands left of the state: the cursor bar, the string of a trial,
// the tag, hung out where its vessel is selected.
func (p view) lead(cursor bool, trial, tag, id string, bold bool, row string) string {
	return layout.Lead(p.cursor(cursor, trial)+p.tag(tag, id, bold), row)
}

func (p view) cursor(on bool, trial string) string {
	bar := " "
	if on {
		bar = p.Theme.In(theme.Accent, "▌")
	}
	if trial == "" {
		trial = " "
	}
	switch {
	case !p.grid.narrow:
		return bar + trial
	case on:
		return bar
	}
	return trial
}

// tag is a tag with the column before it.
func (p view) tag(tag, id string, bold bool) string {
	text := layout.Cut(tag, p.grid.room)
	switch {
	case text == "":
		return ""
	case id == p.vessel:
		return p.Theme.HungOut(text)
	case bold:
		return " " + p.Theme.Bold(text)
	}
	return " " + text
}
