package forecast

import "math"

// residuals fills r with the residuals of a model at x.
type residuals func(x, r []float64)

// minimum is where the sum of squares of the residuals is least.
type minimum struct {
	x       []float64
	squares float64
	slopes  matrix // of the residuals, at x
	stopped bool   // by its own rule, not by the count of steps
}

// search says when to end a search.
type search struct {
	tolerance float64 // of a step, against the size of x
	steps     int
}

// loose is enough for a forecast, whose uncertainty is far larger.
var loose = search{tolerance: 1e-4, steps: 60}

// leastSquares minimises the sum of squares of n residuals, from a start:
// Levenberg's and Marquardt's damped steps, columns scaled by their length, the
// damping after Nielsen (1999), each step solved by Householder reflections.
func (s search) leastSquares(f residuals, n int, start []float64) minimum {
	p := len(start)
	m := minimum{x: append([]float64(nil), start...), slopes: newMatrix(n, p)}
	r, tried, next := make([]float64, n), make([]float64, n), make([]float64, p)
	system, right := newMatrix(n+p, p), make([]float64, n+p)
	f(m.x, r)
	m.squares = dot(r, r)
	differentiate(f, m.x, m.slopes, next, tried)
	damping, grow := 1e-3, 2.0
	for range s.steps {
		scale := m.slopes.lengths()
		step := dampedStep(m.slopes, r, scale, damping, system, right)
		for i := range next {
			next[i] = m.x[i] + step[i]
		}
		if length(step) <= s.tolerance*(length(m.x)+s.tolerance) {
			m.stopped = true
			break
		}
		f(next, tried)
		squares := dot(tried, tried)
		gain := (m.squares - squares) / promised(m.slopes, r, step)
		if !(gain > 0) || math.IsInf(squares, 0) {
			damping, grow = damping*grow, grow*2
			if math.IsInf(damping, 0) {
				break
			}
			continue
		}
		copy(m.x, next)
		copy(r, tried)
		m.squares = squares
		differentiate(f, m.x, m.slopes, next, tried)
		damping, grow = damping*max(1.0/3, 1-math.Pow(2*gain-1, 3)), 2
	}
	return m
}

// differentiate fills the slopes by central differences.
func differentiate(f residuals, x []float64, slopes matrix, shifted, below []float64) {
	for j := range x {
		copy(shifted, x)
		h := math.Cbrt(0x1p-52) * max(math.Abs(x[j]), 1e-3)
		above := slopes.column(j)
		shifted[j] = x[j] + h
		f(shifted, above)
		up := shifted[j]
		shifted[j] = x[j] - h
		f(shifted, below)
		for i := range above {
			above[i] = (above[i] - below[i]) / (up - shifted[j])
		}
	}
}

// dampedStep solves for the step h that makes |J h + r|² + damping |scale h|² least.
func dampedStep(slopes matrix, r, scale []float64, damping float64, system matrix, right []float64) []float64 {
	for j := range scale {
		column := system.column(j)
		clear(column[copy(column, slopes.column(j)):])
		column[slopes.rows+j] = math.Sqrt(damping) * scale[j]
	}
	clear(right)
	for i, v := range r {
		right[i] = -v
	}
	system.reflect(right)
	return system.backSubstitute(right)
}

// promised returns the fall in the sum of squares that the linear model predicts for a step.
func promised(slopes matrix, r, step []float64) float64 {
	var sum float64
	for i := range r {
		var d float64
		for j := range step {
			d += slopes.column(j)[i] * step[j]
		}
		sum -= d * (2*r[i] + d)
	}
	return sum
}

type matrix struct {
	rows, columns int
	values        []float64
}

func newMatrix(rows, columns int) matrix {
	return matrix{rows, columns, make([]float64, rows*columns)}
}

func (m matrix) column(j int) []float64 { return m.values[j*m.rows : (j+1)*m.rows] }

// lengths returns those of the columns; 1 for one that is zero.
func (m matrix) lengths() []float64 {
	out := make([]float64, m.columns)
	for j := range out {
		if out[j] = length(m.column(j)); out[j] == 0 {
			out[j] = 1
		}
	}
	return out
}

// reflect makes the matrix an upper triangle by Householder reflections, and a right side with it.
func (m matrix) reflect(right []float64) {
	for j := range m.columns {
		v := m.column(j)[j:]
		size := length(v)
		if size == 0 {
			continue
		}
		diagonal := -math.Copysign(size, v[0])
		v[0] -= diagonal
		half := dot(v, v) / 2
		for k := j + 1; k < m.columns; k++ {
			mirror(v, half, m.column(k)[j:])
		}
		mirror(v, half, right[j:])
		v[0] = diagonal
	}
}

func mirror(v []float64, half float64, y []float64) {
	t := dot(v, y) / half
	for i := range v {
		y[i] -= t * v[i]
	}
}

func (m matrix) backSubstitute(right []float64) []float64 {
	x := make([]float64, m.columns)
	for i := m.columns - 1; i >= 0; i-- {
		sum := right[i]
		for j := i + 1; j < m.columns; j++ {
			sum -= m.column(j)[i] * x[j]
		}
		if d := m.column(i)[i]; d != 0 {
			x[i] = sum / d
		}
	}
	return x
}

func dot(a, b []float64) float64 {
	var sum float64
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}

func length(v []float64) float64 { return math.Sqrt(dot(v, v)) }
