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

// The least rows and columns that a curve is worth drawing in, its most rows, and the columns of its scale.
const leastRows, leastColumns, mostRows, scaleColumns = 7, 34, 12, 8

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
	c := widget.Chart{Width: width - scaleColumns - 1, Height: min(height, mostRows) - 3, Right: 1}
	if i := slices.IndexFunc(m.fields, func(f form.Field) bool { return f.Key == axis.Key }); i >= 0 {
		c.Now = axis.Share(m.Value(m.fields[i]))
	}
	least := (high - low) / float64(c.Height-2)
	power := math.Pow(10, math.Floor(math.Log10(least/0.005))) // the round steps of gravity, from 0.005 to 0.05
	step := widget.NiceStep(least/power) * power
	first := math.Ceil(high/step) * step
	c.Top, c.Bottom = first+step/2, first+step/2-step*float64(c.Height)
	if m.Snapshot.Cellar.Settings.Chart == "blocks" {
		c.Style = widget.InBlocks
	}
	names := make([]string, c.Height)
	for i, line := range curves {
		s := widget.Series{Every: i + 1, Accent: i == 0}
		for j, x := range line.X {
			s.Points = append(s.Points, widget.XY{X: x, Y: line.Y[j]})
		}
		c.Series = append(c.Series, s)
		if y := int((c.Top - line.Y[len(line.Y)-1]) / (c.Top - c.Bottom) * float64(c.Height)); named > 0 {
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
	for y, text := range c.Rows(m.Theme) {
		label, tick := "", "│"
		if r, value := curves[0].Result, first-float64(y)*step; value > -step/4 && math.Abs(math.Remainder(value, 2*step)) < step/4 {
			r.Value, tick = value, "┤"
			label, _ = r.In(units)
		}
		rows = append(rows, layout.Row{}.Until(scaleColumns-1, label).At(scaleColumns, tick+text).At(scaleColumns+2+c.Width, m.Theme.Faint(names[y])).In(width+named))
	}
	at := func(share float64) string { return measure.Converted(axis.At(share), units) }
	under := layout.Row{}.At(scaleColumns+1, at(0)).At(scaleColumns+1+(c.Width-len(at(0.5)))/2, at(0.5)).Until(scaleColumns+1+c.Width, at(1))
	return append(rows, strings.Repeat(" ", scaleColumns)+"└"+strings.Repeat("─", c.Width), m.Theme.Faint(under.In(width)))
}
