package vessel

import (
	"fmt"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// paper is the page being filled, row by row.
type paper struct {
	theme  theme.Theme
	page   layout.Page
	vessel app.Vessel
	needs  []words.Line // what the day asks for
	now    time.Time
	rows   []row

	forecast forecast.Forecast
	numbers  bool // the curve as a table
}

// drawing is how the course is shown.
type drawing int

const (
	asCurve drawing = iota
	asNumbers
)

// pageOf is everything that the page of a vessel says, the answer on top.
func pageOf(t theme.Theme, width int, v app.Vessel, f forecast.Forecast, needs []words.Line, now time.Time, drawn drawing) []row {
	p := &paper{theme: t, page: layout.PageOf(width), vessel: v, needs: needs, now: now, forecast: f, numbers: drawn == asNumbers}
	p.answer()
	p.blank()
	p.curve()
	p.plan()
	p.gates()
	p.log()
	return p.rows
}

func (p *paper) put(r layout.Row) { p.rows = append(p.rows, row{text: r.In(p.page.End())}) }

func (p *paper) blank() { p.rows = append(p.rows, row{}) }

func (p *paper) heading(name string) {
	p.blank()
	p.put(layout.Row{}.At(p.page.Margin, p.theme.Bold(name)))
}

// beside puts a text from a column on, on as many rows as it takes, the first
// of them after what stands there.
func (p *paper) beside(r layout.Row, column int, text string) {
	lines := layout.Wrap(text, max(p.page.End()-column, 8))
	if len(lines) == 0 {
		p.put(r)
	}
	for i, line := range lines {
		if i > 0 {
			r = layout.Row{}
		}
		p.put(r.At(column, line))
	}
}

// word is a word with its mark in a column; one on a field begins a column
// earlier.
func (p *paper) word(column int, w words.Word) layout.Row {
	if w.OnField() {
		column--
	}
	return layout.Row{}.At(column, widget.Word(p.theme, w))
}

// Page is everything that the page of a vessel says, as lines of a text that
// is so many columns wide. The needs are what the day asks for.
func Page(t theme.Theme, width int, v app.Vessel, needs []words.Line, now time.Time) string {
	page, text := layout.PageOf(width), strings.Builder{}
	head := layout.Row{}.At(page.Margin, t.Bold(v.Label())).At(12, v.Ferment.Name).Until(page.End(), stageOf(v, now))
	text.WriteString(head.In(page.End()) + "\n\n")
	v, f := app.Foreseen(v)
	for _, r := range pageOf(t, width, v, f, needs, now, asCurve) {
		text.WriteString(strings.TrimRight(r.text, " ") + "\n")
	}
	return text.String()
}

// table is the curve in numbers: the readings as they were corrected, and what
// is expected day by day.
func (p *paper) table() {
	c := p.vessel.Course
	p.heading("readings")
	p.put(p.numbersRow("day", "when", "gravity", "give or take", "typed"))
	for _, r := range c.Readings {
		if r.From == course.FromStart {
			continue
		}
		typed := r.Typed
		if r.Estimated {
			typed = "estimated, from the honey weighed"
		}
		if r.Sample.Known() {
			typed += " at " + measure.Shown(r.Sample, c.Settings.Units)
		}
		if r.Doubt != "" {
			typed += "? " + r.Doubt
		}
		day := measure.Decimal(r.At.Sub(c.Pitch.At).Hours()/24, 1)
		p.put(p.numbersRow(day, words.When(r.At, p.now), words.Exact(r.Gravity, c.Settings), fmt.Sprintf("%.4f", r.Error), typed))
	}
	if p.forecast.Unknown != "" {
		return
	}
	p.heading("expected, if it goes on like this, nine times in ten")
	p.put(p.numbersRow("day", "when", "gravity", "from", "to"))
	for _, b := range p.forecast.Band(p.now, 14) {
		day := measure.Decimal(b.At.Sub(c.Pitch.At).Hours()/24, 1)
		p.put(p.numbersRow(day, words.When(b.At, p.now), words.Exact(b.Middle, c.Settings), words.Exact(b.Low, c.Settings), words.Exact(b.High, c.Settings)))
	}
}

func (p *paper) numbersRow(day, when, gravity, more, last string) layout.Row {
	return layout.Row{}.Until(p.page.Margin+5, day).At(12, when).At(25, gravity).At(35, more).At(49, last)
}

// gates are the checklists before what cannot be undone, each with everything
// that is not met and what would meet it.
func (p *paper) gates() {
	if len(p.vessel.Day.Gates) == 0 {
		return
	}
	p.heading("gates")
	for _, g := range p.vessel.Day.Gates {
		p.gate(g)
	}
}

func (p *paper) gate(g schedule.Gate) {
	w, says := words.Shut, "shut"
	if g.Open {
		w, says = words.Open, "open"
	}
	r := layout.Row{}.At(p.page.Margin, widget.InWord(p.theme, w, string(w.Mark()))).At(p.page.Margin+2, string(g.Name))
	switch {
	case !g.Open && len(g.Unmet) > 0:
		says += ": " + notMet(len(g.Unmet))
	case g.Says != "":
		says += ": " + g.Says
	}
	p.beside(r, max(detailColumn, r.End()+2), says)
	if g.Open {
		return
	}
	for _, u := range g.Unmet {
		text := u.What
		if u.Frees != "" {
			text += ": " + u.Frees
		}
		p.beside(layout.Row{}, detailColumn, text)
	}
}

func notMet(n int) string {
	if n == 1 {
		return "one thing is not met"
	}
	return fmt.Sprintf("%d things are not met", n)
}

const entryColumn = 19

// log is every entry, the newest first; those later than now stand apart.
func (p *paper) log() {
	c := p.vessel.Course
	if len(c.Later) > 0 {
		p.heading("later than now, not counted")
		for _, e := range c.Later {
			p.entry(e)
		}
	}
	p.heading("log, newest first")
	if len(c.Entries) == 0 {
		p.put(layout.Row{}.At(p.page.Margin, "nothing yet"))
	}
	for i := len(c.Entries) - 1; i >= 0; i-- {
		p.entry(c.Entries[i])
	}
}

func (p *paper) entry(e *ferment.Entry) {
	from := len(p.rows)
	r := layout.Row{}.At(p.page.Margin, words.LogTime(e.At, p.now))
	p.beside(r, entryColumn, p.entryWords(e))
	for i := from; i < len(p.rows); i++ {
		p.rows[i].line = e.Line
	}
}

// entryWords is an entry with its gravity corrected.
func (p *paper) entryWords(e *ferment.Entry) string {
	text := words.EntryLine(*e, p.vessel.Course.Settings.Units)
	if r, ok := p.vessel.Course.ReadingOf(e); ok {
		if exact := words.Exact(r.Gravity, p.vessel.Course.Settings); exact != text {
			text += "; so " + exact
		}
		if r.Doubt != "" {
			text += "? in doubt: " + r.Doubt
		}
	}
	return text
}
