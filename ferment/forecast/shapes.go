package forecast

import (
	"math"
)

// pace has the three numbers of a shape, as logarithms where they must stay positive.
type pace struct {
	rate  float64 // ln k, k the greatest relative rate a day
	lag   float64 // ln kλ, λ the lag in days
	shape float64 // depends on the shape
}

// curve is the share of the fall still to come, from 1 at the start to 0 at the end.
type curve interface {
	left(days float64) float64
	reaches(left float64) (days float64)
}

// richards is Richards' growth curve in Zwietering's form, with the fall so far y = (1 + ν
// e^(1+ν+k(1+ν)^(1+1/ν)(λ−t)))^(−1/ν): ν = 0 is the modified Gompertz, 1 the logistic, near −1 it is first order after
// a lag. The number of the shape is ln(1+ν). Source: Zwietering et al. 1990, Appl. Environ. Microbiol. 56(6), table 2.
type richards struct {
	bend, slope, lag float64 // ν, k(1+ν)^(1+1/ν), λ
	first            float64 // raw at 0, by which raw is divided
}

func newRichards(p pace) curve {
	nu := math.Expm1(p.shape)
	c := richards{bend: nu, lag: math.Exp(p.lag - p.rate), first: 1}
	c.slope = math.Exp(p.rate + p.shape + logOver(nu, 1))
	c.first = c.raw(0)
	return c
}

// logOver returns ln(1+νx)/ν, which is x at ν = 0.
func logOver(nu, x float64) float64 {
	if math.Abs(nu*x) < 1e-8 {
		return x * (1 - nu*x/2)
	}
	return math.Log1p(nu*x) / nu
}

func (c richards) raw(days float64) float64 {
	x := math.Exp(1 + c.bend + c.slope*(c.lag-days))
	if c.bend*x <= -1 || math.IsInf(x, 1) {
		return 1
	}
	return -math.Expm1(-logOver(c.bend, x))
}

func (c richards) left(days float64) float64 { return c.raw(days) / c.first }

func (c richards) reaches(left float64) float64 {
	behind := math.Log1p(-left * c.first)
	x := -behind
	if math.Abs(c.bend*behind) > 1e-8 {
		x = math.Expm1(-c.bend*behind) / c.bend
	}
	return c.lag - (math.Log(x)-1-c.bend)/c.slope
}

// decline is a reaction of order p that starts slowly: ds/dt = −κ a(t) s^p, with a rising as a logistic around λ with
// the width 0.35 λ, so that s = (1 − (1−p) κA)^(1/(1−p)) with A the integral of a. An order below 1 ends abruptly, 1 is
// exponential, above 1 it has a slow tail. The number of the shape is p.
type decline struct {
	order, rate, lag, width float64
	asleep                  float64 // the integral before 0
}

func newDecline(p pace) curve {
	lag := math.Exp(p.lag - p.rate)
	return decline{order: p.shape, rate: math.Exp(p.rate), lag: lag, width: wakes * lag, asleep: softplus(-1 / wakes)}
}

// wakes is the width of the start, as a share of the lag.
const wakes = 0.35

func (c decline) left(days float64) float64 {
	spent := c.rate * c.width * (softplus((days-c.lag)/c.width) - c.asleep)
	q := 1 - c.order
	if q*spent >= 1 {
		return 0
	}
	return math.Exp(-logOver(-q, spent))
}

func (c decline) reaches(left float64) float64 {
	q, ln := 1-c.order, math.Log(left)
	spent := -ln
	if math.Abs(q*ln) > 1e-8 {
		spent = -math.Expm1(q*ln) / q
	}
	awake := spent/(c.rate*c.width) + c.asleep
	if awake > 30 {
		return c.lag + c.width*awake
	}
	return c.lag + c.width*math.Log(math.Expm1(awake))
}

// softplus returns ln(1 + e^x).
func softplus(x float64) float64 {
	if x > 30 {
		return x
	}
	return math.Log1p(math.Exp(x))
}

type residuals func(x, r []float64)

// minimum is the x at which the sum of squares of the residuals is least.
type minimum struct {
	x       []float64
	squares float64
	slopes  matrix // of the residuals, at x
	stopped bool   // by the tolerance, not by the number of steps
}

type search struct {
	tolerance float64 // of a step, relative to x
	steps     int
}

// loose is precise enough for a forecast, whose uncertainty is far larger.
var loose = search{tolerance: 1e-4, steps: 60}

// leastSquares minimises the sum of squares of n residuals by the method of Levenberg and Marquardt: columns are scaled
// by their length, damping is after Nielsen (1999), and each step is solved with Householder reflections.
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

// differentiate calculates the slopes by central differences.
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

// dampedStep returns the step h that minimises |J h + r|² + damping |scale h|².
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

// promised returns by how much the linear model predicts the sum of squares to fall.
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

// lengths returns the length of each column, 1 for a zero one.
func (m matrix) lengths() []float64 {
	out := make([]float64, m.columns)
	for j := range out {
		if out[j] = length(m.column(j)); out[j] == 0 {
			out[j] = 1
		}
	}
	return out
}

// reflect turns the matrix into an upper triangle by Householder reflections, and applies them to the right side.
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
