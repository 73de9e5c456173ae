package desk

import (
	"fmt"
	"math"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// What makes an entry unlikely (common practice, no source): gravity rises by
// more than a hydrometer errs, falls faster than a jug ferments, or two jugs of
// one must differ on the first day.
const (
	unlikelyRise    = 0.003
	unlikelyFall    = 0.030 // a day
	unlikelySibling = 0.010
)

// Unlikely is why an entry should be asked about before it is kept; nothing
// where it is as expected. The snapshot is the one that the vessel stands in.
func Unlikely(s Snapshot, v Vessel, e ferment.Entry) []string {
	e.At = orNow(e.At, s.At)
	asks := unlikelyTime(v, e, s.At)
	after := withEntry(s, v, e)
	r, ok := readingOf(after.Course, e)
	if !ok {
		return asks
	}
	if before, ok := trustedBefore(v.Course, r.At); ok {
		asks = append(asks, unlikelyChange(before, r, e, v)...)
	}
	return append(asks, unlikelySiblings(s, v, r)...)
}

func unlikelyTime(v Vessel, e ferment.Entry, now time.Time) []string {
	switch {
	case e.At.Earliest().After(now):
		return []string{"it lies in the future: another day? the clock?"}
	case v.Course.Pitch.Known && !v.Course.Pitch.Assumed && e.Did != ferment.Mix && e.At.Latest().Before(v.Course.Pitch.At):
		return []string{"it lies before the pitch, " + v.Course.Pitch.At.Format("2 Jan 15:04") + ": another day? another vessel?"}
	}
	return nil
}

func unlikelyChange(before, r course.Reading, e ferment.Entry, v Vessel) []string {
	change := float64(r.Gravity - before.Gravity)
	days := r.At.Sub(before.At).Hours() / 24
	switch {
	case change > unlikelyRise && e.Doubt == ferment.NoWord && !raisedBetween(v, before.At, r.At):
		return []string{"gas on the stem? honey at the bottom? the other vessel?"}
	case -change > unlikelyFall*math.Max(days, 1.0/24) && !r.At.Before(before.At):
		return []string{fmt.Sprintf("%s points in %s: a slip of the pen? the other vessel?", measure.Decimal(change*1000, 1), hours(r.At.Sub(before.At)))}
	case change == 0 && math.Abs(r.At.Sub(before.At).Minutes()) < 1:
		return []string{"the same reading stands there already, less than a minute ago: typed twice?"}
	}
	return nil
}

// raisedBetween tells whether honey or fruit went in between two readings, so
// that a rise is no wonder.
func raisedBetween(v Vessel, from, to time.Time) bool {
	for _, e := range v.Course.Entries {
		at := e.At.Time
		switch e.Did {
		case ferment.Honey, ferment.FruitIn, ferment.Blend, ferment.TopUp:
			if !at.Before(from) && !at.After(to) {
				return true
			}
		}
	}
	return false
}

// unlikelySiblings compares with the other jugs of the trial on the first day:
// they came from one must.
func unlikelySiblings(s Snapshot, v Vessel, r course.Reading) []string {
	if v.Ferment.Trial.Name == "" || !v.Course.Pitch.Known || r.At.Sub(v.Course.Pitch.At) > 24*time.Hour {
		return nil
	}
	for _, other := range s.Vessels {
		if other.ID() == v.ID() || other.Ferment.Trial.Name != v.Ferment.Trial.Name || !other.Course.Gravity.IsKnown() {
			continue
		}
		if d := float64(r.Gravity - other.Course.Gravity.Value.Gravity); math.Abs(d) >= unlikelySibling {
			return []string{fmt.Sprintf("%s, from the same must, stands at %s: the other vessel? not mixed through?",
				other.Label(), other.Course.Gravity.Value.Gravity.Places(4))}
		}
	}
	return nil
}

func hours(d time.Duration) string {
	if d < 2*time.Hour {
		return fmt.Sprintf("%.0f min", d.Minutes())
	}
	return fmt.Sprintf("%.0f h", d.Hours())
}
