package forecast

import (
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Reaches is when the gravity is expected to come down to g, with half the
// width of the window that holds nine times in ten. It is not ok where no date
// may be given.
func (f Forecast) Reaches(g measure.Gravity) (course.Expected, bool) {
	if f.Unknown != "" || f.Why != "" {
		return course.Expected{}, false
	}
	w := f.ahead(func(d draw) float64 { return d.falls(float64(g)) })
	return course.Expected{At: w.At, Within: w.Late.Sub(w.Early) / 2}, !w.At.IsZero()
}
