package widget

import "math"

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
