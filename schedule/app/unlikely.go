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
	asks = append(asks, unlikelyVessel(v, e)...)
	asks = append(asks, unlikelyValues(v, e)...)
	asks = append(asks, unlikelyDose(s, v, after, e)...)
	asks = append(asks, unlikelyAgain(v, e)...)
	r, ok := readingOf(after.Course, e)
	if !ok {
		return asks
	}
	if before, ok := readBefore(v.Course, r.At); ok {
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

// unlikelyChange asks about a rise that nothing explains, and about a fall that
// is steeper than a jug ferments, or three times as steep as this one did. A
// rise says that one of two readings is wrong: marked doubtful, the later one
// counts for nothing; confirmed, the earlier one does.
func unlikelyChange(before, r course.Reading, e ferment.Entry, v Vessel) []Ask {
	change := roundTo(float64(r.Gravity-before.Gravity), 4)
	apart := r.At.Sub(before.At)
	switch {
	case change > unlikelyRise && e.Doubt == ferment.NoWord && !raises(e.Did) && !raisedBetween(v, before.At, r.At):
		says := "gas on the stem? honey at the bottom? the other vessel?"
		if before.From == course.FromMust || before.From == course.FromStart {
			return asked(says)
		}
		typed := densityText(e)
		says += fmt.Sprintf(" Which one is wrong: this one (? after it), or %s of %s (doubt=false)?", before.Gravity.Places(3), before.At.Format("2 Jan 15:04"))
		return []Ask{{Part: typed, Says: says, Named: true, Meant: []Meant{
			{Type: typed + " ?", Says: "this one in doubt"}, {Type: typed + " doubt=false", Says: "the earlier one"}}}}
	case -change > steepestFall(v.Course, apart):
		return asked(fmt.Sprintf("%s points in %s: a slip of the pen? the other vessel?", measure.Decimal(change*1000, 1), hours(apart)))
	}
	return nil
}

// densityText is an entry's density as it was typed.
func densityText(e ferment.Entry) string {
	for _, name := range []string{"gravity", "brix", "plato", "oechsle", "refractometer"} {
		if k, ok := ferment.KeyNamed(name); ok && k.Has(&e) {
			return k.Text(&e)
		}
	}
	return ""
}

// steepestFall is how far a gravity can have fallen without a question. A jug
// that was seen to ferment goes three times as fast at most; a slow start says
// nothing yet, so less than a fast day's fall is not asked about.
func steepestFall(c course.Course, apart time.Duration) float64 {
	days := math.Max(apart.Hours(), 1) / 24
	most := unlikelyFall * days
	if c.Pace.IsKnown() && c.Pace.Value > 0 && wasRead(c) >= 2 {
		most = math.Min(most, math.Max(3*c.Pace.Value/1000*days, math.Max(0.012*days, 0.005)))
	}
	return roundTo(most, 5)
}

// wasRead is how many readings are trusted that somebody took.
func wasRead(c course.Course) (n int) {
	for _, r := range c.Readings {
		if r.From != course.FromMust && r.From != course.FromStart && r.Doubt == "" && !r.Replaced {
			n++
		}
	}
	return n
}

// readBefore is the latest reading up to a time that is not in doubt, one of the
// same minute too.
func readBefore(c course.Course, at time.Time) (course.Reading, bool) {
	return trustedBefore(c, at.Add(time.Nanosecond))
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

// unlikelySiblings compares with the other jugs of the trial: on the first day
// they are alike, for they came from one must; later a reading that is the other
// one's, and far from this one's own, was perhaps taken there.
func unlikelySiblings(s Snapshot, v Vessel, r course.Reading) []Ask {
	if v.Ferment.Trial.Name == "" || !v.Course.Pitch.Known {
		return nil
	}
	first := r.At.Sub(v.Course.Pitch.At) <= 24*time.Hour
	for _, other := range s.Vessels {
		if other.ID() == v.ID() || other.Ferment.Trial.Name != v.Ferment.Trial.Name || !other.Course.Gravity.IsKnown() {
			continue
		}
		there := other.Course.Gravity.Value
		apart := math.Abs(float64(r.Gravity - there.Gravity))
		switch {
		case first && apart >= unlikelySibling:
			return asked(fmt.Sprintf("%s, from the same must, is at %s: the other vessel? not mixed through?",
				other.Label(), there.Gravity.Places(4)))
		case !first && apart <= siblingSame && r.At.Sub(there.At).Abs() < 24*time.Hour && farFromOwn(v.Course, r):
			return asked(fmt.Sprintf("that is what %s is at: the other vessel?", other.Label()))
		}
	}
	return nil
}

// What makes a reading the other jug's (common practice, no source).
const (
	siblingSame = 0.001
	ownFar      = 0.005
)

// farFromOwn tells whether a reading is far from where the pace of its own jug
// would have brought it.
func farFromOwn(c course.Course, r course.Reading) bool {
	before, ok := readBefore(c, r.At)
	if !ok || !c.Pace.IsKnown() {
		return false
	}
	expected := float64(before.Gravity) - c.Pace.Value/1000*r.At.Sub(before.At).Hours()/24
	return math.Abs(float64(r.Gravity)-expected) >= ownFar && math.Abs(float64(r.Gravity-before.Gravity)) > siblingSame
}

func hours(d time.Duration) string {
	if d < 2*time.Hour {
		return fmt.Sprintf("%.0f min", d.Minutes())
	}
	return fmt.Sprintf("%.0f h", d.Hours())
}
