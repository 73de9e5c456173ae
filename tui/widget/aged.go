package widget

import (
	"slices"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// Aged returns what was found of each ferment, with the ages as columns, as many side by side
// as are wide enough for words.
func Aged(t theme.Theme, page layout.Page, labels []string, found words.Aged) []string {
	const from, least = 19, 15
	var rows []string
	for some := range slices.Chunk(found.Rows, max((page.End()-from)/least, 1)) {
		each := (page.End() - from) / len(some)
		lines := []layout.Row{{}}
		if len(rows) == 0 {
			lines[0] = lines[0].At(page.Margin, t.Faint(found.Name))
		}
		for i, c := range some {
			lines[0] = lines[0].At(from+i*each, t.Faint(c.Name))
		}
		for l, label := range labels {
			first := len(lines)
			lines = append(lines, layout.Row{}.At(page.Margin, t.Bold(layout.Cut(label, from-page.Margin-1))))
			for i, c := range some {
				for y, text := range layout.Wrap(c.Values[l], each-2) {
					if first+y == len(lines) {
						lines = append(lines, layout.Row{})
					}
					lines[first+y] = lines[first+y].At(from+i*each, text)
				}
			}
		}
		for _, line := range lines {
			rows = append(rows, line.In(page.End()))
		}
	}
	return rows
}
