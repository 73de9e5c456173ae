package widget

import (
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

// Spoken is a text without signs or colours, after a head, in lines of so many
// columns, all but the first indented. It is read in the order it stands in.
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
