package line

import (
	"fmt"
	"strings"
	"unicode"
)

// part is one piece of a line, with the column that it begins in, from 1.
type part struct {
	text   string
	column int
}

func (p part) fail(format string, args ...any) error {
	return &Error{Part: p.text, Column: p.column, Message: fmt.Sprintf(format, args...)}
}

// splitLine cuts a line at its spaces, and before every @ that is not in a
// value. What stands between double quotes stays together; the first semicolon
// outside them begins the note.
func splitLine(text string) (words []part, note part, err error) {
	var word strings.Builder
	start, column, quoted := 1, 0, false
	end := func() {
		if word.Len() > 0 {
			words = append(words, part{word.String(), start})
		}
		word.Reset()
	}
	for i, c := range text {
		column++
		switch {
		case c == '"':
			quoted = !quoted
		case quoted:
		case c == ';':
			end()
			return words, part{strings.TrimSpace(text[i+1:]), column + 1}, nil
		case unicode.IsSpace(c):
			end()
			continue
		case c == '@' && !strings.Contains(word.String(), "="):
			end()
		}
		if word.Len() == 0 {
			start = column
		}
		word.WriteRune(c)
	}
	if quoted {
		return nil, note, part{word.String(), start}.fail(`the quotes are not closed (e.g. smell="wet wool")`)
	}
	end()
	return words, note, nil
}
