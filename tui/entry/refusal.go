package entry

import (
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/widget"
)

// Refusal refuses a task, with the reason and what to do instead; a typed reason overrides it.
type Refusal struct {
	base
	task   schedule.Task
	no     schedule.No
	amount string
	typed  bool // the amount was typed already
}

func newRefusal(s app.Snapshot, v app.Vessel, t schedule.Task, no schedule.No) Refusal {
	return Refusal{base: newBase(s, v), task: t, no: no, amount: planned(t, v)}
}

// NewRefusal opens the refusal of a line. What was typed there is not asked again.
func NewRefusal(s app.Snapshot, r app.Refused, from Line) Line {
	no := newRefusal(s, r.Vessel, r.Task, r.No)
	if g, is := from.(Given); is {
		no.amount, no.typed = g.text.String(), true
	}
	return no
}

func (r Refusal) Press(s intent.Stroke) (Line, intent.Intent) {
	r.base = r.press(s)
	return r, nil
}

// Do keeps the task with the typed reason, after asking for the amount if necessary, or takes what is offered instead.
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
	return r, intent.Settle{Tasks: []intent.Task{taskOf(r.vessel, r.task)}, Line: r.amount, Because: r.reason()}
}

func (r Refusal) asksAmount() bool { return !r.typed && r.task.Amount != nil }

func (r Refusal) reason() string { return strings.TrimSpace(r.text.String()) }

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

func (r Refusal) Rows(l Look) []string {
	const label = "all the same, because "
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

// what returns the refused task: "nutrient 4, 0.7 g ammonium phosphate".
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
