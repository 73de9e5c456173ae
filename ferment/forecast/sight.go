package forecast

import (
	"math"
	"slices"
	"sort"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/alcohol"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// sight is the input of a forecast: readings since the curve began, and what else is known.
type sight struct {
	basis
	series
	clock clock
	now   time.Time
	third float64 // the one-third break
	count int     // readings since the curve began, with that at its start, which is none after an addition
}

// view collects the input of a forecast, or returns the reason for none.
func view(c *course.Course, next Next) (sight, string) {
	if why := whyNone(c); why != "" {
		return sight{}, why
	}
	begin, ok := c.FallsFrom()
	if !ok {
		return sight{}, "no forecast yet: read gravity in a day"
	}
	v := sight{basis: basisOf(c, begin, next), clock: clockOf(c, begin.At), now: c.Now, third: float64(c.Break(1.0 / 3).Value)}
	if c.Test.Done && c.Test.Fell >= 0 { // strong yeast ended there
		v.dry, v.next.over = float64(c.Test.Result.Gravity), normal{0, testSpread}
	}
	v.finish, v.byYeast = v.expected(c)
	if v.fall() < startedFall {
		return sight{}, "no forecast: the fall is over"
	}
	v.look(c)
	if len(v.days) == 0 {
		return sight{}, "no forecast yet: read gravity in a day"
	}
	return v, ""
}

// basisOf returns what is known before the first reading.
func basisOf(c *course.Course, begin course.Reading, next Next) basis {
	return basis{
		original: float64(c.Effective.Value), origin: float64(begin.Gravity), dry: float64(c.DryFinish.Value),
		temperature: clockOf(c, begin.At).mean, wild: c.Ferment.Yeast.IsWild(),
		fed:      slices.ContainsFunc(c.Entries, func(e *ferment.Entry) bool { return e.Did == ferment.Nutrient }),
		measured: c.Test.Passed || !c.Accepted.IsZero(), margin: float64(c.Limits.ForecastAbove), next: next,
	}
}

// whyNone returns why a course has no forecast, without looking at its readings.
func whyNone(c *course.Course) string {
	_, stabilised := c.FirstMet(ferment.Condition{Kind: ferment.Stabilised})
	switch {
	case c.Culture != nil:
		return "no forecast for a culture"
	case c.Over() || c.Stage == course.Bottled:
		return "no forecast: it has ended"
	case stabilised:
		return "no forecast: it is stabilised and stays where it is"
	case !c.DryFinish.IsKnown():
		return c.DryFinish.Unknown
	case !c.Pitch.Known:
		return "no forecast yet: it is not pitched"
	}
	return ""
}

// expected returns the gravity at which it ends if it does not stop: dry, by the honey or a forced test, or at the
// yeast's tolerance, as told or as it showed in this cellar. A yeast that has passed its tolerance is expected to go on
// by 0.008 (an assumption, no source).
func (b basis) expected(c *course.Course) (finish float64, byYeast bool) {
	dry := measure.Gravity(b.dry)
	end := max(dry, c.Finish.Value)
	if b.measured {
		return float64(c.Finish.Value), false
	}
	if seen, err := alcohol.FinishOf(c.Effective.Value, measure.Give(b.next.Tolerance, "seen"), c.Ferment.Must.Fermentable.Or(c.Limits.Fermentable)); b.next.Reached && err == nil {
		end = seen.Gravity
	}
	if c.Gravity.IsKnown() && c.Gravity.Value.Gravity < end-nearEnd {
		end = max(dry, c.Gravity.Value.Gravity-0.008)
	}
	if end <= dry {
		return float64(dry), false
	}
	return float64(end), true
}

// look adds the trusted readings of a course, each with its standard deviation.
func (v *sight) look(c *course.Course) {
	rs := ferment.Where(c.Readings, func(r course.Reading) bool { return r.Trusted() && !r.At.Before(v.clock.began) })
	v.count = len(ferment.Where(rs, func(r course.Reading) bool { return r.From != course.FromStart }))
	rs = ferment.Where(rs, func(r course.Reading) bool { return r.At.After(v.clock.began) })
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

// last returns the day and gravity of the latest reading.
func (v sight) last() mark {
	n := len(v.days) - 1
	return mark{v.days[n], v.gravity[n]}
}

// clock counts days at the mean temperature of a ferment: a day that is 10 °C warmer counts as two, so that a cold week
// is not taken for a stall. A temperature counts until the next one. Without temperatures it counts plain days.
type clock struct {
	began time.Time
	mean  float64 // °C, NaN where none is recorded
	turns []turn  // by day; the first is at 0
}

// turn is a change of pace: the day, the days counted until then, and the pace from there.
type turn struct{ day, lived, pace float64 }

// doubles is how many degrees double the pace (common practice for yeast between 10 and 30 °C, no source); furthest is
// the largest difference from the mean that is used.
const (
	doubles  = 10.0
	furthest = 15.0
)

// clockOf returns the clock of a ferment, on which a warm day counts as more than one.
func clockOf(c *course.Course, began time.Time) clock {
	k := clock{began: began, turns: []turn{{0, 0, 1}}}
	heats := ferment.Where(c.Entries, func(e *ferment.Entry) bool { return e.Temperature.Known() && !e.Did.ApartFromCourse() })
	warm := func(e *ferment.Entry) float64 { return float64(e.Temperature.Value.Middle()) }
	for _, e := range heats {
		k.mean += warm(e)
	}
	k.mean /= float64(len(heats)) // NaN for none
	for i, e := range heats {
		pace := math.Exp2(max(-furthest, min(furthest, warm(e)-k.mean)) / doubles)
		day := e.At.Time.Sub(began).Hours() / 24
		last := &k.turns[len(k.turns)-1]
		if i == 0 || day <= 0 {
			k.turns = []turn{{0, 0, pace}}
		} else if day > last.day && pace != last.pace {
			k.turns = append(k.turns, turn{day, last.lived + (day-last.day)*last.pace, pace})
		} else if pace != last.pace {
			last.pace = pace
		}
	}
	return k
}

func (k clock) day(t time.Time) float64 {
	day := t.Sub(k.began).Hours() / 24
	i := max(sort.Search(len(k.turns), func(i int) bool { return k.turns[i].day > day })-1, 0)
	return k.turns[i].lived + (day-k.turns[i].day)*k.turns[i].pace
}

// at returns the time at which so many days are counted, at most ten years ahead.
func (k clock) at(lived float64) time.Time {
	i := max(sort.Search(len(k.turns), func(i int) bool { return k.turns[i].lived > lived })-1, 0)
	day := k.turns[i].day + (lived-k.turns[i].lived)/k.turns[i].pace
	return k.began.Add(time.Duration(min(day, 3650) * 24 * float64(time.Hour))).Truncate(time.Minute)
}
