package entry

import (
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/widget"
)

// Settle returns the line for a task that was done: none if it is written at once, a line that asks for a value or
// shows the amount, or a refusal.
func Settle(s app.Snapshot, v app.Vessel, t schedule.Task) (Line, intent.Intent) {
	switch no := schedule.Refusal(t, v.Day, v.Course); {
	case no != nil:
		return newRefusal(s, v, t, *no), nil
	case ferment.IsMeasurement(t.Do):
		return NewReading(s, v), nil
	}
	if asks, has := NewQuestions(s, v, t); has {
		return asks, nil
	}
	switch {
	case t.Amount != nil || warns(t) || !atOnce[ferment.Act(t.Do)]:
		return NewGiven(s, v, t), nil
	}
	return nil, intent.Settle{Tasks: []intent.Task{taskOf(v, t)}}
}

// atOnce are the acts that are written without further questions.
var atOnce = map[ferment.Act]bool{
	ferment.Degas: true, ferment.Aerate: true, ferment.Punch: true, ferment.Look: true, ferment.Chill: true,
}

// AtOnce reports whether an act is written without further questions.
func AtOnce(act string) bool { return atOnce[ferment.Act(act)] }

func warns(t schedule.Task) bool { return t.Caution != nil && t.Caution.Loud != schedule.Note }

func taskOf(v app.Vessel, t schedule.Task) intent.Task {
	return intent.Task{Subject: v.ID(), Step: t.Step, Occurrence: t.Occurrence}
}

// planned returns the amount to fill in for a task; empty if it has not exactly one.
func planned(t schedule.Task, v app.Vessel) string {
	if t.Amount == nil || !t.Amount.Known {
		return ""
	}
	return words.AmountOf(t.Amount, v.Course.Settings.Units).String()
}

// acted returns an act in the past tense.
func acted(do string) string {
	switch ferment.Act(do) {
	case ferment.Nutrient, ferment.Buffer, ferment.Acid, ferment.Honey, ferment.Water, ferment.Sulphite, ferment.Sorbate, ferment.Fine:
		return "given"
	}
	return "done"
}

// writes returns what will be written: "degas, 07:09, then nutrient 2, 1.4 g, 07:10".
func writes(v app.Vessel, entries []ferment.Entry, now time.Time) string {
	parts := make([]string, len(entries))
	for i := range entries {
		parts[i] = strings.TrimPrefix(words.Kept(v, entries[i:i+1], now), v.Label()+" ")
	}
	return strings.Join(parts, ", then ")
}

// Asking is a line for free text: a note, or the reason for skipping a task.
type Asking struct {
	base
	kind, step string // of its draft
	label      string // text before the words
	writes     string // what will be written
	asks       string // what to type, with an example
	caution    *schedule.Caution
	empty      string // why an empty line cannot be kept
	keep       func(text string) intent.Intent
}

// NewNote opens the line for a note on a vessel.
func NewNote(s app.Snapshot, v app.Vessel) Line {
	return Asking{base: newBase(s, v), kind: "note", label: "note:", writes: "the note", asks: "a note, e.g. bready",
		empty: "the note is empty: type what you want to remember",
		keep: func(text string) intent.Intent {
			return intent.Log{Subjects: []string{v.ID()}, Line: "; " + text}
		}}
}

// NewPassing opens the line for skipping a task, with a reason.
func NewPassing(s app.Snapshot, v app.Vessel, t schedule.Task) Line {
	act := words.ActLabel(t)
	a := Asking{base: newBase(s, v), kind: "passing", step: t.Step, label: act + ", skipped, because:", writes: act + " skipped", asks: "a reason, e.g. away",
		empty: "a skipped task needs a reason: a word is enough, e.g. away",
		keep:  func(text string) intent.Intent { return intent.SkipTask{Task: taskOf(v, t), Because: text} }}
	if warns(t) {
		a.caution = t.Caution
	}
	return a
}

func (a Asking) Press(s intent.Stroke) (Line, intent.Intent) {
	a.base = a.press(s)
	return a, nil
}

func (a Asking) Do(do intent.Action) (Line, intent.Intent) {
	switch {
	case do != intent.Keep:
		return a, closes(do)
	case a.text.Blank():
		return a, intent.Explain{Text: a.empty}
	}
	return a, a.keep(strings.TrimSpace(a.text.String()))
}

func (a Asking) Show(s app.Snapshot) Line {
	a.base = a.in(s)
	return a
}

func (a Asking) Draft() intent.Draft { return a.draft(a.kind, a.step) }

func (a Asking) Rows(l Look) []string {
	rows := lines{l.head(a.vessel.Label(), a.label, a.text), ""}
	rows = rows.and(l.named("writes", a.writes+", "+words.When(a.snapshot.At, a.snapshot.At))...)
	if c := a.caution; c != nil {
		rows = rows.and(l.worded(loudness[c.Loud], c.Text)...)
	}
	return rows
}

func (a Asking) Footer(l Look) string {
	return l.footer(widget.Key{Key: "type", Does: a.asks}, widget.Key{Key: l.Back, Does: "back"})
}
