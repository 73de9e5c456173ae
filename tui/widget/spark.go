package widget

import (
	"math"
	"slices"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// leastSpan is the least fall that a sparkline is drawn over, so that the noise
// of a steady vessel does not look like a cliff.
const leastSpan = 0.010

// above is the share of what lacks of that span that is put above the course:
// a flat one then runs through the middle of a row, not along its edge.
const above = 0.625

// Braille draws a course in one row of cells, two columns and four rows of dots
// in each, between its own extremes. Columns are joined by the dots between
// them.
func Braille(values []float64, cells int) string {
	dots := levels(values, 2*cells, 4)
	if dots == nil {
		return ""
	}
	out := make([]rune, cells)
	for i := range out {
		out[i] = 0x2800
	}
	for i, d := range dots {
		from := d
		if i > 0 && dots[i-1] < d {
			from = dots[i-1] + 1
		} else if i > 0 && dots[i-1] > d {
			from = dots[i-1] - 1
		}
		for y := min(from, d); y <= max(from, d); y++ {
			out[i/2] |= dotBits[i%2][y]
		}
	}
	return string(out)
}

// dotBits are the dots of a braille cell by column and row, Unicode 16.0
// section 21.1.
var dotBits = [2][4]rune{{0x01, 0x02, 0x04, 0x40}, {0x08, 0x10, 0x20, 0x80}}

// Blocks draws a course with block letters, one a cell. The two tallest are
// left out, so that rows do not touch.
func Blocks(values []float64, cells int) string {
	const shapes = 6
	out := make([]rune, 0, cells)
	for _, down := range levels(values, cells, shapes) {
		out = append(out, '▆'-rune(down))
	}
	return string(out)
}

// levels are the values at n equal steps, each as how many of the given rows it
// lies under the top; nil where there is nothing to draw.
func levels(values []float64, n, rows int) []int {
	if len(values) < 2 || n < 1 {
		return nil
	}
	top, bottom := extremes(values)
	if math.IsInf(top-bottom, 0) {
		return nil
	}
	out := make([]int, n)
	for i := range out {
		v := sample(values, float64(i)/float64(max(n-1, 1)))
		if math.IsNaN(v) {
			return nil
		}
		out[i] = min(max(int((top-v)/(top-bottom)*float64(rows)), 0), rows-1)
	}
	return out
}

func extremes(values []float64) (top, bottom float64) {
	top, bottom = math.Inf(-1), math.Inf(1)
	for _, v := range values {
		top, bottom = math.Max(top, v), math.Min(bottom, v)
	}
	if lack := leastSpan - (top - bottom); lack > 0 {
		top, bottom = top+above*lack, bottom-(1-above)*lack
	}
	return top, bottom
}

// sample is the value at a share of the way, straight between two neighbours.
func sample(values []float64, share float64) float64 {
	x := share * float64(len(values)-1)
	i := min(int(x), len(values)-2)
	return values[i] + (x-float64(i))*(values[i+1]-values[i])
}

// Stem draws the notches of a plan on the stem of a hydrometer in so many rows
// and columns: what has been fallen through, where it floats, what happens
// further down. It needs two rows at least.
func Stem(t theme.Theme, notches []words.Notch, w, rows int) []string {
	notches = thinned(notches, rows)
	if len(notches) < 2 {
		return nil
	}
	g := stemColumns(w)
	out := make([]string, rows)
	places := place(notches, rows)
	now := slices.IndexFunc(notches, func(n words.Notch) bool { return n.Kind == words.Now })
	next := 0
	for y := range out {
		gone := now >= 0 && y <= places[now]
		if next < len(places) && places[next] == y {
			out[y] = g.notch(t, notches[next], gone).In(w)
			next++
			continue
		}
		out[y] = layout.Row{}.At(g.stem, rod(t, gone)).In(w)
	}
	return out[:places[len(places)-1]+1]
}

// stemGrid are the columns of a stem.
type stemGrid struct {
	brk, number, stem, says int
	short                   bool
}

// roomyStem is the width from which a stem has room for sentences.
const roomyStem = 40

func stemColumns(w int) stemGrid {
	if w < roomyStem {
		return stemGrid{0, 2, 9, 12, true}
	}
	return stemGrid{1, 4, 11, 14, false}
}

func (g stemGrid) notch(t theme.Theme, n words.Notch, gone bool) layout.Row {
	says := n.Says
	if g.short && n.Short != "" {
		says = n.Short
	}
	number := n.Number
	if n.Kind == words.Now {
		number, says = t.Bold(number), t.Bold(says)
	}
	return layout.Row{}.At(g.brk, n.Break).At(g.number, number).At(g.stem, sign(t, n.Kind, gone)).At(g.says, says)
}

var signs = map[words.NotchKind]string{
	words.Original: "┬", words.Now: "●", words.AtBreak: "┼", words.AtLimit: "├", words.Finish: "┴",
}

func sign(t theme.Theme, k words.NotchKind, gone bool) string {
	if gone {
		return t.In(theme.Accent, signs[k])
	}
	return signs[k]
}

func rod(t theme.Theme, gone bool) string {
	if gone {
		return t.In(theme.Accent, "┃")
	}
	return "│"
}

// thinned drops limits, then breaks, until each notch has a row of its own.
func thinned(notches []words.Notch, rows int) []words.Notch {
	out := slices.Clone(notches)
	for _, kind := range []words.NotchKind{words.AtLimit, words.AtBreak, words.Now} {
		for i := len(out) - 1; i >= 0 && len(out) > rows; i-- {
			if out[i].Kind == kind {
				out = slices.Delete(out, i, i+1)
			}
		}
	}
	if len(out) > rows {
		return nil
	}
	return out
}

// place gives each notch a row by its gravity, in order and never two in one.
func place(notches []words.Notch, rows int) []int {
	top, bottom := notches[0].Gravity, notches[len(notches)-1].Gravity
	at := make([]int, len(notches))
	for i, n := range notches {
		if top > bottom {
			at[i] = int((top-n.Gravity)/(top-bottom)*float64(rows-1) + 0.5)
		}
		if i > 0 {
			at[i] = max(at[i], at[i-1]+1)
		}
	}
	for i := len(at) - 1; i >= 0; i-- {
		at[i] = min(at[i], rows-len(at)+i)
	}
	return at
}
