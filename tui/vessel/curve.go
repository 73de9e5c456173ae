package vessel

import (
	"fmt"
	"math"
	"time"

	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/widget"
)

// The columns of the curve, and of the figures next to it.
const (
	curveRows    = 12
	curveFrom    = 78 // width from which the figures are next to the curve
	besideWidth  = 31
	besideWide   = 36
	levelsColumn = 10 // for the names of the levels at the right of the curve
)

type view struct {
	widget.Chart
	right map[int]string // names of rows
	dates string
}

func (p *paper) curve() {
	c := p.vessel.Course
	if p.page.Width+5 < curveFrom || !c.Pitch.Known || !c.Original.IsKnown() || p.vessel.Culture != nil || p.numbers {
		for _, text := range p.figureRows(p.page.Width) {
			p.put(layout.Row{}.At(p.page.Margin, text))
		}
		if p.numbers && c.Pitch.Known {
			p.readings()
		}
		return
	}
	beside := besideWidth
	if p.page.Width >= 90 {
		beside = besideWide
	}
	at := p.page.End() - beside
	v := p.viewOf(at - 2 - levelsColumn - widget.AxisColumn - 1)
	rows := v.Framed(p.theme, func(value float64) string { return words.Glass(measure.Gravity(value), c.Settings) })
	for y, name := range v.right {
		rows[y] = rows[y].At(widget.AxisColumn+1+v.Width+1, p.theme.Faint(name))
	}
	rows = append(rows, layout.Row{}.At(widget.AxisColumn, p.theme.Faint(v.dates)))
	figures := p.figureRows(beside)
	for y := range max(len(rows), len(figures)) {
		r := layout.Row{}
		if y < len(rows) {
			r = rows[y]
		}
		if y < len(figures) {
			r = r.At(at, figures[y])
		}
		p.put(r)
	}
}

// viewOf returns the chart with its scale, marks and bands.
func (p *paper) viewOf(width int) view {
	c, f := p.vessel.Course, p.forecast
	days := func(t time.Time) float64 { return t.Sub(c.Pitch.At).Hours() / 24 }
	now := days(p.now)
	v := view{right: map[int]string{}}
	v.Chart = widget.Chart{Width: width, Height: curveRows, Right: max(3, now*1.1+0.5), Now: now, Blocks: c.Settings.Chart == "blocks"}
	if f.Unknown == "" && c.Stage != course.Steady && c.Stage != course.Bottled {
		v.Chart.Right = max(v.Chart.Right, min(now+14, days(f.Done.Late)+1, 2*now+10), now+5)
	}
	v.scale(c, p)
	v.drawReadings(c, days)
	if f.Unknown == "" && c.Stage != course.Bottled {
		v.drawForecast(c, f, days, p.now)
	}
	v.dates = datesUnder(c.Pitch.At, v.Chart.Right, width)
	return v
}

// scale sets top and bottom, and names the levels.
func (v *view) scale(c *course.Course, p *paper) {
	low := float64(c.Original.Value)
	for _, g := range []course.Figure[measure.Gravity]{c.Finish, c.DryFinish} {
		if g.IsKnown() {
			low = min(low, float64(g.Value))
		}
	}
	if p.forecast.Unknown == "" {
		low = min(low, float64(p.forecast.Low))
	}
	high := float64(c.Original.Value)
	for _, r := range c.Readings {
		low, high = min(low, float64(r.Gravity)), max(high, float64(r.Gravity))
	}
	v.Chart = v.Scaled(low, max(high, low+0.010))
	for _, b := range words.Breaks {
		if g := c.Break(b.Share); g.IsKnown() {
			v.name(b.Name+" "+words.Glass(g.Value, c.Settings), float64(g.Value))
		}
	}
	if c.Finish.IsKnown() {
		v.Levels = append(v.Levels, float64(c.Finish.Value))
		v.right[v.Row(float64(c.Finish.Value))] = "→ " + words.Glass(c.Finish.Value, c.Settings)
	}
}

// name draws a level and its name at the right, a row lower if there is one already.
func (v *view) name(text string, value float64) {
	v.Levels = append(v.Levels, value)
	y := v.Row(value)
	for v.right[y] != "" && y < v.Height-1 {
		y++
	}
	v.right[y] = text
}

func (v *view) drawReadings(c *course.Course, days func(time.Time) float64) {
	var joined []widget.XY
	for _, r := range c.Readings {
		at := widget.XY{X: days(r.At), Y: float64(r.Gravity)}
		switch {
		case r.From == course.FromStart:
		case !r.Trusted():
			v.Marks = append(v.Marks, widget.Mark{XY: at, Sign: '○'})
		default:
			joined = append(joined, at)
			v.Marks = append(v.Marks, widget.Mark{XY: at, Sign: '●'})
		}
	}
	v.Series = append(v.Series, widget.Series{Points: joined, Every: 1, Accent: true})
}

func (v *view) drawForecast(c *course.Course, f forecast.Forecast, days func(time.Time) float64, now time.Time) {
	from := now
	if c.Gravity.IsKnown() {
		from = c.Gravity.Value.At
	}
	var middle []widget.XY
	var band []widget.Range
	for _, b := range f.Band(from, int(v.Chart.Right-days(from))+1) {
		x := days(b.At)
		middle = append(middle, widget.XY{X: x, Y: float64(b.Middle)})
		band = append(band, widget.Range{X: x, Low: float64(b.Low), High: float64(b.High)})
	}
	v.Bands = [][]widget.Range{band}
	v.Series = append(v.Series, widget.Series{Points: middle, Every: 1, Accent: true})
}

func datesUnder(from time.Time, days float64, width int) string {
	r := layout.Row{}
	step := int(math.Ceil(days * 13 / float64(max(width, 1))))
	for d := 0; float64(d) < days; d += max(step, 1) {
		at := int(float64(d) / days * float64(width))
		if text := from.AddDate(0, 0, d).Format("Mon 2 Jan"); at+len(text) <= width+2 && (d == 0 || at > r.End()) {
			r = r.At(at, text)
		}
	}
	return r.In(width + 2)
}

// readings writes the curve in numbers: corrected readings, and the forecast by day.
func (p *paper) readings() {
	put := func(cells [5]string) {
		p.put(layout.Row{}.Until(p.page.Margin+5, cells[0]).At(12, cells[1]).At(25, cells[2]).At(35, cells[3]).At(49, cells[4]))
	}
	p.heading("readings")
	put([5]string{"day", "when", "gravity", "give or take", "typed"})
	for _, cells := range p.read() {
		put(cells)
	}
	if foreseen := p.foreseen(); len(foreseen) > 0 {
		p.heading(expectedHeading)
		put([5]string{"day", "when", "gravity", "from", "to"})
		for _, cells := range foreseen {
			put(cells)
		}
	}
}

const expectedHeading = "expected, if it goes on like this, nine times in ten"

// read returns the readings by day, as foreseen returns the forecast.
func (c content) read() (rows [][5]string) {
	k := c.vessel.Course
	for _, r := range k.Readings {
		if r.From == course.FromStart {
			continue
		}
		typed := r.Typed
		if r.Estimated {
			typed = "estimated, from the honey weighed"
		}
		if r.Sample.Known() {
			typed += " at " + measure.Shown(r.Sample, k.Settings.Units)
		}
		if r.Doubt != "" {
			typed += "? in doubt: " + r.Doubt
		}
		rows = append(rows, [5]string{c.day(r.At), words.When(r.At, c.now), words.Exact(r.Gravity, k.Settings), fmt.Sprintf("%.4f", r.Error), typed})
	}
	return rows
}

// foreseen returns the forecast by day: day, time, gravity, lowest, highest.
func (c content) foreseen() (rows [][5]string) {
	if c.forecast.Unknown != "" {
		return nil
	}
	exact := func(g measure.Gravity) string { return words.Exact(g, c.vessel.Course.Settings) }
	for _, b := range c.forecast.Band(c.now, 14) {
		rows = append(rows, [5]string{c.day(b.At), words.When(b.At, c.now), exact(b.Middle), exact(b.Low), exact(b.High)})
	}
	return rows
}

func (c content) day(t time.Time) string {
	return measure.Decimal(t.Sub(c.vessel.Course.Pitch.At).Hours()/24, 1)
}
