package words

import (
	"time"

	"cellar/jugkeeper/ferment/course"
)

// curvePoints is how many gravities a curve has: two dots in each of at most
// twelve cells.
const curvePoints = 24

// curve is the course of the gravity at equal steps of time from the pitch to
// the last reading, straight between the readings; nil where there are not two.
func curve(c course.Course) []float64 {
	var rs []course.Reading
	for _, r := range c.Readings {
		if r.Doubt == "" && !r.Replaced && !(c.Pitch.Known && r.At.Before(c.Pitch.At)) {
			rs = append(rs, r)
		}
	}
	if len(rs) < 2 || !rs[len(rs)-1].At.After(rs[0].At) {
		return nil
	}
	step := rs[len(rs)-1].At.Sub(rs[0].At) / (curvePoints - 1)
	out := make([]float64, curvePoints)
	for i := range out {
		out[i] = between(rs, rs[0].At.Add(time.Duration(i)*step))
	}
	out[curvePoints-1] = float64(rs[len(rs)-1].Gravity)
	return out
}

// between is the gravity at a time, straight between the readings around it.
func between(rs []course.Reading, t time.Time) float64 {
	for i := 1; i < len(rs); i++ {
		a, b := rs[i-1], rs[i]
		if t.After(b.At) || !b.At.After(a.At) {
			continue
		}
		share := float64(t.Sub(a.At)) / float64(b.At.Sub(a.At))
		return float64(a.Gravity) + share*float64(b.Gravity-a.Gravity)
	}
	return float64(rs[len(rs)-1].Gravity)
}
