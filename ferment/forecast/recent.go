package forecast

import (
	"time"

	"cellar/jugkeeper/ferment/measure"
)

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
