package entry

import (
	"errors"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/fill"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Questions is the line of an act that asks: a row for each question, and one for anything else.
type Questions struct {
	base
	task      schedule.Task
	others    []intent.Task // the same task of other vessels, asked about next
	questions []ferment.Question
	given     fill.In // answers by the label of their question
	entries   []ferment.Entry
	wrong     error
	preview   app.Preview
	asked     string // the text that was asked about
}

const also = "also"

// Next returns the questions of the next vessel, once these are kept; not ok if there is none.
func (q Questions) Next(s app.Snapshot) (line Line, ok bool) {
	for i, next := range q.others {
		v, _ := s.Find(next.Subject)
		if t, has := ferment.FirstWhere(v.Day.Tasks, func(t schedule.Task) bool { return TaskOf(v, t) == next }); has {
			return NewQuestions(s, v, t, q.others[i+1:]...)
		}
	}
	return nil, false
}

// Asks reports whether an act needs an answer before it can be kept.
func Asks(act string, ofCulture bool) bool {
	return slices.ContainsFunc(ferment.Questions(ferment.Act(act), ofCulture), func(q ferment.Question) bool { return q.Needed })
}

// NewQuestions opens the questions of a task, and then those of others; not ok if its act asks nothing.
func NewQuestions(s app.Snapshot, v app.Vessel, t schedule.Task, others ...intent.Task) (line Line, ok bool) {
	q := Questions{base: newBase(s, v), task: t, others: others, questions: ferment.Questions(ferment.Act(t.Do), v.Culture != nil)}
	if len(q.questions) == 0 {
		return nil, false
	}
	q.given = q.given.Onto(q.fields()[0])
	return q.work(), true
}

func (q Questions) fields() []form.Field {
	var out []form.Field
	units, warm := q.snapshot.Cellar.Settings.Units, "19C"
	if units == measure.US {
		warm = "67F"
	}
	for _, one := range q.questions {
		words := ferment.Map(one.Answers, func(a ferment.Answer) string { return a.Word })
		out = append(out, form.Field{Key: one.Label, Label: one.Label, From: measure.Fill(one.Hint, units), Words: words})
	}
	return append(out, form.Field{Key: also, Label: also, From: "anything else: " + warm + ", -30min, ; a note"})
}

// typed returns the answers as an entry line.
func (q Questions) typed() string {
	answers := ferment.Map(q.questions, func(one ferment.Question) string { return q.given.Typed[one.Label] })
	return strings.TrimSpace(ferment.Answered(q.questions, answers) + " " + q.given.Typed[also])
}

// work reads the answers again: their entries, and what they mean.
func (q Questions) work() Questions {
	wish := app.Wish{Step: q.task.Step, Typed: app.Typed{Line: q.typed()}}
	q.entries, _, q.wrong = app.Settling(q.vessel, wish, q.snapshot.At)
	q.preview = app.Preview{}
	if n := len(q.entries); n > 0 {
		q.preview = app.Meaning(q.snapshot, q.vessel, q.entries[n-1])
	}
	return q
}

// Press answers the question under the cursor, moves to another, or types behind them.
func (q Questions) Press(s intent.Stroke) (Line, intent.Intent) {
	fields := q.fields()
	here := q.given.Index(fields)
	if keys := []rune(s.Text); len(keys) > 1 && !s.Pasted && len(fields[here].Words) > 0 && begins(fields[here].Words, s) == 0 {
		var line Line = q
		for i, key := range keys { // several keys read at once
			if at := line.(Questions); at.given.Key == also {
				return line.Press(intent.Stroke{Text: string(keys[i:])})
			}
			line, _ = line.Press(intent.Stroke{Name: string(key), Text: string(key)})
		}
		return line, nil
	}
	switch s.Name {
	case "down":
		q.given = q.given.Onto(fields[(here+1)%len(fields)])
		return q, nil
	case "up", "shift+tab":
		q.given = q.given.Onto(fields[(here+len(fields)-1)%len(fields)])
		return q, nil
	case "space":
		if len(fields[here].Words) > 0 {
			s = intent.Stroke{Name: "right"}
		}
	}
	f, begin := fields[here], begins(fields[here].Words, s)
	if len(f.Words) > 0 && s.Text != "" && begin == 0 {
		f = fields[len(fields)-1]
		q.given = q.given.Behind(f)
	}
	q.given, _ = q.given.Press(f, s)
	if begin == 1 {
		q.given = q.given.Onto(fields[here+1])
	}
	return q.work(), nil
}

// begins counts the words that begin with a letter.
func begins(words []string, s intent.Stroke) int {
	n := 0
	for _, w := range words {
		if s.Text != "" && !s.Pasted && strings.HasPrefix(w, strings.ToLower(s.Text)) {
			n++
		}
	}
	return n
}

func (q Questions) Do(a intent.Action) (Line, intent.Intent) {
	switch a {
	case intent.Guess: // Tab goes on to the next question
		return q.Press(intent.Stroke{Name: "down"})
	case intent.Keep:
		return q.keep()
	}
	return q, closes(a)
}

// keep asks to write the answers; a missing one is asked for first.
func (q Questions) keep() (Line, intent.Intent) {
	var refused *app.Refused
	missing, lacks := q.missing()
	switch {
	case lacks:
		q.given = q.given.Onto(q.fields()[missing])
		return q, intent.Explain{Text: q.questions[missing].Label + " is not answered: press the first letter of what you saw"}
	case errors.As(q.wrong, &refused):
		no := newRefusal(q.snapshot, q.vessel, q.task, refused.No)
		no.amount, no.typed = q.typed(), true
		return no, nil
	case q.wrong != nil:
		return q, nil
	case len(q.preview.Unlikely) > 0 && q.asked != q.typed():
		q.asked = q.typed()
		return q, nil
	case !q.planned():
		return q, intent.Log{Subjects: []string{q.vessel.ID()}, Line: q.task.Do + " " + q.typed()}
	}
	return q, intent.Settle{Tasks: []intent.Task{TaskOf(q.vessel, q.task)}, Line: q.typed()}
}

// planned reports whether the task is asked for today; the act may be done without one.
func (q Questions) planned() bool {
	return slices.ContainsFunc(q.vessel.Day.Tasks, func(t schedule.Task) bool {
		return t.Step == q.task.Step && t.Occurrence == q.task.Occurrence
	})
}

// missing returns the first needed question without an answer; not ok once an answer, or what is typed behind, settles it.
func (q Questions) missing() (int, bool) {
	behind, _, _ := app.Settling(q.vessel, app.Wish{Step: q.task.Step, Typed: app.Typed{Line: q.given.Typed[also]}}, q.snapshot.At)
	if q.decided() || slices.ContainsFunc(behind, func(e ferment.Entry) bool { return e.AnswersTo(ferment.Act(q.task.Do)) }) {
		return 0, false
	}
	for i, one := range q.questions {
		if one.Needed && q.given.Typed[one.Label] == "" && !strings.Contains(q.given.Typed[also], one.Key+"=") {
			return i, true
		}
	}
	return 0, false
}

// decided reports whether an answer was given that makes the other questions irrelevant.
func (q Questions) decided() bool {
	return slices.ContainsFunc(q.questions, func(one ferment.Question) bool {
		return slices.ContainsFunc(one.Answers, func(a ferment.Answer) bool { return a.Alone && a.Word == q.given.Typed[one.Label] })
	})
}

func (q Questions) Show(s app.Snapshot) Line {
	q.base = q.base.in(s)
	return q.work()
}

func (q Questions) Draft() intent.Draft {
	return intent.Draft{Kind: "questions", Subject: q.vessel.ID(), Step: q.task.Step, Text: q.typed()}
}

func (q Questions) Rows(l Look) []string {
	label := words.ActLabel(q.task)
	for _, t := range q.others {
		if v, ok := q.snapshot.Find(t.Subject); ok {
			label += ", then " + v.Label()
		}
	}
	page := layout.PageOf(l.Width)
	rows := lines{widget.Ends(l.tag(q.vessel.Label())+label, widget.KeyRow(l.Theme, l.keepBack(), page.Width), page.End()), ""}
	fields := q.fields()
	here := q.given.Index(fields)
	for i, f := range fields {
		rows = rows.and(l.field(q.given, f, i == here))
	}
	rows = rows.and(q.follows(l)...)
	if c := q.task.Caution; c != nil && !q.decided() {
		rows = rows.and(l.Said(loudness[c.Loud], c.Text)...)
	}
	return rows
}

// follows returns errors, questions, or else what the answers change.
func (q Questions) follows(l Look) []string {
	_, lacks := q.missing()
	switch {
	case q.wrong != nil:
		return l.named("? unclear", q.wrong.Error())
	case lacks:
		return nil
	case len(q.preview.Unlikely) > 0 && q.asked == q.typed():
		return l.asks(q.preview.Unlikely)
	case q.task.Do == string(ferment.Started) && len(q.entries) > 0 && q.entries[len(q.entries)-1].Did == "":
		return l.named("→ then", "nothing yet: asked again in 12 h")
	}
	var rows []string
	for _, e := range q.preview.Effects {
		if e.Task.State != schedule.Done {
			rows = append(rows, q.effect(l, e)...)
		}
	}
	if len(rows) == 0 && q.preview.Next != nil {
		return l.named("→ then", q.next(l, *q.preview.Next))
	}
	return rows
}

func (q Questions) next(l Look, t schedule.Task) string {
	line := words.LineOf(t, q.vessel, q.snapshot.At)
	says := l.Theme.Bold(line.Act) + " from " + words.When(t.Due, q.snapshot.At)
	if amount := line.Amount.String(); amount != "" {
		says += ": " + amount
	}
	return says
}

func (q Questions) Footer(l Look) string {
	return l.footer(widget.Key{Key: "← →", Does: "answer"}, widget.Key{Key: "↓", Does: "next line"}, widget.Key{Key: ";", Does: "a note"},
		widget.Key{Key: l.Keep, Does: "keep"}, widget.Key{Key: l.Back, Does: "back"})
}

// field returns a question: its answers in a row, the chosen one bold, and what to look for.
func (l Look) field(in fill.In, f form.Field, here bool) string {
	word, about := l.columns()
	label, row := f.Label, layout.Row{}
	if here {
		row = row.At(0, l.Theme.In(theme.Accent, "▌"))
		label = l.Theme.Bold(label)
	}
	row = row.At(word, label)
	hint := about + 19
	switch value := in.Value(f); {
	case len(f.Words) > 0:
		at := about
		for _, w := range f.Words {
			if w == value {
				row = row.At(at-1, l.Theme.Chosen(w))
			} else {
				row = row.At(at, l.Theme.Faint(w))
			}
			at += layout.Width(w) + 2
		}
		hint = max(hint, at+1)
	case here:
		row = row.At(about, in.Text.Drawn(l.Theme, 18))
	default:
		row = row.At(about, value)
		hint = max(hint, about+layout.Width(value)+2)
	}
	if page := layout.PageOf(l.Width); hint+layout.Width(f.From) <= page.End() {
		row = row.At(hint, l.Theme.Faint(f.From))
	}
	return row.In(layout.PageOf(l.Width).End())
}
