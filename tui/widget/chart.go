package widget

import (
	"math"
	"strings"

	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// XY is a point of a chart.
type XY struct{ X, Y float64 }

// Range is a lowest and a highest value at one x.
type Range struct{ X, Low, High float64 }

// Mark is a sign at a point.
type Mark struct {
	XY
	Sign rune
}

// Series is a curve of joined points; Every is the distance of its dots, and Accent its colour.
type Series struct {
	Points []XY
	Every  int
	Accent bool
}

// Chart draws curves in a frame of cells. What is out of range is cut off; without Now there is no line.
type Chart struct {
	Width, Height int
	Left, Right   float64   // x at the edges
	Top, Bottom   float64   // y at the edges
	Blocks        bool      // half blocks, for a font without braille
	Levels        []float64 // where a line is drawn
	Bands         [][]Range
	Now           float64 // x of the line between past and future; NaN for none
	Series        []Series
	Marks         []Mark
	labels        map[int]float64 // by row
}

// The ranks of what is drawn: a cell shows only the highest.
const (
	nothing = iota
	level
	inBand
	nowLine
	curve
	mark
)

type cell struct {
	rank   int
	dots   [2][4]bool
	sign   rune
	accent bool
}

type canvas struct {
	Chart
	cells []cell
}

// Scaled returns the chart with a top and a bottom for values from low to a larger high, and round values as labels in
// the middle of rows. Of all round distances and rows between two labels, those that use most of the height are taken;
// rows below low are left out.
func (c Chart) Scaled(low, high float64) Chart {
	power := math.Pow(10, math.Floor(math.Log10((high-low)/float64(c.Height))))
	row, apart := math.Inf(1), 0.0
	for _, round := range []float64{1, 2, 5, 10, 20, 50} {
		for _, rows := range []float64{2, 3, 4} {
			each := round * power / rows
			if first := math.Ceil(high/each) * each; each < row && first-each*(float64(c.Height)-0.5) <= low {
				row, apart = each, round*power
			}
		}
	}
	first := math.Ceil(high/row) * row
	c.Height = min(c.Height, int(math.Ceil((first-low)/row-0.5))+1)
	c.Top, c.Bottom, c.labels = first+row/2, first+row/2-row*float64(c.Height), map[int]float64{}
	for y := range c.Height {
		if n := math.Round((first - float64(y)*row) / apart); math.Abs(first-float64(y)*row-n*apart) < row/4 {
			c.labels[y] = float64(int(n)) * apart
		}
	}
	return c
}

// Row returns the row of a value.
func (c Chart) Row(value float64) int {
	return int(math.Floor((c.Top - value) / (c.Top - c.Bottom) * float64(c.Height)))
}

// AxisColumn is where the axis of a framed chart is, with its labels before it.
const AxisColumn = 9

// Framed draws the chart with its labels, to the right of its axis and above a line.
func (c Chart) Framed(t theme.Theme, label func(float64) string) []layout.Row {
	var rows []layout.Row
	for y, text := range c.Rows(t) {
		r := layout.Row{}.At(AxisColumn, "│"+text)
		if value, has := c.labels[y]; has {
			r = layout.Row{}.Until(AxisColumn-1, label(value)).At(AxisColumn, "┤"+text)
		}
		rows = append(rows, r)
	}
	return append(rows, layout.Row{}.At(AxisColumn, "└"+strings.Repeat("─", c.Width)))
}

// Rows draws the chart in exactly its size, a text a row; empty without a range.
func (c Chart) Rows(t theme.Theme) []string {
	v := canvas{c, make([]cell, max(c.Width, 0)*max(c.Height, 0))}
	if c.Right > c.Left && c.Top > c.Bottom && len(v.cells) > 0 {
		v.levels()
		for i, b := range c.Bands {
			v.band(b, i)
		}
		v.now()
		for _, s := range c.Series {
			v.curve(s)
		}
		for _, m := range c.Marks {
			v.mark(m)
		}
	}
	rows := make([]string, max(c.Height, 0))
	for y := range rows {
		rows[y] = v.row(y, t)
	}
	return rows
}

// dot returns the column and row of dots of a point. The row may be outside.
func (v *canvas) dot(x, y float64) (int, int) {
	return int(math.Floor((x - v.Left) / (v.Right - v.Left) * 2 * float64(v.Width))),
		int(math.Floor((v.Top - y) / (v.Top - v.Bottom) * 4 * float64(v.Height)))
}

// at returns the x in the middle of a column of dots.
func (v *canvas) at(column int) float64 {
	return v.Left + (float64(column)+0.5)/(2*float64(v.Width))*(v.Right-v.Left)
}

// cell returns the cell of a dot; nil outside the chart, or if it shows a higher rank.
func (v *canvas) cell(x, y, rank int) *cell {
	if x < 0 || y < 0 || x >= 2*v.Width || y >= 4*v.Height || rank < v.cells[y/4*v.Width+x/2].rank {
		return nil
	}
	return &v.cells[y/4*v.Width+x/2]
}

// set sets a dot of a curve; what is drawn with a higher rank hides it.
func (v *canvas) set(x, y, rank int, accent bool) {
	c := v.cell(x, y, rank)
	if c == nil {
		return
	}
	if rank > c.rank {
		*c = cell{rank: rank}
	}
	c.dots[x%2][y%4] = true
	c.accent = c.accent || accent
}

// sign sets a sign; what is drawn with a higher rank hides it.
func (v *canvas) sign(x, y, rank int, sign rune) {
	if c := v.cell(x, y, rank); c != nil {
		*c = cell{rank: rank, sign: sign}
	}
}

func (v *canvas) levels() {
	step := 3
	if v.Blocks {
		step = 2
	}
	for _, l := range v.Levels {
		for x := 0; x < 2*v.Width; x += step {
			_, y := v.dot(v.Left, l)
			v.set(x, y, level, false)
		}
	}
}

// band draws a range in dots: its edges in every second column, the inside of the only band in every fourth. The edges
// of a further band have its dots farther apart.
func (v *canvas) band(band []Range, n int) {
	var lows, highs []XY
	for _, r := range band {
		lows, highs = append(lows, XY{r.X, r.Low}), append(highs, XY{r.X, r.High})
	}
	for x := 0; x < 2*v.Width; x++ {
		low, hasLow := valueAt(lows, v.at(x))
		high, hasHigh := valueAt(highs, v.at(x))
		if !hasLow || !hasHigh {
			continue
		}
		_, from := v.dot(0, high)
		_, to := v.dot(0, low)
		for y := max(from, 0); y <= min(to, 4*v.Height-1); y++ {
			if edge := y == from || y == to; edge && x%(2+2*n) == 0 || !edge && len(v.Bands) == 1 && (x+2*y)%4 == 0 {
				v.set(x, y, inBand, false)
			}
		}
	}
}

func (v *canvas) now() {
	if math.IsNaN(v.Now) || v.Now <= v.Left || v.Now >= v.Right {
		return
	}
	x, _ := v.dot(v.Now, v.Top)
	for y := 0; y < v.Height; y++ {
		v.sign(x, 4*y, nowLine, '│')
	}
}

// curve joins the points of a series from column to column. NaN interrupts it.
func (v *canvas) curve(s Series) {
	last, joined, drawn := 0, false, 0
	for x := 0; x < 2*v.Width; x++ {
		value, ok := valueAt(s.Points, v.at(x))
		if !ok {
			joined = false
			continue
		}
		_, y := v.dot(0, value)
		from := y
		if joined && y > last+1 {
			from = last + 1
		} else if joined && y < last-1 {
			from = last - 1
		}
		for d := min(from, y); d <= max(from, y); d++ {
			if drawn++; s.Every < 2 || drawn%s.Every == 0 {
				v.set(x, d, curve, s.Accent)
			}
		}
		last, joined = y, true
	}
}

// valueAt returns the value of a curve between two of its points.
func valueAt(points []XY, x float64) (float64, bool) {
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if x < a.X || x > b.X || b.X <= a.X {
			continue
		}
		y := a.Y + (x-a.X)/(b.X-a.X)*(b.Y-a.Y)
		return y, !math.IsNaN(y) && !math.IsInf(y, 0)
	}
	return 0, false
}

func (v *canvas) mark(m Mark) {
	if math.IsNaN(m.X) || math.IsNaN(m.Y) {
		return
	}
	x, y := v.dot(m.X, m.Y)
	v.sign(min(x, 2*v.Width-1), y, mark, m.Sign)
}

func (v *canvas) row(y int, t theme.Theme) string {
	var b strings.Builder
	for x := range max(v.Width, 0) {
		c := v.cells[y*v.Width+x]
		b.WriteString(c.drawn(v.Blocks, t))
	}
	return strings.TrimRight(b.String(), " ")
}

func (c cell) drawn(blocks bool, t theme.Theme) string {
	sign := string(c.glyph(blocks))
	switch {
	case c.rank == nothing:
		return " "
	case c.rank == mark:
		return t.Bold(sign)
	case c.rank < curve:
		return t.Faint(sign)
	case c.accent:
		return t.In(theme.Accent, sign)
	}
	return sign
}

func (c cell) glyph(blocks bool) rune {
	switch {
	case c.sign != 0:
		return c.sign
	case blocks:
		return c.block()
	}
	braille := rune(0x2800)
	for x := range c.dots {
		for y, on := range c.dots[x] {
			if on {
				braille |= dotBits[x][y]
			}
		}
	}
	return braille
}

// block returns the cell for fonts without braille.
func (c cell) block() rune {
	upper := c.dots[0][0] || c.dots[1][0] || c.dots[0][1] || c.dots[1][1]
	lower := c.dots[0][2] || c.dots[1][2] || c.dots[0][3] || c.dots[1][3]
	switch {
	case c.rank == level:
		return '┈'
	case c.rank == inBand:
		return '░'
	case upper && lower:
		return '█'
	case upper:
		return '▀'
	}
	return '▄'
}
