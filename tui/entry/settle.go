package entry

import (
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/widget"
)

// Settle opens what a task that is done asks for, or writes an act that needs no words at once.
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
	case t.Amount != nil || warns(t) || !AtOnce(t.Do):
		return NewGiven(s, v, t), nil
	}
	return nil, intent.Settle{Tasks: []intent.Task{TaskOf(v, t)}}
}

// AtOnce reports whether an act needs no more words than that it was done.
func AtOnce(act string) bool {
	return slices.Contains([]ferment.Act{ferment.Degas, ferment.Aerate, ferment.Punch, ferment.Look, ferment.Chill}, ferment.Act(act))
}

func warns(t schedule.Task) bool { return t.Caution != nil && t.Caution.Loud != schedule.Note }

// TaskOf names a task of a vessel.
func TaskOf(v app.Vessel, t schedule.Task) intent.Task {
	return intent.Task{Subject: v.ID(), Step: t.Step, Occurrence: t.Occurrence}
}

// planned returns the amount to fill in for a task; empty if it has not exactly one.
func planned(t schedule.Task, v app.Vessel) string {
	if t.Amount == nil || !t.Amount.Known {
		return ""
	}
	return words.AmountOf(t.Amount, v.Course.Settings.Units).String()
}

// acted returns the word for what was done: given, or done.
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

// asking is a line for any words: a note, or the reason why a task is skipped.
type asking struct {
	base
	kind, step string // of its draft
	label      string // what stands before the words
	writes     string // what will be written; empty for an entry that is struck
	struck     string // the entry that is taken out
	instead    string // what is written in its place; empty for nothing
	back       Line   // the line that this one goes back to; nil to close it
	asks       string // what is typed, with an example
	caution    *schedule.Caution
	empty      string // why an empty line cannot be kept
	keep       func(text string) intent.Intent
}

// NewNote opens the line for a note on a vessel.
func NewNote(s app.Snapshot, v app.Vessel) Line {
	return asking{base: newBase(s, v), kind: "note", label: "note:", writes: "the note", asks: "a note, e.g. bready",
		empty: "the note is empty: type what you want to remember",
		keep: func(text string) intent.Intent {
			return intent.Log{Subjects: []string{v.ID()}, Line: "; " + text}
		}}
}

// NewPassing opens the line for skipping a task, with a reason.
func NewPassing(s app.Snapshot, v app.Vessel, t schedule.Task) Line {
	act := words.ActLabel(t)
	a := asking{base: newBase(s, v), kind: "passing", step: t.Step, label: act + ", skipped, because:", writes: act + " skipped", asks: "a reason, e.g. away",
		empty: "a skipped task needs a reason: a word is enough, e.g. away",
		keep:  func(text string) intent.Intent { return intent.SkipTask{Task: TaskOf(v, t), Because: text} }}
	if warns(t) {
		a.caution = t.Caution
	}
	return a
}

// NewStrike opens the line on which an entry is struck out of its log, with the reason.
func NewStrike(s app.Snapshot, v app.Vessel, e ferment.Entry) Line {
	struck := words.LogTime(e.At, s.At) + "  " + words.EntryLine(e, v.Plan, s.Cellar.Settings.Units)
	return asking{base: newBase(s, v), kind: "strike", label: "strike out, because:", struck: struck, asks: "a reason, e.g. typed twice",
		empty: "a struck entry needs a reason: a word is enough, e.g. typo",
		keep: func(text string) intent.Intent {
			return intent.Strike{Subject: v.ID(), Entry: e, Because: text}
		}}
}

func (a asking) Press(s intent.Stroke) (Line, intent.Intent) {
	a.base = a.press(s)
	return a, nil
}

func (a asking) Do(do intent.Action) (Line, intent.Intent) {
	switch {
	case do == intent.Back && a.back != nil:
		return a.back.Show(a.snapshot), nil
	case do != intent.Keep:
		return a, closes(do)
	case a.text.Blank() && a.empty != "":
		return a, intent.Explain{Text: a.empty}
	}
	return a, a.keep(strings.TrimSpace(a.text.String()))
}

func (a asking) Show(s app.Snapshot) Line {
	a.base = a.in(s)
	return a
}

func (a asking) Draft() intent.Draft { return a.draft(a.kind, a.step) }

func (a asking) Rows(l Look) []string {
	rows := lines{l.head(a.vessel.Label(), a.label, a.text), ""}
	switch {
	case a.instead != "":
		return rows.and(l.named("it said", a.struck)...).and(l.named("writes", a.instead)...)
	case a.struck != "":
		return rows.and(l.named("takes out", a.struck)...)
	}
	rows = rows.and(l.named("writes", a.writes+", "+words.When(a.snapshot.At, a.snapshot.At))...)
	if c := a.caution; c != nil {
		rows = rows.and(l.Said(loudness[c.Loud], c.Text)...)
	}
	return rows
}

func (a asking) Footer(l Look) string {
	return l.footer(widget.Key{Key: "type", Does: a.asks}, widget.Key{Key: l.Back, Does: "back"})
}

// Refusal says no to a task, why, and what to do instead; a typed reason passes it.
type Refusal struct {
	base
	task   schedule.Task
	no     schedule.No
	amount string
	typed  bool // the amount has been typed already
}

func newRefusal(s app.Snapshot, v app.Vessel, t schedule.Task, no schedule.No) Refusal {
	return Refusal{base: newBase(s, v), task: t, no: no, amount: planned(t, v)}
}

// NewRefusal opens the refusal of a line. What was typed there is not asked for again.
func NewRefusal(s app.Snapshot, r app.Refused, from Line) Line {
	no := newRefusal(s, r.Vessel, r.Task, r.No)
	if g, is := from.(givenLine); is {
		no.amount, no.typed = g.text.String(), true
	}
	return no
}

// Press edits the reason.
func (r Refusal) Press(s intent.Stroke) (Line, intent.Intent) {
	r.base = r.press(s)
	return r, nil
}

// Do keeps it with the reason typed, asking first for an unseen amount, or takes what is offered.
func (r Refusal) Do(a intent.Action) (Line, intent.Intent) {
	switch {
	case a == intent.Instead:
		return r.instead()
	case a != intent.Keep:
		return r, closes(a)
	case r.text.Blank():
		return r, intent.Explain{Text: "it is kept only with a reason: a few words are enough, e.g. spilled half of it"}
	case r.asksAmount():
		g := given(r.snapshot, r.vessel, r.task)
		g.because = r.reason()
		return g.work(), nil
	}
	return r, intent.Settle{Tasks: []intent.Task{TaskOf(r.vessel, r.task)}, Line: r.amount, Because: r.reason()}
}

func (r Refusal) asksAmount() bool { return !r.typed && r.task.Amount != nil }

func (r Refusal) reason() string { return strings.TrimSpace(r.text.String()) }

// instead takes what is offered in place of the refused act.
func (r Refusal) instead() (Line, intent.Intent) {
	switch {
	case r.no.Option != nil:
		return Settle(r.snapshot, r.vessel, *r.no.Option)
	case ferment.IsMeasurement(r.task.Frees):
		return NewReading(r.snapshot, r.vessel), nil
	}
	if t, ok := r.freeing(); ok {
		return Settle(r.snapshot, r.vessel, t)
	}
	return r, nil
}

func (r Refusal) freeing() (schedule.Task, bool) {
	return ferment.FirstWhere(r.vessel.Day.Tasks, func(t schedule.Task) bool {
		return t.Do == r.task.Frees && (t.State == schedule.Due || t.State == schedule.Late)
	})
}

func (r Refusal) offers() string {
	switch {
	case r.no.Option != nil:
		return "the other one instead"
	case ferment.IsMeasurement(r.task.Frees):
		return words.FreesLabel(r.task.Frees)
	}
	if t, ok := r.freeing(); ok {
		return words.ActLabel(t)
	}
	return ""
}

// Show keeps the refusal as it was given; the reason being typed stays.
func (r Refusal) Show(s app.Snapshot) Line {
	r.base = r.in(s)
	return r
}

func (r Refusal) Draft() intent.Draft { return r.draft("refusal", r.task.Step) }

// Rows returns the verdict, why, what instead, and the reason.
func (r Refusal) Rows(l Look) []string {
	const label = "do it anyway, because "
	word, about := l.columns()
	head := layout.Pad(l.tag(r.vessel.Label())+widget.Word(l.Theme, words.No), about)
	rows := lines(l.wrapped(head, l.Theme.Bold(r.what()+": "+r.no.Verdict))).and("")
	rows = rows.and(l.named("why", strings.Join(r.no.Why, "; "))...)
	if r.no.Instead != "" {
		rows = rows.and(l.named("instead", r.no.Instead)...)
	}
	room := layout.PageOf(l.Width).End() - word - layout.Width(label)
	return rows.and("", strings.Repeat(" ", word)+label+r.text.Drawn(l.Theme, room))
}

// what returns refused: "nutrient 4, 0.7 g ammonium phosphate".
func (r Refusal) what() string {
	what := words.ActLabel(r.task)
	if r.amount == "" {
		return what
	}
	of := ""
	if r.task.Amount != nil {
		of = r.task.Amount.Of
	}
	return strings.TrimSpace(what + ", " + r.amount + " " + of)
}

func (r Refusal) Footer(l Look) string {
	keep := "keep with this reason"
	if r.asksAmount() {
		keep = "go on with this reason"
	}
	keys := []widget.Key{{Key: l.Keep, Does: keep}}
	if offer := r.offers(); offer != "" {
		keys = append(keys, widget.Key{Key: l.Instead, Does: offer})
	}
	return l.footer(append(keys, widget.Key{Key: l.Back, Does: "back"})...)
}
