package vessel

import (
	"fmt"
	"math"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

type paper struct {
	content
	page    layout.Page
	rows    []row
	numbers bool // the curve as a table
	chosen  int  // the line of the entry under the cursor; 0 for none
}

// The columns of the page: a word, and its text.
const (
	wordColumn = 12
	saysColumn = 22
)

func pageOf(width int, c content, numbers bool, chosen int) []row {
	p := &paper{content: c, page: layout.PageOf(width), numbers: numbers, chosen: chosen}
	p.answer(p)
	p.blank()
	p.curve()
	p.gates(p)
	p.planAndLog()
	return p.rows
}

// Page returns the page of a vessel as text. needs are the tasks of today.
func Page(t theme.Theme, width int, v app.Vessel, needs []words.Line, now time.Time) string {
	page, text := layout.PageOf(width), strings.Builder{}
	head := layout.Row{}.At(page.Margin, t.Bold(v.Label())).At(12, v.Ferment.Name).Until(page.End(), stageOf(v, now))
	text.WriteString(head.In(page.End()) + "\n\n")
	v, f := app.Foreseen(v)
	for _, r := range pageOf(width, content{t, v, needs, now, f}, false, 0) {
		text.WriteString(strings.TrimRight(r.text, " ") + "\n")
	}
	return text.String()
}

func (p *paper) put(r layout.Row) { p.rows = append(p.rows, row{text: r.In(p.page.End())}) }

func (p *paper) blank() { p.rows = append(p.rows, row{}) }

func (p *paper) heading(name string) {
	p.blank()
	p.put(layout.Row{}.At(p.page.Margin, p.theme.Bold(name)))
}

// beside writes a text from a column on, in as many rows as it needs.
func (p *paper) beside(r layout.Row, column int, text string) {
	for _, line := range r.Wrapped(column, p.page.End(), text, layout.Unstyled) {
		p.rows = append(p.rows, row{text: line})
	}
}

// below adds a text under the row before it.
func (p *paper) below(text string) { p.beside(layout.Row{}, saysColumn, text) }

// under writes a text after a word; a word with a background begins a column earlier.
func (p *paper) under(w words.Word, text string) { p.beside(p.word(wordColumn, w), saysColumn, text) }

func (p *paper) word(column int, w words.Word) layout.Row {
	if w.OnField() {
		column--
	}
	return layout.Row{}.At(column, widget.Word(p.theme, w))
}

// need writes a task: what, how much, until when; below it why, and how it was calculated.
func (p *paper) need(l words.Line) {
	if l.Alarm != nil {
		p.under(l.Word, p.theme.Bold(l.Act)+": "+l.Alarm.Long)
		return
	}
	bold := func(s string) string {
		if l.Word.Now() && s != "" {
			return p.theme.Bold(s)
		}
		return s
	}
	act := l.Act
	if first, is := strings.CutSuffix(l.First, " first"); is {
		act = first + ", then " + act
	}
	what := words.Join(" ", words.Join(", ", bold(act), bold(l.Amount.String())), l.Of)
	if l.Stock != nil {
		what += " (" + l.Stock.String() + " " + l.StockOf + ")"
	}
	p.under(l.Word, words.Join(", ", what, l.Until))
	p.below(l.Reason)
	if a := l.Task.Amount; a != nil {
		p.below(p.theme.Faint(words.Join("; ", a.Unknown, a.How, a.Assumed)))
	}
	if l.Instead != "" {
		p.beside(p.word(wordColumn, words.Do), saysColumn, p.theme.Bold(l.Instead))
	}
}

// The columns of plan and log.
const (
	actColumn   = 13
	entryColumn = 19
	twoColumns  = 90 // columns of a page on which the log is beside the plan
)

func (p *paper) planAndLog() {
	page := p.page
	if page.Width < twoColumns {
		p.planRows()
		p.log(p)
		return
	}
	half := page.Width/2 + 2
	left := &paper{content: p.content, page: layout.Page{Margin: page.Margin, Width: half - 4}}
	right := &paper{content: p.content, page: layout.Page{Width: page.Width - half}}
	left.planRows()
	right.log(right)
	for i := range max(len(left.rows), len(right.rows)) {
		r, line := layout.Row{}, 0
		if i < len(left.rows) {
			r = r.At(0, left.rows[i].text)
		}
		if i < len(right.rows) {
			if line = right.rows[i].line; line > 0 && line == p.chosen {
				r = r.At(page.Margin+half-2, p.theme.In(theme.Accent, "▌"))
			}
			r = r.At(page.Margin+half, right.rows[i].text)
		}
		p.rows = append(p.rows, row{r.In(page.End()), line})
	}
}

func (p *paper) planRows() {
	p.heading("plan")
	if p.vessel.Course.Over() {
		p.say("closed: nothing is asked for any more")
	} else if len(p.vessel.Day.Tasks) == 0 {
		p.say("no plan: the file names no protocol")
	}
	for _, l := range p.plan() {
		act, until := words.Join(", ", l.Act, l.Amount.String()), l.Until
		if l.Word == words.Lapsed {
			act, until = words.Join(": ", l.Act, l.Short), words.When(l.Task.Settled, p.now)
		}
		r := p.word(p.page.Margin, l.Word)
		if room := p.page.End() - actColumn - layout.Width(until) - 2; layout.Width(act) > room {
			p.beside(r, actColumn, words.Join(", ", act, until))
			continue
		}
		p.put(r.At(actColumn, act).Until(p.page.End(), until))
	}
}

func (p *paper) say(text string) { p.put(layout.Row{}.At(p.page.Margin, text)) }

func (p *paper) entry(e *ferment.Entry) {
	from := len(p.rows)
	column := p.page.Margin + entryColumn - 3
	if p.page.Margin == 0 {
		column = 11
	}
	r := layout.Row{}
	if e.Line > 0 && e.Line == p.chosen {
		r = r.At(0, p.theme.In(theme.Accent, "▌"))
	}
	p.beside(r.At(p.page.Margin, words.LogTime(e.At, p.now)), column, p.entryWords(e))
	for i := from; i < len(p.rows); i++ {
		p.rows[i].line = e.Line
	}
}

func (c content) entryWords(e *ferment.Entry) string {
	text := words.EntryLine(*e, c.vessel.Plan, c.vessel.Course.Settings.Units)
	if r, ok := c.vessel.Course.ReadingOf(e); ok {
		if math.Abs(float64(e.Gravity.Value-r.Gravity)) >= 0.0005 {
			text += "; corrected " + words.Exact(r.Gravity, c.vessel.Course.Settings)
		}
		if r.Doubt != "" {
			text += "? in doubt: " + r.Doubt
		}
	}
	return text
}

// Plain returns the page in sentences, the curve as numbers.
func Plain(width int, v app.Vessel, needs []words.Line, now time.Time) string {
	v, f := app.Foreseen(v)
	s := &spoken{content: content{theme.Theme{}, v, needs, now, f}, width: width}
	s.say(words.Sentences(words.Join(", ", v.Label(), v.Ferment.Name, stageOf(v, now))))
	s.answer(s)
	s.heading("figures")
	for _, f := range s.figures() {
		number := strings.Replace(f.number, words.Unknown, "unknown", 1)
		assumed := ""
		if f.note != "" {
			assumed = "(" + f.note + ")"
		}
		s.say(words.Join(" ", f.name, number, f.unit, assumed))
	}
	s.heading("readings")
	for _, r := range s.read() {
		s.say("day " + r[0] + ", " + r[1] + ": " + r[2] + " ± " + r[3] + "; typed " + r[4])
	}
	if foreseen := s.foreseen(); len(foreseen) > 0 {
		s.heading(expectedHeading)
		for _, r := range foreseen {
			s.say("day " + r[0] + ", " + r[1] + ": " + r[2] + ", from " + r[3] + " to " + r[4])
		}
	}
	s.heading("plan")
	for _, l := range s.plan() {
		s.under(l.Word, words.Sentences(words.Join(", ", l.Act, l.Amount.String()), words.Capital(l.Until), words.Capital(l.Short)))
	}
	if len(v.Day.Tasks) == 0 {
		s.say("no plan: the file names no protocol")
	}
	s.gates(s)
	s.log(s)
	return strings.Join(s.lines, "\n") + "\n"
}

type spoken struct {
	content
	width int
	lines []string
}

// hanging is where the lines after the first of what is said begin.
const hanging = 9

func (s *spoken) heading(name string) { s.lines = append(s.lines, "", name) }

func (s *spoken) say(text string) {
	s.lines = append(s.lines, widget.Spoken("", text, 2, s.width)...)
}

func (s *spoken) entry(e *ferment.Entry) { s.say(words.LogTime(e.At, s.now) + ": " + s.entryWords(e)) }

// under says something under a word in capitals.
func (s *spoken) under(w words.Word, text string) {
	if w == "" {
		s.say(words.Sentences(text))
		return
	}
	s.lines = append(s.lines, widget.Spoken(fmt.Sprintf("%-*s", hanging, strings.ToUpper(string(w))), words.Sentences(text), hanging, s.width)...)
}

func (s *spoken) need(l words.Line) { s.under(l.Word, l.Spoken()) }

// below adds a text under the line before it.
func (s *spoken) below(text string) {
	s.lines = append(s.lines, widget.Spoken(strings.Repeat(" ", hanging), text, hanging+2, s.width)...)
}

func stageOf(v app.Vessel, now time.Time) string {
	if !v.Course.Pitch.Known {
		return words.StageName(v.Course.Stage)
	}
	return words.Join(", ", words.StageName(v.Course.Stage), "day "+words.Day(v.Course, now))
}
