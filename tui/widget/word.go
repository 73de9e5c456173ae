package widget

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/theme"
)

// weights are how words are highlighted; others are plain.
var weights = map[words.Word]struct {
	role theme.Role
	bold bool
}{
	words.Late: {theme.Late, true}, words.No: {theme.Late, true},
	words.Held: {theme.Warn, true}, words.Warn: {theme.Warn, true}, words.Ask: {theme.Warn, true},
	words.Shut: {theme.Warn, false},
	words.Due:  {theme.Plain, true},
	words.Done: {theme.Good, false}, words.Open: {theme.Good, false}, words.Saved: {theme.Good, false},
}

// Word returns a word with its mark, one unit in one colour.
func Word(t theme.Theme, w words.Word) string { return InWord(t, w, w.String()) }

// InWord highlights a text as a word is: the mark alone, or a count.
func InWord(t theme.Theme, w words.Word, text string) string {
	if w.OnField() {
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

// Counts returns how many tasks have each of the words that matter.
func Counts(t theme.Theme, cs []words.Count, gap string) string {
	parts := make([]string, len(cs))
	for i, c := range cs {
		text := fmt.Sprintf("%c %d %s", c.Word.Mark(), c.N, string(c.Word))
		parts[i] = InWord(t, c.Word, text)
	}
	return strings.Join(parts, gap)
}
