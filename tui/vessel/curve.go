package vessel

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/widget"
)

// The columns of the curve: the axis, and beside the curve the figures.
const (
	axisColumn   = 9
	curveRows    = 12
	curveFrom    = 78 // columns from which the figures stand beside the curve
	besideWidth  = 26
	besideWide   = 36
	levelsColumn = 10 // for the names of the levels at the right of the curve
)

// view is what a curve shows: its chart and the names beside it.
type view struct {
	widget.Chart
	left, right map[int]string // names of rows
	dates       string
}

// curve draws the course with the figures beside it. Without room or anything
// to draw the figures stand alone.
func (p *paper) curve() {
	c := p.vessel.Course
	if p.page.Width+5 < curveFrom || !c.Pitch.Known || !c.Original.IsKnown() || p.vessel.Culture != nil {
		p.figures()
		return
	}
	if p.numbers {
		p.figures()
		p.table()
		return
	}
	beside := besideWidth
	if p.page.Width >= 90 {
		beside = besideWide
	}
	at := p.page.End() - beside
	v := p.viewOf(at - 2 - levelsColumn - axisColumn - 1)
	figures, notes := p.compact(beside)
	for y, row := range v.Rows(p.theme) {
		r := layout.Row{}.At(p.page.Margin, v.left[y])
		axis := "│"
		if v.left[y] != "" {
			axis = "┤"
		}
		r = r.At(axisColumn, axis).At(axisColumn+1, row).At(axisColumn+1+v.Width+1, p.theme.Faint(v.right[y]))
		p.put(with(r, at, figures, y))
	}
	p.put(with(layout.Row{}.At(axisColumn, "└"+strings.Repeat("─", v.Width)), at, figures, curveRows))
	p.put(with(layout.Row{}.At(axisColumn, p.theme.Faint(v.dates)), at, figures, curveRows+1))
	for y := curveRows + 2; y < len(figures); y++ {
		p.put(with(layout.Row{}, at, figures, y))
	}
	p.notes(notes)
}

func with(r layout.Row, column int, rows []string, i int) layout.Row {
	if i < len(rows) {
		return r.At(column, rows[i])
	}
	return r
}

// viewOf is the curve in so many columns: readings, the forecast with its band,
// breaks and finish.
func (p *paper) viewOf(width int) view {
	c, f := p.vessel.Course, p.forecast
	days := func(t time.Time) float64 { return t.Sub(c.Pitch.At).Hours() / 24 }
	now := days(p.now)
	v := view{left: map[int]string{}, right: map[int]string{}}
	v.Chart = widget.Chart{Width: width, Height: curveRows, Left: 0, Right: max(3, now*1.1+0.5), Now: now, Style: p.style()}
	if f.Unknown == "" && c.Stage != course.Steady && c.Stage != course.Bottled {
		v.Chart.Right = max(v.Chart.Right, min(now+14, days(f.Done.Late)+1, 2*now+10), now+5)
	}
	v.scale(c, p)
	v.past(c, days)
	if f.Unknown == "" && c.Stage != course.Bottled {
		v.future(c, f, days, p.now)
	}
	v.dates = datesUnder(c.Pitch.At, v.Chart.Right, width)
	return v
}

// scale sets top and bottom so that a labelled value is the middle of its row,
// and names the levels.
func (v *view) scale(c course.Course, p *paper) {
	low := float64(c.Original.Value)
	for _, g := range []course.Figure[measure.Gravity]{c.Finish, c.DryFinish} {
		if g.IsKnown() {
			low = min(low, float64(g.Value))
		}
	}
	high := float64(c.Original.Value)
	for _, r := range c.Readings {
		low, high = min(low, float64(r.Gravity)), max(high, float64(r.Gravity))
	}
	step := widget.NiceStep((high - low) / float64(curveRows-2))
	first := math.Ceil(high/step) * step
	v.Chart.Top, v.Chart.Bottom = first+step/2, first+step/2-step*curveRows
	for y := range curveRows {
		value := first - float64(y)*step
		if math.Abs(math.Remainder(value, 2*step)) < step/4 {
			v.left[y] = words.Glass(measure.Gravity(value), c.Settings)
		}
	}
	for _, b := range words.Breaks {
		if g := c.Break(b.Share); g.IsKnown() {
			v.name(b.Name+" "+words.Exact(g.Value, c.Settings), float64(g.Value))
		}
	}
	if c.Finish.IsKnown() {
		v.Levels = append(v.Levels, widget.Level{Value: float64(c.Finish.Value)})
		v.right[v.rowOf(float64(c.Finish.Value))] = "→ " + words.Exact(c.Finish.Value, c.Settings)
	}
}

// name draws a level and names it at the right; where a name stands already
// the lower one moves a row down.
func (v *view) name(text string, value float64) {
	v.Levels = append(v.Levels, widget.Level{Value: value})
	y := v.rowOf(value)
	for v.right[y] != "" {
		y++
	}
	v.right[y] = text
}

func (v *view) rowOf(value float64) int {
	return int(math.Floor((v.Chart.Top - value) / (v.Chart.Top - v.Chart.Bottom) * curveRows))
}

// past is the readings, joined where they are trusted.
func (v *view) past(c course.Course, days func(time.Time) float64) {
	var joined []widget.XY
	for _, r := range c.Readings {
		at := widget.XY{X: days(r.At), Y: float64(r.Gravity)}
		switch {
		case r.From == course.FromStart:
		case r.Doubt != "" || r.Replaced:
			v.Marks = append(v.Marks, widget.Mark{XY: at, Sign: '○'})
		default:
			joined = append(joined, at)
			v.Marks = append(v.Marks, widget.Mark{XY: at, Sign: '●'})
		}
	}
	v.Series = append(v.Series, widget.Series{Points: joined, Every: 1, Accent: true})
}

// future is the forecast from the last reading on.
func (v *view) future(c course.Course, f forecast.Forecast, days func(time.Time) float64, now time.Time) {
	from := now
	if c.Gravity.IsKnown() {
		from = c.Gravity.Value.At
	}
	var middle []widget.XY
	for _, b := range f.Band(from, int(v.Chart.Right-days(from))+1) {
		x := days(b.At)
		middle = append(middle, widget.XY{X: x, Y: float64(b.Middle)})
		v.Band = append(v.Band, widget.Range{X: x, Low: float64(b.Low), High: float64(b.High)})
	}
	v.Series = append(v.Series, widget.Series{Points: middle, Every: 1, Accent: true})
}

// datesUnder names a few days under the curve.
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

func (p *paper) style() widget.Style {
	if p.vessel.Course.Settings.Chart == "blocks" {
		return widget.InBlocks
	}
	return widget.InBraille
}

// compact are the figures as they stand beside a curve: name, number, unit; and
// as footnotes what they assume and, where there is no room beside them, where
// they came from.
func (p *paper) compact(width int) (rows, notes []string) {
	var from []string
	for _, f := range p.list() {
		r := layout.Row{}.At(0, f.name).AtPoint(14, f.number, p.theme.Bold)
		unit, _, _ := strings.Cut(f.unit, " since")
		if width < besideWide && f.unit == "points a day" {
			unit = "a day"
		}
		r = r.At(19, unit)
		if f.assumed != "" {
			if i := slices.Index(notes, f.assumed); i < 0 {
				notes = append(notes, f.assumed)
			}
			r = r.At(r.End()+1, superscript(slices.Index(notes, f.assumed)+1))
		} else if f.unit == "" && width >= besideWide {
			r = r.At(20, p.theme.Faint(f.from))
		}
		if f.from != "" && (width < besideWide || f.unit != "") {
			from = append(from, f.name+" "+f.from)
		}
		rows = append(rows, r.In(width))
	}
	if len(from) > 0 {
		notes = append(notes, strings.Join(from, "; "))
	}
	return rows, notes
}

// expected is the forecast in words: what it does, what may be said of its end,
// how the latest readings fell against that, and when to read again.
func (p *paper) expected() string {
	f, settings := p.forecast, p.vessel.Course.Settings
	near := ", near " + words.Glass(f.Finish, settings) + " (" + words.Glass(f.Low, settings) + " to " + words.Glass(f.High, settings) + ")"
	var text string
	switch {
	case !f.Near.IsZero():
		text = "near its finish since about " + words.Date(f.Near, p.now) + "; it may still fall a little, to " + strings.TrimPrefix(near, ", near ")
	case f.Says == forecast.NotStarted:
		text = "hardly fallen yet"
	case f.Says == forecast.PerhapsStalled:
		text = "rests since " + words.Date(f.Rests, p.now) + ": perhaps stalled"
	case f.MayStop > 0:
		text = "slowing more than most: it may stop near " + words.Glass(f.MayStop, settings)
	case f.Says == forecast.CannotTell:
		text = "cannot tell: " + f.Why
	case f.Done.At.IsZero():
		text = "on its way; " + strings.TrimPrefix(f.Why, "no date: ") + near
	case f.Done.Early.Before(p.now):
		text = "finishes by " + words.Date(f.Done.Late, p.now) + near
	default:
		text = "finishes between " + words.Date(f.Done.Early, p.now) + " and " + words.Date(f.Done.Late, p.now) + near
	}
	for _, b := range f.Breaks {
		if b.Met.IsZero() && !b.Expected.At.IsZero() {
			text += "; the " + fraction(b) + " break about " + words.When(b.Expected.At, p.now) +
				", ±" + words.Age(b.Expected.Late.Sub(b.Expected.Early)/2)
			break
		}
	}
	return text + p.off() + "; take gravity " + p.readNext()
}

// off is how the latest readings fell against what was forecast.
func (p *paper) off() string {
	slower, inARow := p.forecast.Off()
	if inARow == 0 {
		return ""
	}
	word := "slower"
	if slower < 0 {
		word, slower = "faster", -slower
	}
	text := fmt.Sprintf("; %.0f points %s than forecast", 1000*float64(slower), word)
	if inARow > 1 {
		text += ": " + map[int]string{2: "twice", 3: "three times"}[inARow] + " in a row"
	}
	return text
}

func (p *paper) readNext() string {
	if !p.forecast.ReadNext.After(p.now) {
		return "now"
	}
	return "on " + words.Date(p.forecast.ReadNext, p.now)
}

func fraction(b forecast.Break) string {
	switch {
	case b.Of == 1 && b.In == 3:
		return "⅓"
	case b.Of == 1 && b.In == 2:
		return "½"
	}
	return "⅔"
}
