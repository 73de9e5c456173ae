package entry

import (
	"errors"
	"strings"

	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/widget"
)

// Note is the line on which a note is typed.
type Note struct{ base }

// NewNote opens the line of a vessel.
func NewNote(s app.Snapshot, v app.Vessel) Line { return Note{newBase(s, v)} }

// Press edits the note.
func (n Note) Press(s intent.Stroke) (Line, intent.Intent) {
	n.base = n.press(s)
	return n, nil
}

var errNoNote = errors.New("there is nothing to keep: type what is to be remembered")

// Do keeps the note.
func (n Note) Do(a intent.Action) (Line, intent.Intent) {
	switch {
	case a != intent.Keep:
		return n, nil
	case n.text.Blank():
		return n.Fail(errNoNote), nil
	}
	return n, intent.Log{Subjects: []string{n.vessel.ID()}, Line: "; " + strings.TrimSpace(n.text.String())}
}

// Show is the line in a later snapshot.
func (n Note) Show(s app.Snapshot) Line {
	n.base = n.in(s)
	return n
}

// Fail says why it could not be kept.
func (n Note) Fail(err error) Line {
	n.base = n.fail(err)
	return n
}

// Draft is the note typed.
func (n Note) Draft() intent.Draft { return n.draft("note", "") }

// Rows is the line.
func (n Note) Rows(l Look) []string {
	rows := lines{l.head(n.vessel.Label(), "note:", n.text), ""}
	if n.failed != "" {
		return rows.and(l.worded(words.No, n.failed)...)
	}
	return rows.and(l.named("keeps", "the note, "+words.When(n.snapshot.At, n.snapshot.At))...)
}

// Foot is what may be pressed.
func (n Note) Foot(l Look) string {
	return l.foot(widget.Key{Key: "bready", Does: "any words"}, widget.Key{Key: l.Back, Does: "back"})
}
