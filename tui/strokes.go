package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"cellar/jugkeeper/tui/intent"
)

// strokesOf takes a key message apart. Several keys that were read at once
// arrive as one message; a paste is one stroke.
func strokesOf(msg tea.KeyMsg) []intent.Stroke {
	switch {
	case msg.Paste:
		return []intent.Stroke{{Text: string(msg.Runes), Pasted: true}}
	case msg.Type == tea.KeySpace:
		return []intent.Stroke{{Name: "space", Text: " "}}
	case msg.Type != tea.KeyRunes || msg.Alt:
		return []intent.Stroke{{Name: msg.String()}}
	}
	var strokes []intent.Stroke
	for _, r := range msg.Runes {
		strokes = append(strokes, runeStroke(r))
	}
	return strokes
}

func runeStroke(r rune) intent.Stroke {
	if r == ' ' {
		return intent.Stroke{Name: "space", Text: " "}
	}
	return intent.Stroke{Name: string(r), Text: string(r)}
}

// joined is the text of strokes that came together, where each of them types
// something: into a line they go in one.
func joined(strokes []intent.Stroke) (intent.Stroke, bool) {
	text := ""
	for _, s := range strokes {
		if s.Text == "" || s.Pasted {
			return intent.Stroke{}, false
		}
		text += s.Text
	}
	return intent.Stroke{Text: text}, true
}
