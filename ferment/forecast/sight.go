package forecast

import (
	"math"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

// sight is what a forecast looks at: the readings since the curve began, and
// what is known beside them.
type sight struct {
	basis
	series
	clock clock
	now   time.Time
	third float64 // the one-third break
	count int     // readings since the curve began, with the must's
}

// most is how many readings are fitted; of more, as many are taken evenly.
const most = 60

// view gathers what a forecast looks at, or says why there is none.
func view(c course.Course) (sight, string) {
	if why := none(c); why != "" {
		return sight{}, why
	}
	begin, ok := c.FallsFrom()
	if !ok {
		return sight{}, "no forecast yet: read gravity in a day"
	}
	v := sight{clock: clockOf(c, begin.At), now: c.Now, third: float64(c.Break(1.0 / 3).Value)}
	v.basis = basis{
		original: float64(c.Effective.Value), origin: float64(begin.Gravity), dry: float64(c.DryFinish.Value),
		temperature: v.clock.mean, wild: c.Ferment.Yeast.IsWild(), fed: wasFed(c),
		untold: !c.Ferment.Yeast.Tolerance.Known(), measured: isMeasured(c),
	}
	v.finish, v.byYeast = expected(c)
	if v.fall() < startedFall {
		return sight{}, "no forecast: the fall is over"
	}
	v.look(c)
	if len(v.days) == 0 {
		return sight{}, "no forecast yet: read gravity in a day"
	}
	return v, ""
}

// none is why a course has no forecast, before its readings are looked at.
func none(c course.Course) string {
	_, stabilised := c.FirstMet(ferment.Condition{Kind: ferment.Stabilised})
	switch {
	case c.Culture != nil:
		return "no forecast for a culture"
	case c.Over() || c.Stage == course.Bottled:
		return "no forecast: it is over"
	case stabilised:
		return "no forecast: it is stabilised and stays where it is"
	case !c.DryFinish.IsKnown():
		return c.DryFinish.Unknown
	case !c.Pitch.Known:
		return "no forecast yet: it is not pitched"
	}
	return ""
}

// expected is where it ends if nothing stops it: dry, or at the yeast's
// tolerance, or where a forced test showed; of one that has gone past that, a
// little further.
func expected(c course.Course) (finish float64, byYeast bool) {
	dry, end := c.DryFinish.Value, c.DryFinish.Value
	if c.Finish.IsKnown() {
		end = c.Finish.Value
	}
	if isMeasured(c) {
		return float64(end), false
	}
	if c.Gravity.IsKnown() && c.Gravity.Value.Gravity < end-nearEnd {
		end = max(dry, c.Gravity.Value.Gravity-pastLabel)
	}
	if end <= dry {
		return float64(dry), false
	}
	return float64(end), true
}

// pastLabel is how much further a yeast is taken to go that has outlived its
// label (an assumption, no source).
const pastLabel = 0.008

// wasFed tells whether nutrient was added.
func wasFed(c course.Course) bool {
	for _, e := range c.Entries {
		if e.Did == ferment.Nutrient {
			return true
		}
	}
	return false
}

// look takes the readings that count since the curve began.
func (v *sight) look(c course.Course) {
	v.count = 1
	var rs []course.Reading
	for _, r := range c.Readings {
		if !counts(r) || !r.At.After(v.clock.began) {
			continue
		}
		rs = append(rs, r)
		if r.From != course.FromStart {
			v.count++
		}
	}
	shape := misfit * v.fall() * math.Sqrt(1+unsure/float64(len(rs)))
	for _, r := range thinned(rs) {
		v.days = append(v.days, v.clock.day(r.At))
		v.gravity = append(v.gravity, float64(r.Gravity))
		v.deviation = append(v.deviation, math.Hypot(r.Error, shape))
	}
}

// counts tells whether a reading is fitted.
func counts(r course.Reading) bool { return r.Doubt == "" && !r.Replaced }

// thinned are at most so many of the readings, evenly taken, the last one among
// them.
func thinned(rs []course.Reading) []course.Reading {
	if len(rs) <= most {
		return rs
	}
	out := make([]course.Reading, most)
	for i := range out {
		out[i] = rs[(i+1)*len(rs)/most-1]
	}
	return out
}

func (v sight) last() mark {
	n := len(v.days) - 1
	return mark{v.days[n], v.gravity[n]}
}

// isMeasured tells whether its end was shown by a forced test, or taken as it is.
func isMeasured(c course.Course) bool { return c.Test.Passed || !c.Accepted.IsZero() }
