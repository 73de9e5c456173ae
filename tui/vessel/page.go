package vessel

import (
	"time"

	"cellar/jugkeeper/ferment/forecast"
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
	if w == words.Stop {
		column--
	}
	return layout.Row{}.At(column, widget.Word(p.theme, w))
}
