package entry

import (
	"fmt"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// meaning returns what the entry means: figures, questions, the rest, and changed tasks.
func (r Reading) meaning(l Look) lines {
	if r.isAsked(r.text) {
		return lines(l.asks(r.unlikely)).and(r.figures(l)...).and(l.typed(r.preview.Dose)...).and(r.beside(l)...)
	}
	rows := r.figures(l).and(l.typed(r.preview.Dose)...).and(r.beside(l)...)
	for _, e := range r.preview.Effects {
		rows = rows.and(r.effect(l, e)...)
	}
	for _, p := range r.preview.Passed {
		rows = rows.and(l.worded(words.Passed, fmt.Sprintf("the %s break, %s, about %s",
			ferment.BreakLimit{Of: p.Of, In: p.In}.Sign(), words.Exact(p.Gravity, r.settings()), words.When(p.At, r.snapshot.At)))...)
	}
	for _, n := range append(r.preview.Notices, r.line.Notices...) {
		rows = rows.and(l.worded(words.Note, n)...)
	}
	return rows
}

// lines are rows that grow.
type lines []string

func (ls lines) and(more ...string) lines { return append(ls, more...) }

func (r Reading) settings() ferment.Settings { return r.snapshot.Cellar.Settings }

// figures returns the corrected gravity, the change and the strength.
func (r Reading) figures(l Look) lines {
	p := r.preview
	if p.Reading == nil {
		return nil
	}
	rows := lines(l.figure(l.Theme.Bold(words.Exact(p.Reading.Gravity, r.settings())), corrected(*p.Reading, r.settings().Units)))
	if p.Since != nil {
		points, says := words.Change(p, r.snapshot.At)
		switch {
		case p.Points > 0 && len(p.Unlikely) > 0:
			says += ": gravity does not rise by itself"
		case p.PerDay > 0:
			says += ", " + measure.Decimal(p.PerDay, 1) + " a day"
		}
		rows = rows.and(l.figure(points, says)...)
	}
	if len(p.Unlikely) == 0 && p.Reading.Doubt == "" {
		rows = rows.and(r.strength(l)...)
	}
	return rows
}

// corrected says how a reading was corrected.
func corrected(r course.Reading, units measure.System) string {
	switch {
	case r.From == course.Refractometer:
		return "corrected, from " + r.Typed + " by refractometer"
	case r.Sample.Known():
		return "corrected, from " + r.Typed + " at " + measure.Shown(r.Sample, units)
	}
	return "from " + r.Typed
}

func (r Reading) strength(l Look) []string {
	p := r.preview
	if !p.Alcohol.IsKnown() {
		return l.figure(words.Unknown, "% vol: "+p.Alcohol.Unknown)
	}
	says := "% vol"
	if p.SugarGone.IsKnown() {
		share, unit := p.SugarGone.Value.Parts()
		says += "; " + share + " " + unit + " of the sugar gone"
	}
	return l.figure(measure.Decimal(float64(p.Alcohol.Value), 1), says)
}

// beside returns what the entry has besides a gravity, and when.
func (r Reading) beside(l Look) lines {
	e := r.line.Entry // without what the figures show
	e.Gravity, e.Oechsle = measure.Given[measure.Gravity]{}, measure.Given[float64]{}
	e.Brix, e.Plato, e.Refractometer = measure.Given[measure.Brix]{}, measure.Given[measure.Brix]{}, measure.Given[measure.Brix]{}
	e.Sample = measure.Given[measure.Temperature]{}
	says := words.EntryLine(e, r.settings().Units)
	if r.line.Timed {
		says = words.Join("; ", says, words.LogTime(r.line.Entry.At, r.snapshot.At))
	}
	if says == "" {
		return nil
	}
	return l.named("writes", says)
}

// effect returns a row for a task that the entry changes.
func (b base) effect(l Look, e app.Effect) []string {
	line := words.LineOf(e.Task, b.vessel, b.snapshot.At)
	return l.worded(line.Word, l.Theme.Bold(line.Act)+effectWords(l, line, e.Before))
}

func effectWords(l Look, line words.Line, before schedule.State) string {
	switch line.Word {
	case words.Done, words.Skipped:
		return ""
	case words.Lapsed, words.Held, words.Stop:
		return ": " + line.Reason
	}
	says := ""
	if before == schedule.Held {
		says = " is freed"
	}
	if amount := line.Amount.String(); amount != "" {
		says += ": " + l.Theme.Bold(amount)
	}
	if line.Until != "" {
		says += ", " + line.Until
	}
	return says
}
