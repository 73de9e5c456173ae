package widget

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"cellar/jugkeeper/tui/intent"
)

func key(name string) intent.Stroke {
	if name == "space" {
		return intent.Stroke{Name: name, Text: " "}
	}
	if len([]rune(name)) == 1 {
		return intent.Stroke{Name: name, Text: name}
	}
	return intent.Stroke{Name: name}
}

func press(t Text, names ...string) Text {
	for _, n := range names {
		t = t.Press(key(n))
	}
	return t
}

func TestKeysEditALineOfText(t *testing.T) {
	for _, c := range []struct {
		name, start string
		keys        string
		want        string
		cursor      int
	}{
		{"type", "", "1 0 4 6", "1046", 4},
		{"in the middle", "146", "left left 0", "1046", 2},
		{"at the start", "046", "home 1", "1046", 1},
		{"back", "1046", "backspace", "104", 3},
		{"back at the start", "1046", "home backspace", "1046", 0},
		{"delete", "1046", "home delete", "046", 0},
		{"delete at the end", "1046", "delete", "1046", 4},
		{"all before", "1046@23", "left left left ctrl+u", "@23", 0},
		{"all after", "1046@23", "home right ctrl+k", "1", 1},
		{"a word", "1046@23 ph3.4", "ctrl+w", "1046@23 ", 8},
		{"a word with spaces after", "ph3.4  ", "ctrl+w", "", 0},
		{"back over a word", "1046@23 ph3.4", "alt+b 9", "1046@23 9ph3.4", 9},
		{"on over a word", "1046@23 ph3.4", "home alt+f 9", "1046@239 ph3.4", 8},
		{"back over a word with arrows", "1046@23 ph3.4", "ctrl+left", "1046@23 ph3.4", 8},
		{"on over a word with arrows", "1046@23 ph3.4", "home alt+right", "1046@23 ph3.4", 7},
		{"a word away", "1046@23 ph3.4", "alt+backspace", "1046@23 ", 8},
		{"the word ahead away", "1046@23 ph3.4", "home alt+d", " ph3.4", 0},
		{"all of a sign of several goes at once", "a👩‍👩‍👧", "backspace", "a", 1},
		{"a flag goes at once", "x🇳🇱", "backspace", "x", 1},
		{"over a sign of several", "👍🏽x", "home right 1", "👍🏽1x", 3},
		{"a syllable goes at once", "각", "backspace", "", 0},
		{"an accent goes with its letter", "cafe\u0301", "backspace", "caf", 3},
		{"over an accent", "e\u0301x", "home right", "e\u0301x", 2},
		{"a key that edits nothing", "1046", "f5 up", "1046", 4},
		{"space", "1046", "space", "1046 ", 5},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := press(NewText(c.start), strings.Fields(c.keys)...)
			assert.Equal(t, c.want, got.String())
			assert.Equal(t, c.cursor, got.cursor)
		})
	}
}

func TestTypingReplacesWhatIsSelected(t *testing.T) {
	assert.Equal(t, "1", press(NewText("1.0 g").Selected(), "1").String())
	assert.Equal(t, "", press(NewText("1.0 g").Selected(), "backspace").String())
	assert.Equal(t, "1.0 ", press(NewText("1.0 g").Selected(), "end", "backspace").String())
	assert.Equal(t, "1.0 g!", press(NewText("1.0 g").Selected(), "right", "end", "!").String())
}

func TestPasteIsOneLineAndHarmless(t *testing.T) {
	got := NewText("").Press(intent.Stroke{Text: "1046@23\r\n\tph3.4\x1b[31m\x00", Pasted: true})
	assert.Equal(t, "1046@23   ph3.4[31m", got.String())
	book := NewText("").Press(intent.Stroke{Text: strings.Repeat("must ", 5000), Pasted: true})
	assert.Len(t, []rune(book.String()), Longest)
}

func TestWindowFitsAndHoldsTheCursor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := NewText(rapid.StringMatching(`[a-z0-9 @.蜂蜜é]{0,40}`).Draw(t, "text"))
		for range rapid.IntRange(0, 40).Draw(t, "left") {
			text = press(text, "left")
		}
		width := rapid.IntRange(4, 30).Draw(t, "width")
		before, under, after := text.Window(width)
		assert.LessOrEqual(t, ansi.StringWidth(before+under+after), width)
		assert.NotEmpty(t, under)
	})
}

// TestSecondPasteStopsAtTheLimitToo: a line takes 2000 letters in all, however
// many times something is pasted.
func TestSecondPasteStopsAtTheLimitToo(t *testing.T) {
	page := intent.Stroke{Text: strings.Repeat("a", Longest-500), Pasted: true}
	line := NewText("").Press(page).Press(intent.Stroke{Text: strings.Repeat("b", 499), Pasted: true})
	assert.Len(t, line.String(), Longest-1)
	line = line.Press(page)
	assert.Equal(t, strings.Repeat("a", Longest-500)+strings.Repeat("b", 499)+"a", line.String())
	assert.Equal(t, line.String(), line.Press(page).String(), "a full line takes nothing more")
}
