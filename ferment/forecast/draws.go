package forecast

import (
	"math"
	"math/rand/v2"
	"sync"
)

// draw is one course that may come: a curve, and how it goes on after the last
// reading.
type draw struct {
	curve          curve
	origin, finish float64
	last           float64 // days at the last reading
	hurry          float64 // the pace after it, against that of the curve
	stops          float64 // the share of the fall that stays; 0 where it goes on
	off, drift     float64 // deviations: off the shape, and of the end
	whole          float64 // the fall that is expected
}

// What a band adds to the fit: the pace to come is not certain, nor is the end
// (assumptions, tuned with the bands).
const (
	paceSpread = 0.30
	endDrift   = 0.002
)

// draws are always as many, from the same numbers, so that a forecast is the
// same whenever it is made.
const draws = 200

// chances are the numbers behind the draws.
var chances = sync.OnceValue(func() (c [draws]struct {
	normal     [7]float64
	stop, rest float64
}) {
	source := rand.New(rand.NewPCG(7, 11))
	for i := range c {
		for j := range c[i].normal {
			c[i].normal[j] = source.NormFloat64()
		}
		c[i].stop, c[i].rest = source.Float64(), source.Float64()
	}
	return c
})

// draw takes courses out of the explanations, each as often as it weighs.
func (b basis) draw(es []explanation, last float64) []draw {
	out := make([]draw, draws)
	luck := chances()
	e, upTo := 0, es[0].weight
	for i := range out {
		for (float64(i)+0.5)/draws > upTo && e < len(es)-1 {
			e++
			upTo += es[e].weight
		}
		x := es[e].root.backSubstitute(luck[i].normal[:4])
		for j := range x {
			x[j] += es[e].at[j]
		}
		d := draw{
			curve: es[e].form.curve(pace{x[0], x[1], x[2]}), origin: b.origin, finish: x[3], last: last, whole: b.fall(),
			hurry: math.Exp(paceSpread * luck[i].normal[4]), off: luck[i].normal[5], drift: luck[i].normal[6],
		}
		if left := d.curve.left(last); luck[i].stop < b.suddenStop()*left {
			d.stops = left * luck[i].rest
		}
		out[i] = d
	}
	return out
}

// left is the share of the fall still to come on a day.
func (d draw) left(day float64) float64 {
	if day > d.last {
		day = d.last + (day-d.last)*d.hurry
	}
	return max(d.stops, d.curve.left(day))
}

// gravity on a day.
func (d draw) gravity(day float64) float64 {
	s := d.left(day)
	g := d.finish + (d.origin-d.finish)*s + d.off*misfit*d.whole*2*math.Sqrt(max(0, s*(1-s)))
	if ahead := day - d.last; ahead > 0 {
		g += d.drift * endDrift * ahead / (ahead + d.last)
	}
	return g
}

// end is where it ends.
func (d draw) end() float64 {
	return d.finish + (d.origin-d.finish)*d.stops + d.drift*endDrift
}

// reaches is the day on which only a share of the fall is left; never, where it
// stops before.
func (d draw) reaches(left float64) float64 {
	if left <= d.stops {
		return math.Inf(1)
	}
	day := d.curve.reaches(left)
	if day > d.last {
		day = d.last + (day-d.last)/d.hurry
	}
	return day
}

// falls is the day on which it comes down to a gravity.
func (d draw) falls(to float64) float64 {
	if to <= d.finish {
		return math.Inf(1)
	}
	return d.reaches((to - d.finish) / (d.origin - d.finish))
}
