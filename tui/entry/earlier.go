package entry

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/widget"
)

// lineNames are the names of the lines that can be left unfinished, by kind.
var lineNames = map[string]string{"reading": "entry", "note": "note", "passing": "skipped, because", "refusal": "because", "given": "given"}

// IsLine reports whether a kind of draft is that of a line.
func IsLine(kind string) bool { return lineNames[kind] != "" }

// TakeUp opens the line of an earlier draft, with its text selected: Enter keeps it and typing replaces it. The time at
// which it was typed is added.
func TakeUp(s app.Snapshot, left intent.Draft) (Line, error) {
	v, ok := s.Find(left.Subject)
	if !ok {
		return nil, fmt.Errorf("there is no vessel %s now", left.Subject)
	}
	d := dating{s.Cellar.Settings, left.Typed, s.At}
	t, has := taskAt(v, left.Step)
	switch {
	case left.Kind == "note":
		return selected(NewReading(s, v), d.dated("", "; "+left.Text)), nil
	case left.Kind == "reading":
		return selected(NewReading(s, v), d.dated("", left.Text)), nil
	case !has:
		return nil, fmt.Errorf("%s is not asked for any more", left.Step)
	case left.Kind == "passing":
		return selected(NewPassing(s, v, t), left.Text), nil
	case left.Kind == "given":
		return selected(NewGiven(s, v, t), d.dated(t.Do+" ", left.Text)), nil
	}
	l, _ := Settle(s, v, t)
	return selected(l, left.Text), nil
}

func taskAt(v app.Vessel, step string) (schedule.Task, bool) {
	return ferment.FirstWhere(v.Day.Tasks, func(t schedule.Task) bool { return t.Step == step })
}

// selected returns a line with its text selected.
func selected(l Line, text string) Line {
	chosen := widget.NewText(text).Selected()
	switch l := l.(type) {
	case Reading:
		l.text = chosen
		return l.understand()
	case Given:
		l.text = chosen
		return l.work()
	case Asking:
		l.text = chosen
		return l
	case Refusal:
		l.text = chosen
		return l
	}
	return l
}

// dating adds to a text the time at which it was typed.
type dating struct {
	settings   ferment.Settings
	typed, now time.Time
}

// dated returns a text with its time in full. A time in it already is kept, as it was meant then. before is the text
// that it follows.
func (d dating) dated(before, text string) string {
	then, err := app.Typed{Line: before + text}.Read(d.settings, d.typed)
	switch {
	case d.typed.IsZero():
		return text
	case err != nil || !then.Timed:
		return d.stamp(d.typed) + text
	}
	if now, err := (app.Typed{Line: before + text}).Read(d.settings, d.now); err == nil && now.Entry.At.Time.Equal(then.Entry.At.Time) {
		return text
	}
	return d.stamp(then.Entry.At.Time) + d.untimed(before, text)
}

func (d dating) stamp(t time.Time) string { return t.In(d.settings.Zone).Format("2006-01-02 15:04 ") }

// untimed removes the one or two words that give a time.
func (d dating) untimed(before, text string) string {
	parts, note, has := strings.Cut(text, ";")
	if has {
		note = ";" + note
	}
	fields := strings.Fields(parts)
	for n := 1; n <= 2; n++ {
		for i := 0; i+n <= len(fields); i++ {
			rest := strings.TrimSpace(strings.Join(slices.Concat(fields[:i], fields[i+n:]), " ") + " " + note)
			if l, err := (app.Typed{Line: before + rest}).Read(d.settings, d.now); err == nil && !l.Timed {
				return rest
			}
		}
	}
	return text
}
