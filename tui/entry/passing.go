package entry

import (
	"errors"
	"strings"

	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/widget"
)

// Passing is the line on which a task is passed over, with the reason.
type Passing struct {
	base
	task schedule.Task
}

// NewPassing opens the line of a task.
func NewPassing(s app.Snapshot, v app.Vessel, t schedule.Task) Line {
	return Passing{newBase(s, v), t}
}

// Press edits the reason.
func (p Passing) Press(s intent.Stroke) (Line, intent.Intent) {
	p.base = p.press(s)
	return p, nil
}

var errWhySkipped = errors.New("it is passed over only with a reason: a word is enough, e.g. away")

// Do keeps it with its reason.
func (p Passing) Do(a intent.Action) (Line, intent.Intent) {
	switch {
	case a != intent.Keep:
		return p, nil
	case p.text.Blank():
		return p.Fail(errWhySkipped), nil
	}
	return p, intent.Pass{Task: taskOf(p.vessel, p.task), Because: strings.TrimSpace(p.text.String())}
}

// Show is the line in a later snapshot.
func (p Passing) Show(s app.Snapshot) Line {
	p.base = p.in(s)
	return p
}

// Fail says why it could not be kept.
func (p Passing) Fail(err error) Line {
	p.base = p.fail(err)
	return p
}

// Draft is the reason typed.
func (p Passing) Draft() intent.Draft { return p.draft("passing", p.task.Step) }

// Rows is the line and what it will mean.
func (p Passing) Rows(l Look) []string {
	act := words.ActLabel(p.task)
	rows := lines{l.head(p.vessel.Label(), act+", skipped, because:", p.text), ""}
	if p.failed != "" {
		return rows.and(l.worded(words.No, p.failed)...)
	}
	rows = rows.and(l.named("keeps", act+" passed over, "+words.When(p.snapshot.At, p.snapshot.At))...)
	if warns(p.task) {
		rows = rows.and(l.worded(loudness[p.task.Caution.Loud], p.task.Caution.Text)...)
	}
	return rows
}

// Foot is what may be pressed.
func (p Passing) Foot(l Look) string {
	return l.foot(widget.Key{Key: "away", Does: "any words"}, widget.Key{Key: l.Back, Does: "back"})
}
