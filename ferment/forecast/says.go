package forecast

import (
	"fmt"
	"time"

	"cellar/jugkeeper/ferment/measure"
)

// Verdict is what the readings say in a word.
type Verdict string

// The verdicts, in the order in which they are asked.
const (
	NotStarted     Verdict = "not started"
	PerhapsStalled Verdict = "perhaps stalled"
	CannotTell     Verdict = "cannot tell"
	OnItsWay       Verdict = "on its way"
)

// What may be said (assumptions, tuned on series that end dry and on simulated
// ones that stall).
const (
	startedFall  = 0.003
	startedShare = 0.05 // of the whole fall
	wellAbove    = 0.010
	stallFall    = 0.002
	stallShare   = 0.20 // of the course
	mostDoubt    = 0.25
	leastRead    = 3
	slowing      = 0.8 // of the mean pace
)

const stallTime = 48 * time.Hour

// says is the verdict, and why no date goes with it; no reason where one may.
func (v sight) says(stops float64) (Verdict, string) {
	last := v.last().gravity
	fallen, long := v.rest()
	switch {
	case v.original-last < max(startedFall, startedShare*v.whole()):
		return NotStarted, "it has hardly fallen"
	case long && last > v.above() && fallen <= stallFall+1e-9:
		return PerhapsStalled, fmt.Sprintf("it fell %.3f since %s", max(0, fallen), v.restsSince().Format("2 Jan 15:04"))
	case last > v.above() && fallen <= stallFall+1e-9:
		return CannotTell, "it has hardly fallen since the curve began"
	case stops > mostDoubt:
		return CannotTell, fmt.Sprintf("slowing more than most: a chance of %.0f %% that it stops above %.3f", 100*stops, v.finish+wellAbove)
	case v.count < leastRead:
		return OnItsWay, "too early for a date: three readings are needed"
	case last > v.third:
		return OnItsWay, "too early for a date: not before the one-third break"
	}
	return OnItsWay, ""
}

// stallSpan is how long a ferment must have rested to be perhaps stalled.
func (v sight) stallSpan() time.Duration {
	return max(stallTime, time.Duration(stallShare*v.last().day*24*float64(time.Hour)))
}

// rest is how far the gravity fell over the last such time, and whether the
// readings span it.
func (v sight) rest() (fallen float64, long bool) {
	last, span := v.last(), v.stallSpan().Hours()/24
	for i := len(v.days) - 1; i >= 0; i-- {
		if last.day-v.days[i] >= span {
			return v.gravity[i] - last.gravity, true
		}
	}
	return v.origin - last.gravity, last.day >= span
}

// slows tells whether the last quarter of the course fell slower than the whole
// of it. A stop shows itself by that; a slow but constant pace is none.
func (v sight) slows() bool {
	last := v.last()
	i := len(v.days) - 1
	for i >= 0 && last.day-v.days[i] < last.day/4 {
		i--
	}
	if i < 0 {
		return false
	}
	late := (v.gravity[i] - last.gravity) / (last.day - v.days[i])
	return late < slowing*(v.origin-last.gravity)/last.day
}

// restsSince is the first reading since which it has hardly fallen.
func (v sight) restsSince() time.Time {
	i := len(v.days) - 1
	for i > 0 && v.gravity[i-1]-v.last().gravity <= stallFall+1e-9 {
		i--
	}
	return v.clock.at(v.days[i])
}

// stopsNear is the middle of where it ends if it stops.
func (f Forecast) stopsNear() measure.Gravity {
	var at []float64
	for _, d := range f.draws {
		if d.stops > 0 || d.end() > f.finish+wellAbove && !d.ripe {
			at = append(at, d.end())
		}
	}
	return measure.Gravity(spreadOf(at).Middle)
}

// What a reading should have to show, so that a sample of 100 mL is not drawn for
// nothing (assumptions).
const (
	worthReading = 0.003
	soonestDays  = 1
	latestDays   = 14
)

// readNext is when the next reading is worth its sample, not before now.
func (f Forecast) readNext() time.Time {
	last := f.clock.at(f.last().day)
	days := soonestDays
	switch f.Says {
	case PerhapsStalled:
		days = 2
	case OnItsWay:
		from := f.At(last).Middle
		for days < latestDays && from-f.At(last.AddDate(0, 0, days)).Middle < worthReading {
			days++
		}
	}
	next := last.AddDate(0, 0, days)
	if next.Before(f.now) {
		return f.now
	}
	return next
}
