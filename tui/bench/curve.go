package bench

import (
	"math"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/form"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/widget"
)

// The least rows and columns that a curve is worth drawing in, and its most rows.
const leastRows, leastColumns, mostRows = 7, 34, 12

// curve draws the figure over the range of one input, with the given one marked; nothing without room for it.
func (m view) curve(width, height int) []string {
	curves, axis, units := m.outcome.Curves, m.open().Axis, m.Snapshot.Cellar.Settings.Units
	low, high, named := math.Inf(1), math.Inf(-1), 0
	for _, c := range curves {
		if low, high = min(low, slices.Min(c.Y)), max(high, slices.Max(c.Y)); len(curves) > 1 {
			named = max(named, len(c.Label())+1)
		}
	}
	if width -= named; height < leastRows || width < leastColumns || low >= high {
		return nil
	}
	c := widget.Chart{Width: width - widget.AxisColumn - 1, Height: min(height, mostRows) - 3, Right: 1, Blocks: m.Snapshot.Cellar.Settings.Chart == "blocks"}
	if i := slices.IndexFunc(m.fields, func(f form.Field) bool { return f.Key == axis.Key }); i >= 0 {
		c.Now = axis.Share(m.Value(m.fields[i]))
	}
	c = c.Scaled(low, high)
	names := make([]string, c.Height+1)
	for i, line := range curves {
		s := widget.Series{Every: i + 1, Accent: i == 0}
		for j, x := range line.X {
			s.Points = append(s.Points, widget.XY{X: x, Y: line.Y[j]})
		}
		c.Series = append(c.Series, s)
		if y := c.Row(line.Y[len(line.Y)-1]); named > 0 {
			for names[y] != "" && y < c.Height-1 {
				y++
			}
			names[y] = line.Label()
		}
	}
	name := curves[0].Label()
	_, unit := curves[0].In(units)
	if strings.EqualFold(name, unit) {
		name = ""
	}
	rows := []string{m.Theme.Bold(words.Join(" in ", name, unit) + " by " + axis.Name)}
	label := func(value float64) string {
		r := curves[0].Result
		r.Value = value
		text, _ := r.In(units)
		return text
	}
	for y, r := range c.Framed(m.Theme, label) {
		rows = append(rows, r.At(widget.AxisColumn+2+c.Width, m.Theme.Faint(names[y])).In(width+named))
	}
	const from = widget.AxisColumn + 1
	at := func(share float64) string { return measure.Converted(axis.At(share), units) }
	under := layout.Row{}.At(from, at(0)).At(from+(c.Width-len(at(0.5)))/2, at(0.5)).Until(from+c.Width, at(1))
	return append(rows, m.Theme.Faint(under.In(width)))
}
