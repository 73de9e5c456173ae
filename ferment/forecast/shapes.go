package forecast

import "math"

// pace are the three numbers of a shape, as logarithms where they must stay positive.
type pace struct {
	rate  float64 // ln k, k the greatest relative rate a day
	lag   float64 // ln kλ, λ the days before it begins
	shape float64 // the shape's own
}

// curve is the share of the fall still to come, from 1 at the start to 0 at the end.
type curve interface {
	left(days float64) float64
	reaches(left float64) (days float64)
}

// richards is Richards' growth in Zwietering's form, the fall so far being
// y = (1 + ν e^(1+ν+k(1+ν)^(1+1/ν)(λ−t)))^(−1/ν): ν = 0 is the modified
// Gompertz, 1 the logistic, towards −1 it is first order after a lag. The
// shape's number is ln(1+ν).
// Source: Zwietering et al. 1990, Appl. Environ. Microbiol. 56(6), table 2.
type richards struct {
	bend, slope, lag float64 // ν, k(1+ν)^(1+1/ν), λ
	first            float64 // what is left at 0, before it is divided by that
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

// decline is a reaction of order p that wakes: ds/dt = −κ a(t) s^p, a rising as
// a logistic around λ with the width 0.35 λ, so that
// s = (1 − (1−p) κA)^(1/(1−p)) with A the integral of a. Under 1 it ends
// abruptly, 1 is exponential, over 1 a slow tail. The shape's number is p.
type decline struct {
	order, rate, lag, width float64
	asleep                  float64 // what the integral would have before 0
}

func newDecline(p pace) curve {
	lag := math.Exp(p.lag - p.rate)
	return decline{order: p.shape, rate: math.Exp(p.rate), lag: lag, width: wakes * lag, asleep: softplus(-1 / wakes)}
}

// wakes is the width of the waking, as a share of the lag.
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
