// Package entry is the line that a person types into: a reading, what was
// given, a reason, a note. It shows what the line will mean and returns what is
// to be written; it writes nothing.
package entry

import (
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/widget"
)

// Line is a line that stands open. Its methods give a changed copy and what is
// asked for; a nil intent asks for nothing. A line may become another one: a
// dose that is refused becomes the refusal.
type Line interface {
	// Press edits what is typed.
	Press(intent.Stroke) (Line, intent.Intent)
	// Do keeps what was typed, or takes what is offered instead.
	Do(intent.Action) (Line, intent.Intent)
	// Show works out anew what the line means in a later snapshot.
	Show(app.Snapshot) Line
	// Fail says under the line why it could not be kept.
	Fail(error) Line
	// Rows is the line and what it says, from the margin of the screen on.
	Rows(Look) []string
	// Footer is the last row of the screen: the grammar, or what may be pressed.
	Footer(Look) string
	// Draft is what would be lost if the line were closed now.
	Draft() intent.Draft
}

// base is what every line of a vessel has.
type base struct {
	snapshot app.Snapshot
	vessel   app.Vessel
	text     widget.Text
	failed   string // why it could not be kept
}

func newBase(s app.Snapshot, v app.Vessel) base { return base{snapshot: s, vessel: v} }

func (b base) press(s intent.Stroke) base {
	b.text, b.failed = b.text.Press(s), ""
	return b
}

func (b base) fail(err error) base {
	b.failed = err.Error()
	return b
}

// in is the line in a later snapshot. A vessel that is gone stays as it was, so
// that what is typed is not lost with it.
func (b base) in(s app.Snapshot) base {
	b.snapshot = s
	if v, ok := s.Find(b.vessel.ID()); ok {
		b.vessel = v
	}
	return b
}

func (b base) draft(kind, step string) intent.Draft {
	d := intent.Draft{Kind: kind, Subject: b.vessel.ID(), Step: step}
	if !b.text.Blank() {
		d.Text = b.text.String()
	}
	return d
}
