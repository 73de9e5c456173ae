package entry

import (
	"strings"

	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/widget"
)

// Find is the line that looks for a tag, a name or an act. The selection goes
// there while it is typed.
type Find struct{ text widget.Text }

// NewFind opens the line, with what was looked for before.
func NewFind(before string) Line { return Find{text: widget.NewText(before).Selected()} }

// Press edits the text and looks for it.
func (f Find) Press(s intent.Stroke) (Line, intent.Intent) {
	f.text = f.text.Press(s)
	return f, intent.Seek{Text: f.wanted()}
}

// Do closes the line at what was found. What was looked for before, left as it
// stands, is looked for again from there on.
func (f Find) Do(a intent.Action) (Line, intent.Intent) {
	switch {
	case a != intent.Keep:
		return f, closes(a)
	case f.text.Whole():
		return f, intent.Seek{Text: f.wanted(), Again: true}
	}
	return f, intent.Close{}
}

func (f Find) wanted() string { return strings.TrimSpace(f.text.String()) }

// Show changes nothing.
func (f Find) Show(app.Snapshot) Line { return f }

// Draft returns nothing: what was looked for is not lost.
func (f Find) Draft() intent.Draft { return intent.Draft{Kind: "find"} }

// Rows returns the line.
func (f Find) Rows(l Look) []string {
	margin := strings.Repeat(" ", layout.PageOf(l.Width).Margin)
	return append([]string{margin + "find " + f.text.Drawn(l.Theme, layout.PageOf(l.Width).Width-5), ""}, l.named("", "a tag, a name, an act")...)
}

// Footer returns what may be pressed.
func (f Find) Footer(l Look) string {
	return l.footer(widget.Key{Key: l.Keep, Does: "stay there"}, widget.Key{Key: l.Back, Does: "back"})
}
