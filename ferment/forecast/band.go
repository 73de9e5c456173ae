package forecast

import (
	"math"
	"slices"
	"sync"
	"time"

	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Point is the gravity expected at a time: the middle, and the range right nine times in ten.
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

// Along returns the gravity expected at each reading that the curve was fitted to.
func (f Forecast) Along(rs []course.Reading) []Point {
	var out []Point
	for _, r := range rs {
		if r.Trusted() && !r.At.Before(f.clock.began) {
			out = append(out, f.At(r.At))
		}
	}
	return out
}

type spread struct{ Middle, Low, High float64 }

func (f Forecast) spread(of func(draw) float64) spread {
	vs := make([]float64, len(f.draws))
	for i, d := range f.draws {
		vs[i] = of(d)
	}
	return spreadOf(vs)
}

func spreadOf(vs []float64) spread {
	slices.Sort(vs)
	return spread{quantile(vs, 0.5), quantile(vs, 0.05), quantile(vs, 0.95)}
}

// quantile of sorted values, straight between two of them.
func quantile(sorted []float64, share float64) float64 {
	at := share * float64(len(sorted)-1)
	i := int(at)
	if i+1 >= len(sorted) {
		return sorted[i]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

// draw is one possible course: a curve, and how it goes on after the last reading.
type draw struct {
	curve          curve
	origin, finish float64
	last           mark
	hurry          float64 // the pace after the last reading, against that of the curve
	stops          float64 // the share of the fall that stays; 0 where it goes on
	bent           float64 // its greatest distance from its shape
	drift          float64 // of the end, by the end of all days
	read           float64 // the error of a reading
	ripe           bool    // it ends at the yeast's tolerance
}

// mark is the last reading: gravity only falls from there.
type mark struct{ day, gravity float64 }

// What a band adds to the fit: neither the pace to come nor the end is certain, and
// a reading has an error (assumptions, tuned on the series of the tests).
const (
	paceSpread = 0.30
	fewPaces   = 3 // readings of which the pace ahead is as unsure again
	endDrift   = 0.002
	readSpread = 0.001
)

// draws is how many there are, always of the same numbers, so that a forecast repeats.
const draws = 200

// luck is the random numbers of a draw: the fit, the band, whether it stops and where.
type luck struct {
	fit                      [4]float64 // standard normal, as the next four
	hurry, bent, drift, read float64
	stops, where             float64 // 0 to 1
}

// lucks fill their ten dimensions evenly, however few are used: the fractions of
// multiples of the powers of the root of x^11 = x + 1.
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

// draw takes courses from the explanations, each as often as its weight says.
func (b basis) draw(es []explanation, last mark, readings int) []draw {
	out := make([]draw, draws)
	paces := paceSpread * math.Sqrt(1+fewPaces/float64(readings))
	// The chance that a ferment with all of its fall to come stops on the way (an
	// assumption, no source).
	stopping := 0.04
	if b.wild {
		stopping = 0.08
	}
	e, upTo := 0, es[0].weight
	for i, l := range lucks() {
		for (float64(i)+0.5)/draws > upTo && e < len(es)-1 {
			e++
			upTo += es[e].weight
		}
		x := es[e].root.backSubstitute(l.fit[:])
		for j := range x {
			x[j] += es[e].at[j]
		}
		d := draw{
			curve: es[e].form.curve(pace{x[0], x[1], x[2]}), origin: b.origin, finish: x[3], last: last,
			hurry: math.Exp(paces * l.hurry), bent: misfit * b.fall() * l.bent, drift: endDrift * l.drift, read: readSpread * l.read,
			ripe: es[e].ripe,
		}
		if left := d.curve.left(last.day); l.stops < stopping*left {
			d.stops = left * l.where
		}
		out[i] = d
	}
	return out
}

// left returns the share of the fall still to come on a day.
func (d draw) left(day float64) float64 {
	if ahead := day - d.last.day; ahead > 0 {
		day = d.last.day + ahead*d.hurry
	}
	return max(d.stops, d.curve.left(day))
}

// gravity returns what would be read on a day.
func (d draw) gravity(day float64) float64 {
	s := d.left(day)
	g := d.finish + (d.origin-d.finish)*s + d.bent*2*math.Sqrt(max(0, s*(1-s)))
	if ahead := day - d.last.day; ahead > 0 {
		g = min(d.last.gravity, g+d.drift*ahead/day)
	}
	return g + d.read
}

// end returns the final gravity: no higher than the last reading, give or take its error.
func (d draw) end() float64 {
	return min(d.last.gravity+d.read, d.finish+(d.origin-d.finish)*d.stops+d.drift)
}

// reaches returns the day on which a share of the fall is left; never, where it stops before.
func (d draw) reaches(left float64) float64 {
	if left <= d.stops {
		return math.Inf(1)
	}
	day := d.curve.reaches(left)
	if ahead := day - d.last.day; ahead > 0 {
		day = d.last.day + ahead/d.hurry
	}
	return day
}

// falls returns the day on which it comes down to a gravity.
func (d draw) falls(to float64) float64 {
	if to <= d.finish {
		return math.Inf(1)
	}
	return d.reaches((to - d.finish) / (d.origin - d.finish))
}

// Miss is a reading compared with the forecast of the readings before it.
type Miss struct {
	At       time.Time
	Expected Point
	Slower   measure.Gravity // above what was expected; under 0 where it fell faster
}

// LookingBack returns a forecast with its last three readings compared with what was
// forecast, the oldest first. It costs a fit for each of them.
func (f Forecast) LookingBack() Forecast {
	if f.Unknown != "" {
		return f
	}
	for n := max(1, len(f.days)-3); n < len(f.days); n++ {
		v := f.sight
		v.series = series{v.days[:n], v.gravity[:n], v.deviation[:n]}
		at := f.clock.at(f.days[n])
		p := Forecast{sight: v, draws: v.courses()}.At(at)
		f.Recent = append(f.Recent, Miss{at, p, measure.Gravity(f.gravity[n]) - p.Middle})
	}
	return f
}

// Off returns how far the latest reading is from its forecast, and how many in a row are
// so on the same side; zero where it is within 0.0025 (an assumption).
func (f Forecast) Off() (slower measure.Gravity, inARow int) {
	for i := len(f.Recent) - 1; i >= 0; i-- {
		off := f.Recent[i].Slower
		if inARow == 0 {
			slower = off
		}
		if off*slower <= 0 || max(off, -off) < 0.0025 {
			break
		}
		inARow++
	}
	if inARow == 0 {
		return 0, 0
	}
	return slower, inARow
}
