package entry

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/widget"
)

// meaning returns what the entry says and sets off: figures, questions, the rest, tasks.
func (r reading) meaning(l Look) lines {
	if r.isAsked(r.text) {
		return lines(l.asks(r.unlikely)).and(r.figures(l)...).and(l.typed(r.preview.Dose)...).and(r.beside(l)...)
	}
	rows := r.figures(l).and(l.typed(r.preview.Dose)...).and(r.beside(l)...)
	for _, e := range r.preview.Effects {
		rows = rows.and(r.effect(l, e)...)
	}
	for _, p := range r.preview.Passed {
		rows = rows.and(l.Said(words.Passed, fmt.Sprintf("the %s break, %s, about %s",
			ferment.BreakLimit{Of: p.Of, In: p.In}.Sign(), words.Exact(p.Gravity, r.settings()), words.When(p.At, r.snapshot.At)))...)
	}
	for _, n := range append(r.preview.Notices, r.line.Notices...) {
		rows = rows.and(l.Said(words.Note, n)...)
	}
	return rows
}

type lines []string

func (ls lines) and(more ...string) lines { return append(ls, more...) }

func (r reading) settings() ferment.Settings { return r.snapshot.Cellar.Settings }

func (r reading) figures(l Look) lines {
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

func corrected(r course.Reading, units measure.System) string {
	switch {
	case r.From == course.Refractometer:
		return "corrected, from " + r.Typed // which names the instrument
	case r.Sample.Known():
		return "corrected, from " + r.Typed + " at " + measure.Shown(r.Sample, units)
	}
	return "from " + r.Typed
}

func (r reading) strength(l Look) []string {
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

// beside returns what was typed besides the gravity.
func (r reading) beside(l Look) lines {
	e := r.line.Entry // without what its figures have told already
	e.Gravity, e.Oechsle = measure.Given[measure.Gravity]{}, measure.Given[float64]{}
	e.Brix, e.Plato, e.Refractometer = measure.Given[measure.Brix]{}, measure.Given[measure.Brix]{}, measure.Given[measure.Brix]{}
	e.Sample = measure.Given[measure.Temperature]{}
	says := words.EntryLine(e, r.vessel.Plan, r.settings().Units)
	if r.line.Timed {
		says = words.Join("; ", says, words.LogTime(r.line.Entry.At, r.snapshot.At))
	}
	if says == "" {
		return nil
	}
	return l.named("writes", says)
}

// effect says what an entry changes for a task.
func (b base) effect(l Look, e app.Effect) []string {
	line := words.LineOf(e.Task, b.vessel, b.snapshot.At)
	return l.Said(line.Word, l.Theme.Bold(line.Act)+effectWords(l, line, e.Before))
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
		says = " may now be done"
	}
	if amount := line.Amount.String(); amount != "" {
		says += ": " + l.Theme.Bold(amount)
	}
	if line.Until != "" {
		says += ", " + line.Until
	}
	return says
}

// doubts are what is unlikely in a line, and how far it was asked about.
type doubts struct {
	unlikely []app.Ask
	asked    string   // the text that was asked about
	guess    *guesses // the values that were perhaps meant, once one was taken
}

// guesses are taken one after the other, and then the line as it was typed.
type guesses struct {
	typed string // before any was taken
	ask   app.Ask
	next  int
}

// unasked reports whether something unlikely has not been asked about.
func (d doubts) unasked(t widget.Text) bool { return len(d.unlikely) > 0 && d.asked != t.String() }

// isAsked reports whether this text was asked about already.
func (d doubts) isAsked(t widget.Text) bool { return len(d.unlikely) > 0 && d.asked == t.String() }

// take puts the next guess into the line. Without one the line stays as it is.
func (d doubts) take(t widget.Text) (widget.Text, doubts) {
	if d.guess == nil {
		for _, a := range d.unlikely {
			if len(a.Meant) > 0 && d.isAsked(t) {
				d.guess = &guesses{typed: t.String(), ask: a}
				break
			}
		}
	}
	if d.guess == nil {
		return t, d
	}
	g := *d.guess
	text := g.typed
	if g.next < len(g.ask.Meant) {
		text = g.ask.Take(g.typed, g.ask.Meant[g.next])
	}
	g.next = (g.next + 1) % (len(g.ask.Meant) + 1)
	d.guess = &g
	return widget.NewText(text), d
}

// keepBack returns the keys at the right: what is asked about is kept by one more Enter.
func (d doubts) keepBack(l Look, t widget.Text) []widget.Key {
	if !d.isAsked(t) {
		return l.keepBack()
	}
	keeps := strings.TrimSpace(t.String())
	if len(keeps) > 10 || l.Width < layout.Narrow {
		keeps = "it"
	}
	return []widget.Key{{Key: l.Keep, Does: "again keeps " + keeps}, {Key: l.Back, Does: "back"}}
}

// guessFooter says what the key takes, each time it is pressed.
func (d doubts) guessFooter(l Look) string {
	var ask app.Ask
	next, takes := 0, "takes "
	if d.guess != nil {
		ask, next = d.guess.ask, d.guess.next
	} else if i := slices.IndexFunc(d.unlikely, func(a app.Ask) bool { return len(a.Meant) > 0 }); i >= 0 {
		ask = d.unlikely[i]
	}
	if ask.Named {
		takes = "says "
	}
	var keys []widget.Key
	name := l.Guess
	for _, m := range ask.Meant[min(next, len(ask.Meant)):] {
		keys = append(keys, widget.Key{Key: name, Does: takes + m.Says})
		name += " " + l.Guess
	}
	if len(keys) == 0 {
		keys = []widget.Key{{Key: "type on", Does: "to change it"}}
	}
	return l.footer(keys...)
}

// asks returns the rows of questions about what is unlikely.
func (l Look) asks(unlikely []app.Ask) []string {
	return ferment.Flat(unlikely, func(a app.Ask) []string { return l.wordedAs(words.Ask, a.String(), l.Theme.Bold) })
}

// typed says what an amount comes to that is not the planned one.
func (l Look) typed(d *app.Dose) []string {
	if d == nil || d.Reached == 0 || d.Wanted == 0 || d.Factor > 0.995 && d.Factor < 1.005 {
		return nil
	}
	says := nitrogen(d.Reached, d.Wanted)
	if over := float64(d.Reached / d.Wanted); over >= 2 {
		says += ", " + measure.Decimal(over, 0) + " times what is wanted"
	}
	return l.named("typed", says)
}
