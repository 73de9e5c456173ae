package widget

import (
	"math"
	"slices"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// Braille draws a curve in one row of cells, each two columns and four rows of dots, scaled between its extremes.
// Neighbouring columns are joined by dots.
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

// dotBits are the dots of a braille cell by column and row, Unicode 16.0 section 21.1.
var dotBits = [2][4]rune{{0x01, 0x02, 0x04, 0x40}, {0x08, 0x10, 0x20, 0x80}}

// Blocks draws a curve with block characters, without the two tallest, which would touch.
func Blocks(values []float64, cells int) string {
	const shapes = 6
	out := make([]rune, 0, cells)
	for _, down := range levels(values, cells, shapes) {
		out = append(out, '▆'-rune(down))
	}
	return string(out)
}

// levels returns the values at n equal steps, as rows below the top; nil for no values. They are scaled to at least
// 0.010, so that noise does not look like a fall, and a flat curve is in the middle.
func levels(values []float64, n, rows int) []int {
	if len(values) < 2 || n < 1 {
		return nil
	}
	top, bottom := slices.Max(values), slices.Min(values)
	if missing := 0.010 - (top - bottom); missing > 0 {
		top, bottom = top+0.625*missing, bottom-0.375*missing
	}
	if math.IsInf(top-bottom, 0) {
		return nil
	}
	out := make([]int, n)
	for i := range out {
		x := float64(i) / float64(max(n-1, 1)) * float64(len(values)-1)
		j := min(int(x), len(values)-2)
		v := values[j] + (x-float64(j))*(values[j+1]-values[j])
		if math.IsNaN(v) {
			return nil
		}
		out[i] = min(max(int((top-v)/(top-bottom)*float64(rows)), 0), rows-1)
	}
	return out
}

// Stem draws the notches of a plan on a hydrometer stem in so many rows and columns: the gravities passed, the present
// one, and what is due further down. It needs at least two rows.
func Stem(t theme.Theme, notches []words.Notch, w, rows int) []string {
	notches = thinned(notches, rows)
	if len(notches) < 2 {
		return nil
	}
	g := stemGrid{1, 4, 11, 14, false}
	if w < roomyStem {
		g = stemGrid{0, 2, 9, 12, true}
	}
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
		rod := "│"
		if gone {
			rod = t.In(theme.Accent, "┃")
		}
		out[y] = layout.Row{}.At(g.stem, rod).In(w)
	}
	return out[:places[len(places)-1]+1]
}

type stemGrid struct {
	brk, number, stem, says int
	short                   bool
}

// roomyStem is the width from which whole sentences are shown.
const roomyStem = 40

// notch draws the row of one mark on the stem.
func (g stemGrid) notch(t theme.Theme, n words.Notch, gone bool) layout.Row {
	says := n.Says
	if g.short && n.Short != "" {
		says = n.Short
	}
	number := n.Number
	if n.Kind == words.Now {
		number, says = t.Bold(number), t.Bold(says)
	}
	sign := signs[n.Kind]
	if gone {
		sign = t.In(theme.Accent, sign)
	}
	return layout.Row{}.At(g.brk, n.Break).At(g.number, number).At(g.stem, sign).At(g.says, says)
}

var signs = map[words.NotchKind]string{
	words.Original: "┬", words.Now: "●", words.AtBreak: "┼", words.AtLimit: "├", words.Finish: "┴",
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

// place assigns each notch a row by its gravity, in order and each in its own row.
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

// Card draws the selected vessel in a column: its stem in 8 to 25 rows, its figures, and the end of its log if there is
// room. Column 0 is the edge of its highlighted tag.
func Card(t theme.Theme, r words.Row, w, h int) []string {
	inner := w - 1
	rows := cardHead(t, r, inner)
	figures := cardFigures(t, r.Card.Figures, inner)
	if room := h - len(rows) - len(figures) - 1; room >= 8 {
		rows = append(rows, Stem(t, r.Card.Stem, inner, min(room, 25))...)
	}
	if h-len(rows) >= len(figures)+1 {
		rows = append(append(rows, ""), figures...)
	}
	if left := h - len(rows) - 1; left >= 2 && inner >= roomyStem {
		rows = append(rows, "")
		for _, l := range r.Card.Log[:min(len(r.Card.Log), left)] {
			rows = append(rows, layout.Row{}.At(0, t.Faint(l.When)).At(11, l.What).In(inner))
		}
	}
	for i, row := range rows {
		if i > 0 && row != "" {
			rows[i] = " " + row
		}
	}
	return fit(rows, w, h)
}

// cardHead returns the tag, what the vessel is, and its day.
func cardHead(t theme.Theme, r words.Row, w int) []string {
	day, column := "day "+r.Day, 0
	if r.Day == words.Unknown {
		day = ""
	}
	head, about := layout.Row{}.At(0, t.Tag(r.Tag)), r.Card.About
	if w >= roomyStem && len(about) > 0 {
		column = max(9, layout.Width(r.Tag)+2)
		head, about = head.At(column+1, about[0]), about[1:]
	} else if len(about) > 1 {
		about = about[:1]
	}
	rows := []string{head.Until(w+1, day).In(w + 1)}
	for _, more := range about {
		rows = append(rows, layout.Row{}.At(column, more).In(w))
	}
	return append(rows, "")
}

func cardFigures(t theme.Theme, fs []words.Figure, w int) []string {
	point, unit := 15, 20
	if w < roomyStem {
		point, unit = 13, 17
	}
	var rows []string
	for _, f := range fs {
		says := f.Unit
		if w < roomyStem {
			says = f.Short
		}
		rows = append(rows, layout.Row{}.At(0, f.Name).AtPoint(point, f.Number, t.Bold).At(unit, says).In(w))
	}
	return rows
}
