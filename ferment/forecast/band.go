package forecast

import (
	"cmp"
	"math"
	"slices"
	"sync"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Point is the gravity expected at a time: the median, and the range that contains it nine times in ten.
type Point struct {
	At                time.Time
	Middle, Low, High measure.Gravity
}

// At returns the gravity expected at a time.
func (f Forecast) At(t time.Time) Point {
	day := f.clock.day(t)
	s := f.spread(func(d draw) float64 { return d.gravity(day) })
	return Point{t, measure.Gravity(s.Middle), measure.Gravity(s.Low), measure.Gravity(s.High)}
}

// Band returns the gravity expected at a time and on the days after it; nil without a forecast.
func (f Forecast) Band(from time.Time, days int) []Point {
	if f.Unknown != "" {
		return nil
	}
	var out []Point
	for n := range days + 1 {
		out = append(out, f.At(from.AddDate(0, 0, n)))
	}
	return out
}

// Along returns the gravity expected at the time of each reading.
func (f Forecast) Along(rs []course.Reading) []Point {
	rs = ferment.Where(rs, func(r course.Reading) bool { return r.Trusted() && !r.At.Before(f.clock.began) })
	return ferment.Map(rs, func(r course.Reading) Point { return f.At(r.At) })
}

type spread struct{ Middle, Low, High float64 }

func (f Forecast) spread(of func(draw) float64) spread { return spreadOf(ferment.Map(f.draws, of)) }

func spreadOf(vs []float64) spread {
	slices.Sort(vs)
	return spread{quantile(vs, 0.5), quantile(vs, 0.05), quantile(vs, 0.95)}
}

// quantile returns a quantile of sorted values, interpolated.
func quantile(sorted []float64, share float64) float64 {
	at := share * float64(len(sorted)-1)
	i := int(at)
	return sorted[i] + (at-float64(i))*(sorted[min(i+1, len(sorted)-1)]-sorted[i])
}

// draw is one possible course: a curve, and how it goes on after the last reading.
type draw struct {
	curve          curve
	origin, finish float64
	last           mark
	from           float64 // day on which the curve is where the last reading is; from there it goes on
	hurry          float64 // pace after the last reading, as a factor on that of the curve
	stops          float64 // share of the fall that is never fermented; 0 for no stop
	read           float64 // error of a reading
	ripe           bool    // it ends at the yeast's tolerance
}

// mark is the last reading, which the course may not exceed later.
type mark struct{ day, gravity float64 }

// What a band allows for besides the fit: an uncertain pace and end, and the error of a reading (assumptions, tuned on
// the series of the tests).
const (
	paceSpread = 0.20
	fewPaces   = 16 // with so many readings the variance of the pace ahead is doubled
	endSpread  = 0.002
	readSpread = 0.001
)

// draws is the number of draws. They use fixed numbers, so that a forecast can be repeated.
const draws = 200

// luck is the random numbers of a draw: for the fit, for the band, whether it stops and where.
type luck struct {
	fit                     [4]float64 // standard normal, like the next four
	hurry, end, state, read float64
	stops, where            float64 // 0 to 1
}

// lucks are quasi-random points that fill ten dimensions evenly, however few are used: the fractional parts of
// multiples of powers of the root of x^11 = x + 1.
var lucks = sync.OnceValue(func() (out [draws]luck) {
	root := 1.0
	for range 60 {
		root = math.Pow(1+root, 1.0/11)
	}
	for i := range out {
		var u, z [10]float64
		for j := range u {
			_, u[j] = math.Modf(0.5 + float64(i+1)*math.Pow(root, -float64(j+1)))
			z[j] = math.Sqrt2 * math.Erfinv(2*u[j]-1)
		}
		out[i] = luck{[4]float64(z[:4]), z[4], z[5], z[6], z[7], u[8], u[9]}
	}
	return out
})

// draw takes courses from the explanations in proportion to their weights.
func (b basis) draw(es []explanation, last mark, readings int) []draw {
	out := make([]draw, draws)
	paces := paceSpread * math.Sqrt(1+fewPaces/float64(readings))
	stopping := suddenly * b.stopping()
	e, upTo := 0, es[0].weight
	for i, l := range lucks() {
		for (float64(i)+0.5)/draws > upTo && e < len(es)-1 {
			e++
			upTo += es[e].weight
		}
		x := es[e].root.up(l.fit[:])
		for j := range x {
			x[j] += es[e].at[j]
		}
		d := draw{
			curve: es[e].form.curve(pace{x[0], x[1], x[2]}), origin: b.origin, finish: x[3] + endSpread*l.end, last: last,
			hurry: math.Exp(paces * l.hurry), read: readSpread * l.read, ripe: es[e].ripe,
		}
		if d.ripe { // whatever the yeast bears, without sugar it ends
			d.finish = max(d.finish, b.dry+b.next.over.at(-1.645))
		}
		d.passThrough(readSpread * l.state)
		if left := d.curve.left(d.from); l.stops < stopping*left {
			d.stops = left * l.where
		}
		out[i] = d
	}
	return out
}

// passThrough moves the curve in time so that it passes through the last reading, which is off by an error. At the
// start the curve keeps its own day: a reading cannot tell how much of the lag is over.
func (d *draw) passThrough(off float64) {
	d.from = d.last.day
	if left := (d.last.gravity + off - d.finish) / (d.origin - d.finish); left < 0.98 {
		d.from = d.curve.reaches(max(left, 0.002))
	}
}

// left returns the share of the fall that this course has still to do on a day.
func (d draw) left(day float64) float64 {
	if ahead := day - d.last.day; ahead > 0 {
		day = d.from + ahead*d.hurry
	}
	return max(d.stops, d.curve.left(day))
}

func (d draw) gravity(day float64) float64 {
	g := d.finish + (d.origin-d.finish)*d.left(day)
	if day > d.last.day {
		g = min(d.last.gravity, g)
	}
	return g + d.read
}

// end returns the final gravity, at most that of the last reading within its error.
func (d draw) end() float64 {
	return min(d.last.gravity+d.read, d.finish+(d.origin-d.finish)*d.stops)
}

// reaches returns the day on which so much of the fall is left; +Inf if it stops before.
func (d draw) reaches(left float64) float64 {
	if left <= d.stops {
		return math.Inf(1)
	}
	day := d.curve.reaches(left)
	if ahead := day - d.from; ahead > 0 {
		return d.last.day + ahead/d.hurry
	}
	return min(day, d.last.day)
}

// falls returns the day on which this course reaches a gravity; infinity for one below its finish.
func (d draw) falls(to float64) float64 {
	if to <= d.finish {
		return math.Inf(1)
	}
	return d.reaches((to - d.finish) / (d.origin - d.finish))
}

// Miss is a reading compared with the forecast from the readings before it.
type Miss struct {
	Expected Point
	Slower   measure.Gravity // above what was expected; negative if it fell faster
}

// LookingBack adds to the forecast its last three readings compared with their forecasts, oldest first. Each costs a
// fit.
func (f Forecast) LookingBack() Forecast {
	if f.Unknown != "" {
		return f
	}
	for n := max(1, len(f.days)-3); n < len(f.days); n++ {
		v := f.sight
		v.series = series{v.days[:n], v.gravity[:n], v.deviation[:n]}
		p := Forecast{sight: v, draws: v.courses()}.At(f.clock.at(f.days[n]))
		f.Recent = append(f.Recent, Miss{p, measure.Gravity(f.gravity[n]) - p.Middle})
	}
	return f
}

// Deviation returns the difference of the latest reading from its forecast, and how many in a row differ to the same side;
// zero if it is within 0.0025 (an assumption).
func (f Forecast) Deviation() (slower measure.Gravity, inARow int) {
	for _, m := range slices.Backward(f.Recent) {
		if m.Slower*slower < 0 || max(m.Slower, -m.Slower) < 0.0025 {
			break
		}
		slower, inARow = cmp.Or(slower, m.Slower), inARow+1
	}
	return slower, inARow
}
