package forecast

import (
	"math"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
)

// sight is the input of a forecast: readings since the curve began, and what else is known.
type sight struct {
	basis
	series
	clock clock
	now   time.Time
	third float64 // the one-third break
	count int     // readings since the curve began, including that of the must
}

// view collects the input of a forecast, or returns the reason for none.
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
		temperature: v.clock.mean, wild: c.Ferment.Yeast.IsWild(),
		fed:    slices.ContainsFunc(c.Entries, func(e *ferment.Entry) bool { return e.Did == ferment.Nutrient }),
		untold: !c.Ferment.Yeast.Tolerance.Known(), measured: isMeasured(c), margin: float64(c.Limits.ForecastAbove),
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

// none returns why a course has no forecast, without looking at its readings.
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

// expected returns the gravity at which it ends if it does not stop: dry, or at the yeast's tolerance, or as a forced
// test showed. A yeast that has passed its tolerance is expected to go on by 0.008 (an assumption, no source).
func expected(c course.Course) (finish float64, byYeast bool) {
	dry, end := c.DryFinish.Value, c.DryFinish.Value
	if c.Finish.IsKnown() {
		end = c.Finish.Value
	}
	if isMeasured(c) {
		return float64(end), false
	}
	if c.Gravity.IsKnown() && c.Gravity.Value.Gravity < end-nearEnd {
		end = max(dry, c.Gravity.Value.Gravity-0.008)
	}
	if end <= dry {
		return float64(dry), false
	}
	return float64(end), true
}

func (v *sight) look(c course.Course) {
	v.count = 1
	var rs []course.Reading
	for _, r := range c.Readings {
		if !r.Trusted() || !r.At.After(v.clock.began) {
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

// thinned returns at most 60 of the readings, evenly chosen, including the last.
func thinned(rs []course.Reading) []course.Reading {
	const most = 60
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

// isMeasured reports whether the end is known by a forced test, or was accepted.
func isMeasured(c course.Course) bool { return c.Test.Passed || !c.Accepted.IsZero() }
