// Package layout is arithmetic on columns: how wide a text is, how it is cut,
// padded, lined up and wrapped. Widths are those of a terminal, where a wide
// letter takes two columns and an escape code none; a letter of ambiguous
// width takes one.
package layout

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// Width is how many columns a text takes.
func Width(s string) int { return ansi.StringWidth(s) }

// Cut is the text in at most w columns, an ellipsis at its end where something
// was cut off.
func Cut(s string, w int) string {
	if w <= 0 {
		return ""
	}
	return ansi.Truncate(s, w, "…")
}

// Pad is the text in exactly w columns, cut or filled up at the right.
func Pad(s string, w int) string {
	s = Cut(s, w)
	return s + spaces(w-Width(s))
}

// Right is the text in exactly w columns, cut or filled up at the left.
func Right(s string, w int) string {
	s = Cut(s, w)
	return spaces(w-Width(s)) + s
}

func spaces(n int) string { return strings.Repeat(" ", max(n, 0)) }
