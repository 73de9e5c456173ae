package widget

import (
	"fmt"

	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// TooSmall says on a screen that is too small what would fit.
func TooSmall(t theme.Theme, w, h int) []string {
	says := fmt.Sprintf("jugkeeper needs %d × %d; this is %d × %d.", layout.LeastWidth, layout.LeastHeight, w, h)
	if h < 3 {
		return fit([]string{says}, w, h)
	}
	rows := make([]string, h)
	at := max(min(4, h/2-2), 0)
	rows[at] = "  " + says
	if w >= leastPaper && at+2 < h-1 {
		rows[at+2] = fmt.Sprintf("  jugkeeper today --width %d fits.", w-2)
	}
	rows[h-1] = "  " + KeyRow(t, []Key{{"q", "leave"}}, w-2)
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
