// Package entry is the line that a person types into. It writes nothing.
package entry

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Line is an open line. Its methods return a changed copy and an intent, nil for none. A line may turn into another
// one: a refused dose becomes the refusal.
type Line interface {
	// Press edits the text.
	Press(intent.Stroke) (Line, intent.Intent)
	// Do keeps the text, takes a proposal instead, or closes the line.
	Do(intent.Action) (Line, intent.Intent)
	// Show determines again what the line means, for a later snapshot.
	Show(app.Snapshot) Line
	// Rows draws the line and what it means, from the margin of the screen on.
	Rows(Look) []string
	// Footer returns the last row of the screen: the grammar, or the keys.
	Footer(Look) string
	// Draft returns what would be lost if the line were closed now.
	Draft() intent.Draft
}

// closes returns the intent for Back, and nil for other keys.
func closes(a intent.Action) intent.Intent {
	if a == intent.Back {
		return intent.Close{}
	}
	return nil
}

type base struct {
	snapshot app.Snapshot
	vessel   app.Vessel
	text     widget.Text
}

func newBase(s app.Snapshot, v app.Vessel) base { return base{snapshot: s, vessel: v} }

// press types into the line.
func (b base) press(s intent.Stroke) base {
	b.text = b.text.Press(s)
	return b
}

// in returns the line for a later snapshot; a vessel that is gone stays as it was.
func (b base) in(s app.Snapshot) base {
	b.snapshot = s
	if v, ok := s.Find(b.vessel.ID()); ok {
		b.vessel = v
	}
	return b
}

func (b base) draft(kind, step string) intent.Draft {
	d := intent.Draft{Kind: kind, Subject: b.vessel.ID(), Step: step}
	if !b.text.Blank() && IsLine(kind) {
		d.Text = b.text.String()
	}
	return d
}

// Look is how a line is drawn, and the names of its keys.
type Look struct {
	Theme               theme.Theme
	Width, Height       int // of the screen
	Keep, Back, Instead string
	Guess               string // key that takes a guess
}

// columns returns the columns that the line shares with the board: of a word, and of its text.
func (l Look) columns() (word, about int) {
	if l.Width < layout.Narrow {
		return 10, 20
	}
	return 12, 22
}

func (l Look) keepBack() []widget.Key {
	return []widget.Key{{Key: l.Keep, Does: "keep"}, {Key: l.Back, Does: "back"}}
}

// head returns the first row: tag, what the line is, what is typed, and keys.
func (l Look) head(tag, label string, t widget.Text, keys ...widget.Key) string {
	if len(keys) == 0 {
		keys = l.keepBack()
	}
	page := layout.PageOf(l.Width)
	left := l.tag(tag)
	if label != "" {
		label += " "
	}
	right := widget.KeyRow(l.Theme, keys, page.Width)
	room := page.End() - layout.Width(left+label) - layout.Width(right) - 2
	if room < min(14, layout.Width(t.String())+2) {
		room, right = page.End()-layout.Width(left+label), ""
	}
	return widget.Ends(left+label+t.Drawn(l.Theme, room), right, page.End())
}

func (l Look) tag(tag string) string {
	word, _ := l.columns()
	left := strings.Repeat(" ", layout.PageOf(l.Width).Margin-1) + l.Theme.Tag(tag) + " "
	return layout.Pad(left, max(word, layout.Width(left)))
}

// figure returns a row with a number, aligned at its point, and its text.
func (l Look) figure(number, says string) []string {
	word, about := l.columns()
	whole, _, _ := strings.Cut(ansi.Strip(number), ".")
	left := strings.Repeat(" ", max(word+3-layout.Width(whole), 0)) + number
	return l.wrapped(layout.Pad(left, about), says)
}

// named returns a row with a label that has no mark: "planned", "writes", "why".
func (l Look) named(name, says string) []string {
	word, about := l.columns()
	return l.wrapped(layout.Pad(strings.Repeat(" ", word)+name, about), says)
}

// wordedAs returns rows that begin with a word such as stop; set adds the colour.
func (l Look) wordedAs(w words.Word, says string, set func(string) string) []string {
	word, about := l.columns()
	shown, at := widget.Word(l.Theme, w), word
	if w == words.Stop {
		at--
	}
	return l.wrappedAs(layout.Pad(strings.Repeat(" ", at)+shown, about), says, set)
}

// Said returns a text under a word: in place of a line, or under one that cannot be kept.
func (l Look) Said(w words.Word, says string) []string { return l.wordedAs(w, says, layout.Unstyled) }

// wrapped returns a text next to what is left of it, in as many rows as it needs.
func (l Look) wrapped(left, says string) []string { return l.wrappedAs(left, says, layout.Unstyled) }

// wrappedAs returns a text wrapped beside what is left of it; set adds the colour.
func (l Look) wrappedAs(left, says string, set func(string) string) []string {
	if says == "" {
		return []string{left}
	}
	_, about := l.columns()
	return layout.Row{}.At(0, left).Wrapped(about, layout.PageOf(l.Width).End(), says, set)
}

func (l Look) footer(keys ...widget.Key) string {
	return widget.KeyRow(l.Theme, keys, layout.PageOf(l.Width).Width)
}
