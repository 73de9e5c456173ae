package forecast

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Point is the gravity expected at one time: in the middle, and the range that
// holds nine times in ten.
type Point struct {
	At                time.Time
	Middle, Low, High measure.Gravity
}

// At is the gravity expected at a time.
func (f Forecast) At(t time.Time) Point {
	day := f.clock.day(t)
	s := f.spread(func(d draw) float64 { return d.gravity(day) })
	return Point{t, measure.Gravity(s.Middle), measure.Gravity(s.Low), measure.Gravity(s.High)}
}

// Band is the gravity expected at a time and on so many days after it. It is
// nil where there is no forecast.
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

// Along is the gravity expected at each reading that the curve was fitted to.
func (f Forecast) Along(rs []course.Reading) []Point {
	var out []Point
	for _, r := range rs {
		if counts(r) && !r.At.Before(f.clock.began) {
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
