package forecast

import (
	"fmt"
	"time"
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
		return NotStarted, "it has hardly fallen: read again in a day"
	case long && last > v.above() && fallen <= stallFall+1e-9:
		return PerhapsStalled, fmt.Sprintf("it fell %.3f in %.0f h: read again in two days", max(0, fallen), v.stallSpan().Hours())
	case last > v.above() && fallen <= stallFall+1e-9:
		return CannotTell, "it has hardly fallen since the curve began: read again in a day"
	case stops > mostDoubt:
		return CannotTell, fmt.Sprintf("the chance that it stops above %.3f is %.0f %%: read again in a day", v.finish+wellAbove, 100*stops)
	case v.count < leastRead:
		return OnItsWay, "no date before three readings: read again in a day"
	case last > v.third:
		return OnItsWay, "no date before the one-third break: read again in a day"
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
