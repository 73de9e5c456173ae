package vessel

import (
	"fmt"

	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

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
