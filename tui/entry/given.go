package entry

import (
	"errors"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/widget"
)

// givenLine is the line of a task that is done: Enter keeps the planned amount, typing replaces it.
type givenLine struct {
	base
	task    schedule.Task
	others  []app.Vessel // each gets its own planned amount
	because string       // reason for doing it in spite of a refusal
	entries []ferment.Entry
	wrong   error

	notices []string
	doubts
	dose *app.Dose // what the typed amount means
}

// NewGiven opens the line of a task.
func NewGiven(s app.Snapshot, v app.Vessel, t schedule.Task) Line { return given(s, v, t).work() }

// given returns the line for a task, with its planned amount.
func given(s app.Snapshot, v app.Vessel, t schedule.Task) givenLine {
	g := givenLine{base: newBase(s, v), task: t}
	g.text = widget.NewText(planned(t, v)).Selected()
	return g
}

// NewGivenToAll opens the line of a task for several vessels; each gets what is planned for it.
func NewGivenToAll(s app.Snapshot, v app.Vessel, t schedule.Task, others []app.Vessel) Line {
	return givenLine{base: newBase(s, v), task: t, others: others}.work()
}

// work reads the line again: its entries, doubts and errors.
func (g givenLine) work() givenLine {
	wish := app.Wish{Step: g.task.Step, Typed: app.Typed{Line: g.text.String(), Because: g.because}}
	g.entries, g.notices, g.wrong = app.Settling(g.vessel, wish, g.snapshot.At)
	g.unlikely, g.dose = nil, nil
	for _, e := range g.entries {
		p := app.Meaning(g.snapshot, g.vessel, e)
		g.unlikely, g.dose = append(g.unlikely, p.Unlikely...), p.Dose
	}
	if len(g.others) > 0 && len(g.unlikely) == 0 {
		g.unlikely = app.OverCulture(append([]app.Vessel{g.vessel}, g.others...), func(v app.Vessel) []ferment.Entry {
			entries, _, _ := app.Settling(v, wish, g.snapshot.At)
			return entries
		})
	}
	return g
}

func (g givenLine) Press(s intent.Stroke) (Line, intent.Intent) {
	g.base, g.guess = g.press(s), nil
	return g.work(), nil
}

// Do keeps what is typed, unless something forbids it.
func (g givenLine) Do(a intent.Action) (Line, intent.Intent) {
	switch a {
	case intent.Guess:
		g.text, g.doubts = g.take(g.text)
		return g.work(), nil
	case intent.Keep:
		return g.kept()
	}
	return g, closes(a)
}

// kept asks to write what is typed; refused, unclear or unlikely ones ask first.
func (g givenLine) kept() (Line, intent.Intent) {
	var refused *app.Refused
	switch {
	case errors.As(g.wrong, &refused):
		no := newRefusal(g.snapshot, g.vessel, g.task, refused.No)
		no.amount, no.typed = g.text.String(), true
		return no, nil
	case g.wrong != nil:
		return g, nil
	case g.unasked(g.text):
		g.asked = g.text.String()
		return g, nil
	}
	tasks := ferment.Map(append([]app.Vessel{g.vessel}, g.others...), func(v app.Vessel) intent.Task { return TaskOf(v, g.task) })
	return g, intent.Settle{Tasks: tasks, Line: g.text.String(), Because: g.because}
}

func (g givenLine) Show(s app.Snapshot) Line {
	g.base = g.in(s)
	for _, t := range g.vessel.Day.Tasks {
		if t.Step == g.task.Step && t.Occurrence == g.task.Occurrence {
			g.task = t
		}
	}
	return g.work()
}

// Draft returns an amount that is not the planned one.
func (g givenLine) Draft() intent.Draft {
	d := g.draft("given", g.task.Step)
	if d.Text == planned(g.task, g.vessel) {
		d.Text = ""
	}
	return d
}

func (g givenLine) Rows(l Look) []string {
	label := words.ActLabel(g.task) + ", " + acted(g.task.Do) + ":"
	rows := lines{l.head(g.vessel.Label(), label, g.text, g.keepBack(l, g.text)...), ""}
	if g.isAsked(g.text) {
		rows = rows.and(l.asks(g.unlikely)...)
	}
	switch {
	case g.task.Do == string(ferment.Choose):
		rows = rows.and(l.named("one of", "still: dry, no fizz")...)
		rows = rows.and(l.named("", "bottle-conditioned: a little honey makes fizz in the bottle")...)
		rows = rows.and(l.named("", "sweetened: sulphite and sorbate first, then honey, no fizz")...)
	case len(g.others) > 0:
		rows = rows.and(g.each(l)...)
	default:
		rows = rows.and(g.plannedRows(l)...)
		if !g.text.Blank() && g.text.String() != planned(g.task, g.vessel) {
			rows = rows.and(l.typed(g.dose)...)
		}
	}
	rows = rows.and(g.writesRows(l)...)
	if c := g.task.Caution; c != nil {
		rows = rows.and(l.Said(loudness[c.Loud], c.Text)...)
	}
	return rows.and(g.workedOut(l)...)
}

// workedOut returns how the planned amount was calculated, where there is room.
func (g givenLine) workedOut(l Look) []string {
	const room = 30
	if g.task.Amount == nil || l.Height < room {
		return nil
	}
	says := strings.Trim(g.task.Amount.How+"; "+g.task.Amount.Assumed, "; ")
	if says == "" {
		return nil
	}
	rows := l.named("how", says)
	for i, r := range rows {
		rows[i] = l.Theme.Faint(r)
	}
	return rows
}

var loudness = map[schedule.Loud]words.Word{schedule.Stop: words.Stop, schedule.Warn: words.Warn, schedule.Note: words.Note}

func (g givenLine) writesRows(l Look) []string {
	var refused *app.Refused
	switch {
	case errors.As(g.wrong, &refused):
		return l.Said(words.No, refused.No.Verdict+": "+strings.Join(refused.No.Why, "; "))
	case g.wrong != nil:
		return l.named("? unclear", g.wrong.Error())
	}
	says := writes(g.vessel, g.entries, g.snapshot.At)
	if g.because != "" {
		says += "; because " + g.because
	}
	noted := ferment.Flat(g.notices, func(n string) []string { return l.Said(words.Note, n) })
	return append(l.named("writes", says), noted...)
}

func (g givenLine) plannedRows(l Look) []string {
	a := g.task.Amount
	switch {
	case a == nil:
		return nil
	case !a.Known && a.Words == "":
		return l.named("planned", "no amount: "+a.Unknown)
	}
	line := words.LineOf(g.task, g.vessel, g.snapshot.At)
	says := strings.TrimSpace(l.Theme.Bold(line.Amount.String()) + " " + a.Of)
	if line.Stock != nil {
		says += ", or " + line.Stock.String() + " " + line.StockOf
	}
	return l.named("planned", words.Join("; ", says, nitrogen(a.Reached, a.Wanted)))
}

// nitrogen says how much of the wanted nitrogen it makes in all; empty if unknown.
func nitrogen(given, wanted measure.Content) string {
	if given == 0 || wanted == 0 {
		return ""
	}
	return "brings nitrogen to " + measure.Decimal(given.MilligramsPerLitre(), 0) + " of " + measure.Decimal(wanted.MilligramsPerLitre(), 0) + " mg/L"
}

// each returns the amount for each of several vessels.
func (g givenLine) each(l Look) []string {
	var parts []string
	for _, v := range append([]app.Vessel{g.vessel}, g.others...) {
		each := v.Label()
		if t, has := taskAt(v, g.task.Step); has && (t.State == schedule.Due || t.State == schedule.Late) {
			each += " " + l.Theme.Bold(planned(t, v))
		}
		parts = append(parts, strings.TrimSpace(each))
	}
	return l.named("each", strings.Join(parts, ", "))
}

func (g givenLine) Footer(l Look) string {
	if g.isAsked(g.text) || g.guess != nil {
		return g.guessFooter(l)
	}
	when, note := widget.Key{Key: "-30min", Does: "when"}, widget.Key{Key: ";", Does: "note"}
	after, lost, stock := "vol3.1L", "lost=0.2L", "14mL stock=10%"
	if g.snapshot.Cellar.Settings.Units == measure.US {
		after, lost, stock = "vol3.3qt", "lost=8 fl oz", "0.5 fl oz stock=10%"
	}
	switch {
	case g.task.Do == string(ferment.Rack):
		return l.footer(widget.Key{Key: after, Does: "after it"}, widget.Key{Key: lost, Does: "on the lees"}, when, note)
	case g.task.Do == string(ferment.Choose):
		return l.footer(widget.Key{Key: "st", Does: "still"}, widget.Key{Key: "b", Does: "bottle-conditioned"}, widget.Key{Key: "sw", Does: "sweetened"}, when, note)
	case g.task.Amount == nil || g.task.Amount.Words != "":
		return l.footer(when, note)
	}
	return l.footer(widget.Key{Key: "1.4g", Does: "or"}, widget.Key{Key: stock, Does: "or"},
		widget.Key{Key: "unknown", Does: "amount"}, when, note)
}
