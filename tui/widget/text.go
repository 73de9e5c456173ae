package widget

import (
	"slices"
	"strings"
	"unicode"

	"github.com/charmbracelet/x/ansi"

	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/theme"
)

// longest is as much as one line takes: a pasted book is cut, not swallowed.
const longest = 2000

// Text is a line being edited, with a standing cursor.
type Text struct {
	runes    []rune
	cursor   int
	selected bool // typing replaces the whole
}

// NewText is a line with the cursor at its end.
func NewText(s string) Text {
	r := []rune(s)
	return Text{runes: r, cursor: len(r)}
}

// Selected is the text chosen whole, so that typing replaces it.
func (t Text) Selected() Text {
	t.selected = len(t.runes) > 0
	return t
}

// Whole tells whether the text is chosen whole.
func (t Text) Whole() bool { return t.selected }

// Drawn is the text with its cursor. What is chosen whole is reversed behind
// its end.
func (t Text) Drawn(th theme.Theme, width int) string {
	before, under, after := t.Window(max(width, 4))
	if t.selected {
		return th.Typed(before+strings.TrimRight(under, " ")+after) + th.Cursor(" ")
	}
	return th.Typed(before) + th.Cursor(under) + th.Typed(after)
}

func (t Text) String() string { return string(t.runes) }

// Blank tells whether nothing but space was typed.
func (t Text) Blank() bool { return strings.TrimSpace(string(t.runes)) == "" }

// Press edits the text by one stroke. A key that edits nothing changes nothing.
func (t Text) Press(s intent.Stroke) Text {
	if edit, ok := edits[s.Name]; ok && !s.Pasted {
		if t.selected && (s.Name == "backspace" || s.Name == "delete" || s.Name == "ctrl+h") {
			return Text{}
		}
		t.selected = false
		return edit(t)
	}
	if typed := oneLine(s.Text); len(typed) > 0 {
		return t.insert(typed)
	}
	return t
}

// edits are the keys that move the cursor or take something away.
var edits = map[string]func(Text) Text{
	"left":      func(t Text) Text { return t.at(t.before(t.cursor)) },
	"right":     func(t Text) Text { return t.at(t.after(t.cursor)) },
	"ctrl+b":    func(t Text) Text { return t.at(t.before(t.cursor)) },
	"ctrl+f":    func(t Text) Text { return t.at(t.after(t.cursor)) },
	"home":      func(t Text) Text { return t.at(0) },
	"end":       func(t Text) Text { return t.at(len(t.runes)) },
	"ctrl+a":    func(t Text) Text { return t.at(0) },
	"ctrl+e":    func(t Text) Text { return t.at(len(t.runes)) },
	"backspace": func(t Text) Text { return t.cut(t.before(t.cursor), t.cursor) },
	"ctrl+h":    func(t Text) Text { return t.cut(t.before(t.cursor), t.cursor) },
	"delete":    func(t Text) Text { return t.cut(t.cursor, t.after(t.cursor)) },
	"ctrl+u":    func(t Text) Text { return t.cut(0, t.cursor) },
	"ctrl+k":    func(t Text) Text { return t.cut(t.cursor, len(t.runes)) },
	"ctrl+w":    func(t Text) Text { return t.cut(t.wordStart(), t.cursor) },
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

func (t Text) insert(typed []rune) Text {
	if t.selected {
		t = Text{}
	}
	typed = typed[:min(len(typed), max(longest-len(t.runes), 0))]
	t.runes = slices.Concat(t.runes[:t.cursor], typed, t.runes[t.cursor:])
	t.cursor += len(typed)
	return t
}

// before and after step over whole characters, accents and all.
func (t Text) before(i int) int {
	for i--; i > 0 && unicode.Is(unicode.M, t.runes[i]); i-- {
	}
	return max(i, 0)
}

func (t Text) after(i int) int {
	for i++; i < len(t.runes) && unicode.Is(unicode.M, t.runes[i]); i++ {
	}
	return min(i, len(t.runes))
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

// oneLine is a text without line ends, tabs, control characters and marks that
// turn the direction of writing.
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

// Window is the part of the text around the cursor that fits into a width, one
// column kept for the cursor behind the end: what stands before the cursor,
// under it, and after it.
func (t Text) Window(width int) (before, under, after string) {
	end := t.after(t.cursor)
	if t.cursor >= len(t.runes) {
		end = t.cursor
	}
	under = string(t.runes[t.cursor:end])
	if under == "" {
		under = " "
	}
	room := max(width-ansi.StringWidth(under), 0)
	before = t.lastBefore(room)
	after = ansi.Truncate(string(t.runes[end:]), max(room-ansi.StringWidth(before), 0), "")
	return before, under, after
}

// lastBefore is what stands before the cursor, as much of its end as fits.
func (t Text) lastBefore(room int) string {
	before := string(t.runes[:t.cursor])
	for from := 0; ansi.StringWidth(before) > room; before = "…" + string(t.runes[from:t.cursor]) {
		if from = t.after(from); from >= t.cursor {
			return ""
		}
	}
	return before
}
