package forecast

import (
	"time"

	"cellar/jugkeeper/ferment/measure"
)

// Miss is how a reading fell against what the readings before it let expect.
type Miss struct {
	At       time.Time
	Expected Point
	Slower   measure.Gravity // above what was expected; under 0 where it fell faster
}

// lookBack is how many readings are looked back at.
const lookBack = 3

// LookingBack is a forecast that also says how its latest readings fell against
// what was forecast, the oldest first. It costs a fit for each of them.
func (f Forecast) LookingBack() Forecast {
	if f.Unknown != "" {
		return f
	}
	for n := max(1, len(f.days)-lookBack); n < len(f.days); n++ {
		v := f.sight
		v.series = series{v.days[:n], v.gravity[:n], v.deviation[:n]}
		at := f.clock.at(f.days[n])
		p := Forecast{sight: v, draws: v.courses()}.At(at)
		f.Recent = append(f.Recent, Miss{at, p, measure.Gravity(f.gravity[n]) - p.Middle})
	}
	return f
}

// worthSaying is how far off a reading is named (an assumption).
const worthSaying = 0.0025

// Off is how far the latest reading fell beside what was forecast, and how many
// in a row did so to the same side. None where it fell as forecast.
func (f Forecast) Off() (slower measure.Gravity, inARow int) {
	for i := len(f.Recent) - 1; i >= 0; i-- {
		off := f.Recent[i].Slower
		if inARow == 0 {
			slower = off
		}
		if off*slower <= 0 || max(off, -off) < worthSaying {
			break
		}
		inARow++
	}
	if inARow == 0 {
		return 0, 0
	}
	return slower, inARow
}
