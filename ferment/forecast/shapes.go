package forecast

import (
	"math"
	"slices"
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
	reaches(left float64) (days float64) // the inverse of left
}

// richards is Richards' growth curve in Zwietering's form, with the fall so far y = (1 + ν
// e^(1+ν+k(1+ν)^(1+1/ν)(λ−t)))^(−1/ν): ν = 0 is the modified Gompertz, 1 the logistic, near −1 it is first order after
// a lag. The number of the shape is ln(1+ν). Source: Zwietering et al. 1990, Appl. Environ. Microbiol. 56(6), table 2.
type richards struct {
	bend, slope, lag float64 // ν, k(1+ν)^(1+1/ν), λ
	first            float64 // raw at 0, by which raw is divided
}

// newRichards returns the curve of three numbers.
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

// raw returns the share still to come, before it is scaled to 1 at the start.
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

// newDecline returns the curve of three numbers.
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
	slopes  [][]float64 // of the residuals by each number, at x
	stopped bool        // by the tolerance, not by the number of steps
}

// leastSquares minimises the sum of squares of n residuals by the method of Levenberg and Marquardt, until a step is
// within the tolerance, relative to x, in so many steps at most: each step h solves
// (JᵀJ + damping diag JᵀJ) h = −Jᵀr by Cholesky's root; damping is after Nielsen (1999).
func leastSquares(f residuals, n int, start []float64, tolerance float64, steps int) minimum {
	m := minimum{x: slices.Clone(start), slopes: make([][]float64, len(start))}
	for j := range m.slopes {
		m.slopes[j] = make([]float64, n)
	}
	r, tried, next, down := make([]float64, n), make([]float64, n), slices.Clone(start), slices.Clone(start)
	f(m.x, r)
	m.squares = dot(r, r)
	m.differentiate(f, next, tried)
	damping, grow := 1e-3, 2.0
	for range steps {
		for j, slope := range m.slopes {
			down[j] = -dot(slope, r)
		}
		h, promised := m.root(damping).solve(down), 0.0 // by how much the linear model predicts the squares to fall
		for j, slope := range m.slopes {
			promised += h[j] * (down[j] + damping*dot(slope, slope)*h[j])
			next[j] = m.x[j] + h[j]
		}
		if norm(h) <= tolerance*(norm(m.x)+tolerance) {
			m.stopped = true
			break
		}
		f(next, tried)
		squares := dot(tried, tried)
		gain := (m.squares - squares) / promised // 1 where the linear model was right, below 0 where the step made it worse
		if !(gain > 0) || math.IsInf(squares, 0) {
			damping, grow = damping*grow, grow*2 // a shorter step from the same place
			if math.IsInf(damping, 0) {
				break
			}
			continue
		}
		copy(m.x, next)
		copy(r, tried)
		m.squares = squares
		m.differentiate(f, next, tried)
		damping, grow = damping*max(1.0/3, 1-math.Pow(2*gain-1, 3)), 2
	}
	return m
}

// differentiate calculates the slopes by central differences.
func (m minimum) differentiate(f residuals, shifted, below []float64) {
	for j, above := range m.slopes {
		copy(shifted, m.x)
		h := math.Cbrt(0x1p-52) * max(math.Abs(m.x[j]), 1e-3)
		shifted[j] = m.x[j] + h
		f(shifted, above)
		up := shifted[j]
		shifted[j] = m.x[j] - h
		f(shifted, below)
		for i := range above {
			above[i] = (above[i] - below[i]) / (up - shifted[j])
		}
	}
}

// triangle is a lower one, row by row.
type triangle [][]float64

// root returns Cholesky's root of JᵀJ, its diagonal raised by the damping.
func (m minimum) root(damping float64) triangle {
	l := make(triangle, len(m.slopes))
	for i, a := range m.slopes {
		l[i] = make([]float64, i+1)
		for j, b := range m.slopes[:i] {
			l[i][j] = (dot(a, b) - dot(l[i][:j], l[j])) / l[j][j]
		}
		l[i][i] = math.Sqrt(max(dot(a, a)*(1+damping)-dot(l[i][:i], l[i]), 1e-30))
	}
	return l
}

// solve solves L Lᵀ x = b.
func (l triangle) solve(b []float64) []float64 {
	y := make([]float64, len(l))
	for i, row := range l {
		y[i] = (b[i] - dot(row[:i], y)) / row[i]
	}
	return l.up(y)
}

// up solves Lᵀ x = y.
func (l triangle) up(y []float64) []float64 {
	x := slices.Clone(y[:len(l)])
	for i, row := range slices.Backward(l) {
		x[i] /= row[i]
		for j, v := range row[:i] {
			x[j] -= v * x[i]
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

func norm(v []float64) float64 { return math.Sqrt(dot(v, v)) }
