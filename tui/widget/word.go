package widget

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/schedule/sheet"
	"cellar/jugkeeper/tui/theme"
)

// weight is how a word is set off.
type weight struct {
	role theme.Role
	bold bool
}

// Words that are not here are set as they are.
var weights = map[sheet.Word]weight{
	sheet.Late: {theme.Late, true}, sheet.No: {theme.Late, true},
	sheet.Held: {theme.Warn, true}, sheet.Warn: {theme.Warn, true}, sheet.Ask: {theme.Warn, true},
	sheet.Shut: {theme.Warn, false},
	sheet.Due:  {theme.Plain, true},
	sheet.Done: {theme.Good, false}, sheet.Open: {theme.Good, false}, sheet.Saved: {theme.Good, false},
}

// Word is a word with its mark, one unit in one colour.
func Word(t theme.Theme, w sheet.Word) string { return InWord(t, w, w.String()) }

// InWord sets a text off as a word is: the mark alone, or a count.
func InWord(t theme.Theme, w sheet.Word, text string) string {
	if w == sheet.Stop {
		return t.Block(theme.Late, text)
	}
	switch set, ok := weights[w]; {
	case ok && set.bold:
		return t.BoldIn(set.role, text)
	case ok:
		return t.In(set.role, text)
	}
	return text
}

// Counts is how many tasks stand under the words that matter.
func Counts(t theme.Theme, cs []sheet.Count, gap string) string {
	parts := make([]string, len(cs))
	for i, c := range cs {
		text := fmt.Sprintf("%c %d %s", c.Word.Mark(), c.N, string(c.Word))
		parts[i] = InWord(t, c.Word, text)
		if c.Word == sheet.Done {
			parts[i] = t.BoldIn(theme.Good, text)
		}
	}
	return strings.Join(parts, gap)
}
