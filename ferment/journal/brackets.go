package journal

import (
	"bytes"
	"strings"

	"gopkg.in/yaml.v3"
)

// inBrackets puts a text before the closing bracket of a list or a mapping
// between brackets, after what it holds.
func (rec *record) inBrackets(n *yaml.Node, text string) []edit {
	open := rec.offset(n.Line, n.Column)
	last, closed := lastInBrackets(rec.text, open)
	if !closed {
		return nil
	}
	switch held := rec.text[last-1]; {
	case len(n.Content) == 0:
		return []edit{{at: last, text: text}}
	case held == ',':
		return []edit{{at: last, text: rec.nextItem(n) + text + ","}}
	}
	return []edit{{at: last, text: "," + rec.nextItem(n) + text}}
}

// nextItem parts an item from the one before: a line of its own where the last
// item has one, else a space.
func (rec *record) nextItem(n *yaml.Node) string {
	last := n.Content[len(n.Content)-1]
	if n.Kind == yaml.MappingNode {
		last = n.Content[len(n.Content)-2]
	}
	if last.Line == n.Line || !rec.alone(last.Line, last.Column) {
		return " "
	}
	return rec.newline() + strings.Repeat(" ", last.Column-1)
}

// lastInBrackets is the offset after the last sign that a list or a mapping
// holds, its opening bracket where it holds nothing. It knows quotes and
// comments.
func lastInBrackets(text []byte, open int) (after int, closed bool) {
	depth, held := 0, open // held is where the last sign that counts stands
	for i := open; i < len(text); i++ {
		switch c := text[i]; {
		case c == '[' || c == '{':
			depth++
		case c == ']' || c == '}':
			if depth--; depth == 0 {
				return held + 1, true
			}
		case c == ' ' || c == '\t' || c == '\n' || c == '\r':
			continue
		case c == '#' && isSpace(text[i-1]):
			i = endOfLine(text, i) - 1
			continue
		case (c == '"' || c == '\'') && strings.IndexByte("[{,:?", text[held]) >= 0:
			i = endOfQuote(text, i, c) - 1
		}
		held = i
	}
	return 0, false
}

func isSpace(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

func endOfLine(text []byte, i int) int {
	if n := bytes.IndexByte(text[i:], '\n'); n >= 0 {
		return i + n
	}
	return len(text)
}

// endOfQuote is the offset after the sign that closes a quote. Two single
// quotes stand for one, a backslash keeps a double one from closing.
func endOfQuote(text []byte, open int, sign byte) int {
	for i := open + 1; i < len(text); i++ {
		switch {
		case text[i] == '\\' && sign == '"':
			i++
		case text[i] == sign && sign == '\'' && i+1 < len(text) && text[i+1] == sign:
			i++
		case text[i] == sign:
			return i + 1
		}
	}
	return len(text)
}
