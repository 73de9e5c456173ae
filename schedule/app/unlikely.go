package app

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

// Unlikely are the questions to ask about an entry before it is kept; none where
// it is as expected. The vessel is one of the snapshot.
func Unlikely(s Snapshot, v Vessel, e ferment.Entry) []Ask {
	e.At = orNow(e.At, s.At)
	return unlikely(s, v, withEntry(s, v, e), e)
}

// unlikely is Unlikely, with the vessel as it will be.
func unlikely(s Snapshot, v, after Vessel, e ferment.Entry) []Ask {
	asks := unlikelyTime(v, e, s.At)
	asks = append(asks, unlikelyValues(v, e)...)
	asks = append(asks, unlikelyDose(s, v, after, e)...)
	asks = append(asks, unlikelyAgain(v, e)...)
	r, ok := readingOf(after.Course, e)
	if !ok {
		return asks
	}
	if before, ok := trustedBefore(v.Course, r.At); ok {
		asks = append(asks, unlikelyChange(before, r, e, v)...)
	}
	if stands(v.Course, r) {
		asks = append(asks, asked("the same reading is written down already, less than a minute away: typed twice?")...)
	}
	return append(asks, unlikelySiblings(s, v, r)...)
}

func unlikelyTime(v Vessel, e ferment.Entry, now time.Time) []Ask {
	switch {
	case e.At.Earliest().After(now):
		return asked("it lies in the future: another day? the clock?")
	case v.Course.Pitch.Known && !v.Course.Pitch.Assumed && e.Did != ferment.Mix && e.At.Latest().Before(v.Course.Pitch.At):
		return asked("it lies before the pitch, " + v.Course.Pitch.At.Format("2 Jan 15:04") + ": another day? another vessel?")
	}
	return nil
}

func unlikelyChange(before, r course.Reading, e ferment.Entry, v Vessel) []Ask {
	change := roundTo(float64(r.Gravity-before.Gravity), 4)
	apart := r.At.Sub(before.At)
	switch {
	case change > unlikelyRise && e.Doubt == ferment.NoWord && !raises(e.Did) && !raisedBetween(v, before.At, r.At):
		return asked("gas on the stem? honey at the bottom? the other vessel?")
	case -change > roundTo(unlikelyFall*math.Max(apart.Hours(), 1)/24, 5):
		return asked(fmt.Sprintf("%s points in %s: a slip of the pen? the other vessel?", measure.Decimal(change*1000, 1), hours(apart)))
	}
	return nil
}

// stands tells whether the log has the same reading within a minute.
func stands(c course.Course, r course.Reading) bool {
	for _, other := range c.Readings {
		written := other.From != course.FromMust && other.From != course.FromStart
		if written && other.Gravity == r.Gravity && other.At.Sub(r.At).Abs() < time.Minute {
			return true
		}
	}
	return false
}

// raisedBetween tells whether honey or fruit went in between two readings, so
// that a rise is no wonder.
func raisedBetween(v Vessel, from, to time.Time) bool {
	for _, e := range v.Course.Entries {
		if at := e.At.Time; raises(e.Did) && !at.Before(from) && !at.After(to) {
			return true
		}
	}
	return false
}

// raises tells whether an act puts something in that can raise the gravity.
func raises(a ferment.Act) bool {
	switch a {
	case ferment.Honey, ferment.FruitIn, ferment.Blend, ferment.TopUp, ferment.Passage, ferment.Prove:
		return true
	}
	return false
}

// unlikelySiblings compares with the other jugs of the trial on the first day:
// they came from one must.
func unlikelySiblings(s Snapshot, v Vessel, r course.Reading) []Ask {
	if v.Ferment.Trial.Name == "" || !v.Course.Pitch.Known || r.At.Sub(v.Course.Pitch.At) > 24*time.Hour {
		return nil
	}
	for _, other := range s.Vessels {
		if other.ID() == v.ID() || other.Ferment.Trial.Name != v.Ferment.Trial.Name || !other.Course.Gravity.IsKnown() {
			continue
		}
		if d := float64(r.Gravity - other.Course.Gravity.Value.Gravity); math.Abs(d) >= unlikelySibling {
			return asked(fmt.Sprintf("%s, from the same must, is at %s: the other vessel? not mixed through?",
				other.Label(), other.Course.Gravity.Value.Gravity.Places(4)))
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
