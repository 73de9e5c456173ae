package widget

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/theme"
)

// Longest is the most characters of a line; a longer paste is cut.
const Longest = 2000

// Text is a line being edited, with a cursor that does not blink.
type Text struct {
	runes    []rune
	cursor   int
	selected bool // typing replaces the whole
}

// NewText returns a line with the cursor at its end.
func NewText(s string) Text {
	r := []rune(s)
	return Text{runes: r, cursor: len(r)}
}

// Selected returns the text with all of it selected, so that typing replaces it.
func (t Text) Selected() Text {
	t.selected = len(t.runes) > 0
	return t
}

// Whole reports whether all of the text is selected.
func (t Text) Whole() bool { return t.selected }

// Drawn returns the text with its cursor; that of a selected text is after its end.
func (t Text) Drawn(th theme.Theme, width int) string {
	before, under, after := t.Window(max(width, 4))
	if t.selected {
		return th.Typed(before+strings.TrimRight(under, " ")+after) + th.Cursor(" ")
	}
	return th.Typed(before) + th.Cursor(under) + th.Typed(after)
}

func (t Text) String() string { return string(t.runes) }

// Blank reports whether nothing but space was typed.
func (t Text) Blank() bool { return strings.TrimSpace(string(t.runes)) == "" }

// Press edits the text by one stroke. Other keys change nothing.
func (t Text) Press(s intent.Stroke) Text {
	if edit, ok := edits[s.Name]; ok && !s.Pasted {
		edited := edit(t)
		if t.selected && len(edited.runes) < len(t.runes) {
			return Text{}
		}
		edited.selected = false
		return edited
	}
	typed := oneLine(s.Text)
	if len(typed) == 0 {
		return t
	}
	if t.selected {
		t = Text{}
	}
	typed = typed[:min(len(typed), max(Longest-len(t.runes), 0))]
	t.runes = slices.Concat(t.runes[:t.cursor], typed, t.runes[t.cursor:])
	t.cursor += len(typed)
	return t
}

// edits are the keys that move the cursor or delete.
var edits = byKeys(map[string]func(Text) Text{
	"left ctrl+b":                  func(t Text) Text { return t.at(t.before(t.cursor)) },
	"right ctrl+f":                 func(t Text) Text { return t.at(t.after(t.cursor)) },
	"home ctrl+a":                  func(t Text) Text { return t.at(0) },
	"end ctrl+e":                   func(t Text) Text { return t.at(len(t.runes)) },
	"alt+b alt+left ctrl+left":     func(t Text) Text { return t.at(t.wordStart()) },
	"alt+f alt+right ctrl+right":   func(t Text) Text { return t.at(t.wordEnd()) },
	"backspace ctrl+h":             func(t Text) Text { return t.cut(t.before(t.cursor), t.cursor) },
	"delete ctrl+d":                func(t Text) Text { return t.cut(t.cursor, t.after(t.cursor)) },
	"ctrl+u":                       func(t Text) Text { return t.cut(0, t.cursor) },
	"ctrl+k":                       func(t Text) Text { return t.cut(t.cursor, len(t.runes)) },
	"ctrl+w alt+backspace":         func(t Text) Text { return t.cut(t.wordStart(), t.cursor) },
	"alt+d alt+delete ctrl+delete": func(t Text) Text { return t.cut(t.cursor, t.wordEnd()) },
})

// byKeys returns a table by key of one whose rows name several.
func byKeys(rows map[string]func(Text) Text) map[string]func(Text) Text {
	table := map[string]func(Text) Text{}
	for keys, edit := range rows {
		for _, k := range strings.Fields(keys) {
			table[k] = edit
		}
	}
	return table
}

func (t Text) at(cursor int) Text {
	t.cursor = cursor
	return t
}

func (t Text) cut(from, to int) Text {
	t.runes = slices.Concat(t.runes[:from], t.runes[to:])
	t.cursor = from
	return t
}

// before and after step over whole visible characters: a letter with its accents, a flag.
func (t Text) before(i int) int {
	start := 0
	for next := t.after(0); next < i; next = t.after(next) {
		start = next
	}
	return start
}

func (t Text) after(i int) int {
	if i >= len(t.runes) {
		return len(t.runes)
	}
	const most = 64 // most runes of one character; longer ones are split
	character, _ := ansi.FirstGraphemeCluster(string(t.runes[i:min(i+most, len(t.runes))]), ansi.GraphemeWidth)
	return min(i+max(utf8.RuneCountInString(character), 1), len(t.runes))
}

func (t Text) wordStart() int {
	i := t.cursor
	for i > 0 && unicode.IsSpace(t.runes[i-1]) {
		i--
	}
	for i > 0 && !unicode.IsSpace(t.runes[i-1]) {
		i--
	}
	return i
}

func (t Text) wordEnd() int {
	i := t.cursor
	for i < len(t.runes) && unicode.IsSpace(t.runes[i]) {
		i++
	}
	for i < len(t.runes) && !unicode.IsSpace(t.runes[i]) {
		i++
	}
	return i
}

// oneLine returns a text without line ends, tabs, control characters and direction marks.
func oneLine(s string) []rune {
	var out []rune
	for _, r := range s {
		switch {
		case r == '\n' || r == '\r' || r == '\t':
			out = append(out, ' ')
		case !unicode.IsControl(r) && !unicode.In(r, unicode.Zl, unicode.Zp, unicode.Bidi_Control) && r != unicode.ReplacementChar:
			out = append(out, r)
		}
	}
	return out
}

// Window returns the part of the text around the cursor that fits into a width: what is before, under and after the
// cursor. One column is kept for a cursor after the end.
func (t Text) Window(width int) (before, under, after string) {
	end := t.after(t.cursor)
	if t.cursor >= len(t.runes) {
		end = t.cursor
	}
	under = cmp.Or(string(t.runes[t.cursor:end]), " ")
	room := max(width-ansi.StringWidth(under), 0)
	before = t.lastBefore(room)
	after = ansi.Truncate(string(t.runes[end:]), max(room-ansi.StringWidth(before), 0), "")
	return before, under, after
}

// lastBefore returns the end of the text before the cursor, as much as fits.
func (t Text) lastBefore(room int) string {
	before := string(t.runes[:t.cursor])
	over := ansi.StringWidth(before) - room
	if over <= 0 {
		return before
	}
	from := 0
	for over++; over > 0 && from < t.cursor; { // one column more, for the sign that something is left out
		next := min(t.after(from), t.cursor)
		over -= ansi.StringWidth(string(t.runes[from:next]))
		from = next
	}
	if from >= t.cursor {
		return ""
	}
	return "…" + string(t.runes[from:t.cursor])
}
