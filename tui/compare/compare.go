// Package compare is the screen of two to four ferments side by side: their curves by days since the pitch, then
// figures, differences and tastings.
package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Most is the most ferments that fit.
const Most = 4

// Model is the screen. Its methods give a changed copy.
type Model struct {
	screen.Plain
	ids     []string
	vessels []app.Vessel
	ahead   []forecast.Forecast
	beside  words.Comparison
	top     int
}

// New compares the ferments of these ids.
func New(ids []string) Model { return Model{ids: ids} }

type view struct {
	Model
	screen.Frame
}

func (m Model) Show(f screen.Frame) screen.Screen {
	m.vessels = f.Snapshot.Among(m.ids)
	m.ahead = ferment.Map(m.vessels, func(v app.Vessel) forecast.Forecast {
		_, ahead := app.Foreseen(v)
		return ahead
	})
	m.beside = words.SideBySide(m.vessels)
	m.beside.Figures = append(m.beside.Figures, words.Expected(m.vessels, m.ahead)...)
	return m
}

func (m Model) Do(f screen.Frame, a intent.Action) (screen.Screen, intent.Intent) {
	n, moves := widget.Steps(a, f.Height-4)
	if !moves {
		return m, intent.Act{Action: a}
	}
	v := view{m, f}
	m.top = widget.ClampIndex(m.top+n, widget.LastTop(v.body(f.Page()), v.room())+1)
	return m, nil
}

func (m view) room() int { return max(m.Height-3, 0) }

// AtEnd reports whether the last row is in sight.
func (m Model) AtEnd(f screen.Frame) bool {
	v := view{m, f}
	return m.top >= widget.LastTop(v.body(f.Page()), v.room())
}

func (m Model) View(f screen.Frame) string { return f.Draw(view{m, f}.drawn) }

func (m view) drawn() []string {
	body := m.body(m.Page())
	top := min(m.top, widget.LastTop(body, m.room()))
	return append([]string{m.head(m.Page()), ""}, body[top:min(top+m.room(), len(body))]...)
}

func (m view) head(page layout.Page) string {
	r := layout.Row{}
	for i, v := range m.vessels {
		at := r.End() + 1
		if i == 0 {
			at = page.Margin - 1
		}
		r = r.At(at, m.Theme.Tag(v.Label()))
	}
	if t := m.beside.Trial; len(m.vessels) == 0 {
		r = r.At(r.End()+2, "nothing to compare")
	} else if t.Name != "" {
		r = r.At(r.End()+2, t.Name+", one must; the difference: "+t.Differs)
	}
	return r.In(page.End())
}

func (m view) body(page layout.Page) []string {
	if len(m.vessels) == 0 {
		return nil
	}
	rows := m.chart(page)
	rows = append(append(rows, ""), m.figures(page)...)
	rows = append(append(rows, ""), m.differs(page)...)
	for _, a := range m.beside.Aged {
		rows = append(append(rows, ""), widget.Aged(m.Theme, page, m.beside.Labels, a)...)
	}
	if m.beside.Triangle != "" {
		rows = append(append(rows, ""), widget.Labelled(page, 12, page.End(), m.Theme.Faint("triangle"), m.beside.Triangle)...)
	}
	return rows
}

var signs = []rune{'●', '○', '▲', '△'}

func (m view) chart(page layout.Page) []string {
	height := max(8, min(12, m.Height/2-3))
	c := widget.Chart{Width: max(page.End()-widget.AxisColumn-1, 1), Height: height, Now: math.NaN()}
	low, high, right := math.Inf(1), math.Inf(-1), 3.0
	for i, v := range m.vessels {
		s := widget.Series{Every: i + 1, Accent: i%2 == 0}
		for _, r := range v.Course.Readings {
			if r.Trusted() && v.Course.Pitch.Known {
				p := widget.XY{X: r.At.Sub(v.Course.Pitch.At).Hours() / 24, Y: float64(r.Gravity)}
				s.Points, c.Marks = append(s.Points, p), append(c.Marks, widget.Mark{XY: p, Sign: signs[i]})
				low, high, right = math.Min(low, p.Y), math.Max(high, p.Y), math.Max(right, p.X+0.5)
			}
		}
		band := m.band(i)
		for _, r := range band {
			low, high, right = math.Min(low, r.Low), math.Max(high, r.High), math.Max(right, r.X)
		}
		c.Series, c.Bands = append(c.Series, s), append(c.Bands, band)
	}
	if math.IsInf(low, 1) {
		return []string{layout.Row{}.At(page.Margin, "no readings to draw yet").In(page.End())}
	}
	c.Right = right
	c = c.Scaled(low, max(high, low+0.010))
	settings := m.vessels[0].Course.Settings
	c.Blocks = settings.Chart == "blocks"
	rows := ferment.Map(c.Framed(m.Theme, func(value float64) string { return words.Glass(measure.Gravity(value), settings) }),
		func(r layout.Row) string { return r.In(page.End()) })
	rows = append(rows, m.days(page, c))
	if slices.ContainsFunc(c.Bands, func(b []widget.Range) bool { return b != nil }) {
		rows = append(rows, layout.Row{}.At(widget.AxisColumn+1, m.Theme.Faint("between the dots: expected, nine times in ten")).In(page.End()))
	}
	return append(rows, m.acts(page, c)...)
}

// band returns the gravities expected of a ferment from its last reading on, for one to two weeks by its age; nothing
// without a forecast.
func (m view) band(i int) (band []widget.Range) {
	c, f := m.vessels[i].Course, m.ahead[i]
	if f.Unknown != "" || !c.Gravity.IsKnown() {
		return nil
	}
	day := func(t time.Time) float64 { return t.Sub(c.Pitch.At).Hours() / 24 }
	last := c.Gravity.Value.At
	for _, p := range f.Band(last, min(14, max(7, int(day(last))))) {
		band = append(band, widget.Range{X: day(p.At), Low: float64(p.Low), High: float64(p.High)})
	}
	return band
}

// letters mark what was done under the curves.
var letters = map[ferment.Act]string{ferment.Nutrient: "n", ferment.Honey: "h", ferment.FruitIn: "f", ferment.Rack: "r", ferment.Blend: "b",
	ferment.TopUp: "u", ferment.Sulphite: "s", ferment.Bottle: "B", ferment.Open: "o", ferment.Taste: "t"}

// acts returns what was done to each ferment under its curve, and what the letters mean; of two
// in one column the first is marked.
func (m view) acts(page layout.Page, c widget.Chart) []string {
	var rows, means []string
	for i, v := range m.vessels {
		r := layout.Row{}.At(page.Margin, string(signs[i]))
		for _, e := range v.Course.Entries {
			day := e.At.Time.Sub(v.Course.Pitch.At).Hours() / 24
			at, letter := widget.AxisColumn+1+int(day/c.Right*float64(c.Width)), letters[e.Did]
			if letter == "" || day < 0 || at < r.End() || at >= page.End() {
				continue
			}
			r = r.At(at, letter)
			if mean := letter + " " + string(e.Did); !slices.Contains(means, mean) {
				means = append(means, mean)
			}
		}
		rows = append(rows, r.In(page.End()))
	}
	if len(means) == 0 {
		return nil
	}
	return append(rows, layout.Row{}.At(widget.AxisColumn+1, m.Theme.Faint(strings.Join(means, "  "))).In(page.End()))
}

func (m view) days(page layout.Page, c widget.Chart) string {
	const unit = " days"
	step := 1.0
	for _, s := range []float64{1, 2, 7, 14, 28, 91, 182, 365} {
		step = s
		if c.Right/s <= float64(c.Width)/8 {
			break
		}
	}
	r := layout.Row{}
	for d := 0.0; d <= c.Right; d += step {
		at, day := widget.AxisColumn+int(d/c.Right*float64(c.Width)), fmt.Sprintf("%.0f", d)
		if at+len(day+unit) > page.End() {
			break
		}
		r = r.At(at, day)
	}
	return r.At(r.End(), m.Theme.Faint(unit)).In(page.End())
}

// columns returns the column of each ferment's values, and that after them: three further than the widest value, if
// there is room.
func (m view) columns(page layout.Page, rows [][]string) (at []int) {
	const from = 24
	each := max((page.End()-from-14)/max(len(m.vessels), 1), 8)
	longest := slices.MaxFunc(slices.Concat(append(rows, m.beside.Labels)...), func(a, b string) int { return layout.Width(a) - layout.Width(b) })
	each = min(each, layout.Width(longest)+5) // with the sign before a label
	for i := range len(m.vessels) + 1 {
		at = append(at, from+i*each)
	}
	return at
}

func (m view) heading(page layout.Page, at []int, name, last string) string {
	r := layout.Row{}.At(page.Margin, m.Theme.Faint(name))
	for i, l := range m.beside.Labels {
		r = r.At(at[i], string(signs[i])+" "+m.Theme.Bold(l))
	}
	return r.At(at[len(m.vessels)], m.Theme.Faint(last)).In(page.End())
}

func (m view) values(page layout.Page, at []int, name string, values []string, last string) string {
	r := layout.Row{}.At(page.Margin, name)
	for i, v := range values {
		r = r.At(at[i], layout.Cut(v, max(at[i+1]-at[i]-2, 4)))
	}
	return r.At(at[len(m.vessels)], last).In(page.End())
}

func (m view) figures(page layout.Page) []string {
	last := ""
	if len(m.vessels) == 2 {
		last = "differ by"
	}
	at := m.columns(page, ferment.Map(m.beside.Figures, func(f words.Compared) []string { return f.Values }))
	rows := []string{m.heading(page, at, "", last)}
	rows = append(rows, ferment.Map(m.beside.Figures, func(f words.Compared) string { return m.values(page, at, f.Name, f.Values, f.Apart) })...)
	return rows
}

func (m view) differs(page layout.Page) []string {
	at := m.columns(page, ferment.Map(m.beside.Differs, func(d words.Difference) []string { return d.Values }))
	rows := []string{m.heading(page, at, "what differs", "")}
	for _, d := range m.beside.Differs {
		mark := map[string]string{words.Declared: m.Theme.In(theme.Good, "✓ "), "not " + words.Declared: m.Theme.In(theme.Warn, "△ ")}
		rows = append(rows, m.values(page, at, d.What, d.Values, mark[d.Says]+d.Says))
	}
	if len(m.beside.Differs) == 0 {
		rows = append(rows, layout.Row{}.At(page.Margin, "no other difference is recorded").In(page.End()))
	}
	return rows
}
