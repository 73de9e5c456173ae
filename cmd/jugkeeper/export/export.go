// Package export writes a cellar for other places than the screen: a calendar,
// a spreadsheet, paper, a picture. It takes its words from the sheet and its
// figures from the course, as the screens do; it reads no file and no clock.
package export

import (
	"strings"
	"unicode"

	"cellar/jugkeeper/ferment"
)

// plain is a text of a person on one line, fit for every format.
func plain(text string) string { return strings.TrimSpace(ferment.Harmless(text)) }

// lines are the lines of a person's text, each fit for every format.
func lines(text string) []string {
	split := strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' || r == '\u0085' || r == '\u2028' || r == '\u2029' })
	var out []string
	for _, l := range split {
		if l = strings.TrimRightFunc(ferment.Harmless(l), unicode.IsSpace); l != "" {
			out = append(out, l)
		}
	}
	return out
}
