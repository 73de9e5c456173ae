// Package forecast estimates how a ferment goes on: a band of gravities, where it may end, when it may be done, and
// what cannot be said. A single curve would be overconfident, so two shapes and three ends are weighted by how well
// they explain the readings.
package forecast

import (
	"fmt"
	"math"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Forecast is what to expect if it goes on like this. Ranges contain the outcome nine times in ten.
type Forecast struct {
	Unknown string // why there is none; empty where there is one

	Finish, Low, High measure.Gravity // Finish is the end without a stop, or where it stops if that is likelier
	Done              Window          // within 0.004 of its finish; zero if there is no date
	Near              time.Time       // since when it should be near its finish, once that window is over
	Stops             float64         // chance that it stops, or ends well above the expected finish
	MayStop           measure.Gravity // where it would stop; 0 unless that is the reason for no date
	Rests             time.Time       // since when it has hardly fallen, if it is perhaps stalled
	Breaks            []Break
	Says              Verdict
	Why               string    // why no date is given
	ReadNext          time.Time // when the next reading should have fallen by 0.003
	Recent            []Miss    // latest readings compared with their forecast; empty unless LookingBack
	Next              Next      // what others of this cellar did

	sight
	draws []draw
}

// Window is when something is expected: the median, and the ends of the 90 % range.
type Window struct{ At, Early, Late time.Time }

// Break is a share of the expected fall, reached or expected.
type Break struct {
	Of, In   int // Of out of In parts, such as 1 of 3
	Gravity  measure.Gravity
	Met      time.Time // zero if not reached
	Expected Window    // zero if reached, or without a date
}

// nearEnd is how near its finish a ferment counts as done (common practice, no source).
const nearEnd = 0.004

// Of returns the forecast of a course at its moment. There is none without an original gravity, with fewer than two
// readings or none since the pitch, after the end, and after stabilising. The curve starts again after every addition.
//
// Uncertainty: on 21 public series of grape and agave must the band contained 80 to 97 of 100 later readings until they
// were done; the width of the band was tuned on the same series. The few public logs of honey are short and only a
// check.
func Of(c *course.Course, did ...Did) Forecast {
	next := Expect(did, c.Ferment)
	v, why := view(c, next)
	if why != "" {
		return Forecast{Unknown: why, Next: next}
	}
	f := Forecast{Next: next, sight: v, draws: v.courses()}
	ends := f.spread(draw.end)
	f.Low, f.High = measure.Gravity(ends.Low), measure.Gravity(ends.High)
	// Draws stop on the way or end well above, except at the yeast's tolerance.
	stops := func(d draw) bool { return d.stops > 0 || d.end() > v.finish+v.margin && !d.ripe }
	short, whole := ferment.Where(f.draws, stops), ferment.Where(f.draws, func(d draw) bool { return !stops(d) })
	f.Stops = min(float64(len(short))/float64(len(f.draws)), 0.99) // never certain
	likelier := whole
	if f.Stops > 0.5 {
		likelier = short
	}
	f.Finish = measure.Gravity(spreadOf(ferment.Map(likelier, draw.end)).Middle)
	f.Says, f.Why = v.says(f.Stops)
	if f.Says == CannotTell && f.Stops > mostDoubt {
		f.MayStop = measure.Gravity(spreadOf(ferment.Map(short, draw.end)).Middle)
	}
	if f.Says == PerhapsStalled {
		f.Rests = v.restsSince()
	}
	f.Breaks = v.breaks(c)
	if f.Why == "" {
		f.date()
	}
	if last := v.last(); !f.Near.IsZero() && !f.Near.After(f.clock.at(last.day)) && last.gravity > v.above() {
		f.Says, f.Near, f.MayStop = CannotTell, time.Time{}, f.Finish
	}
	f.ReadNext = f.readNext()
	return f
}

// courses returns courses that the explanations make likely; while the fall has not slowed, their ends keep the weights
// they had before any reading.
func (v sight) courses() []draw {
	es := v.explain(v.series)
	if !v.slows() {
		weighByPrior(es, v.last().gravity)
	}
	return v.draw(es, v.last(), len(v.days))
}

// date sets the window in which the ferment is done, or why there is none.
func (f *Forecast) date() {
	f.Done = f.window(func(d draw) float64 { return d.reaches(nearEnd / (d.origin - d.finish)) })
	switch {
	case f.Done.At.IsZero():
		f.Why = "no date: almost nothing is left to ferment"
	case f.Done.At.Before(f.now):
		f.Why, f.Near, f.Done = "no date: it should be near its finish by now", f.Done.At, Window{}
	}
	for i := range f.Breaks {
		if b := &f.Breaks[i]; b.Met.IsZero() {
			b.Expected = f.ahead(func(d draw) float64 { return d.falls(float64(b.Gravity)) })
		}
	}
}

// ahead returns window, or zero if it ended before now.
func (f Forecast) ahead(when func(draw) float64) Window {
	if w := f.window(when); !w.Late.Before(f.now) {
		return w
	}
	return Window{}
}

// window returns when the draws that reach it do.
func (f Forecast) window(when func(draw) float64) Window {
	days := ferment.Where(ferment.Map(f.draws, when), func(day float64) bool { return !math.IsInf(day, 0) && !math.IsNaN(day) })
	if len(days) < draws/2 {
		return Window{}
	}
	s := spreadOf(days)
	return Window{f.clock.at(s.Middle), f.clock.at(s.Low), f.clock.at(s.High)}
}

func (v sight) breaks(c *course.Course) []Break {
	var out []Break
	for _, b := range []Break{{Of: 1, In: 3}, {Of: 1, In: 2}, {Of: 2, In: 3}} {
		limit := ferment.BreakLimit{Of: b.Of, In: b.In}
		g := c.Break(limit.Fraction())
		if !g.IsKnown() {
			continue
		}
		b.Gravity = g.Value
		b.Met, _ = c.FirstMet(ferment.Condition{Kind: ferment.AtBreak, Break: limit})
		out = append(out, b)
	}
	return out
}

// Verdict is the short answer of a forecast.
type Verdict string

// The verdicts, in the order in which they are tested.
const (
	NotStarted     Verdict = "not started"
	PerhapsStalled Verdict = "perhaps stalled"
	CannotTell     Verdict = "cannot tell"
	OnItsWay       Verdict = "on its way"
)

// The limits of the verdicts (assumptions, tuned on series that end dry and simulated stalls).
const (
	startedFall  = 0.003
	startedShare = 0.05 // of the whole fall
	stallFall    = 0.002
	stallDays    = 2.0  // shortest rest
	stallShare   = 0.20 // shortest rest as a share of the course
	mostDoubt    = 0.40
	leastRead    = 3
	slowing      = 0.8 // as a share of the mean pace
)

// says returns the verdict, and the reason if there is no date with it.
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
		return CannotTell, fmt.Sprintf("slowing more than most: a chance of %.0f %% that it stops above %.3f", 100*stops, v.finish+v.margin)
	case v.count < leastRead:
		return OnItsWay, "too early for a date: three readings are needed"
	case last > v.third:
		return OnItsWay, "too early for a date until a third of the sugar is gone"
	}
	return OnItsWay, ""
}

// before returns the latest reading at least so many days before the last, else the start.
func (v sight) before(days float64) mark {
	for i, day := range slices.Backward(v.days) {
		if v.last().day-day >= days {
			return mark{day, v.gravity[i]}
		}
	}
	return mark{0, v.origin}
}

// rest returns the fall over the time that counts as a rest, and whether the readings cover that time.
func (v sight) rest() (fallen float64, long bool) {
	last := v.last()
	span := max(stallDays, stallShare*last.day)
	return v.before(span).gravity - last.gravity, last.day >= span
}

// slows reports whether the last quarter of the course was slower than the whole. A stop begins like that; a slow but
// constant pace is not one.
func (v sight) slows() bool {
	last := v.last()
	from := v.before(last.day / 4)
	return (from.gravity-last.gravity)/(last.day-from.day) < slowing*(v.origin-last.gravity)/last.day
}

// restsSince returns the time of the first reading since which the gravity has hardly fallen.
func (v sight) restsSince() time.Time {
	i := len(v.days) - 1
	for i > 0 && v.gravity[i-1]-v.last().gravity <= stallFall+1e-9 {
		i--
	}
	return v.clock.at(v.days[i])
}

// readNext returns when the next reading is worth a sample of 100 mL, not before now: after a fall of 0.003, 1 to 14
// days after the last (assumptions).
func (f Forecast) readNext() time.Time {
	last := f.clock.at(f.last().day)
	days := 1
	switch f.Says {
	case PerhapsStalled:
		days = 2
	case CannotTell: // where the pace of the latest readings would be 0.003 lower
		if from, last := f.before(1), f.last(); f.MayStop > 0 {
			days = int(min(14, max(1, 0.003*(last.day-from.day)/max(from.gravity-last.gravity, 1e-4))))
		}
	case OnItsWay:
		from := f.At(last).Middle
		for days < 14 && from-f.At(last.AddDate(0, 0, days)).Middle < 0.003 {
			days++
		}
	}
	return ferment.Later(last.AddDate(0, 0, days), f.now)
}

// Reaches returns when the gravity should reach g, with half the width of its 90 % window. It is not ok without a date.
func (f Forecast) Reaches(g measure.Gravity) (course.Expected, bool) {
	if f.Unknown != "" || f.Why != "" {
		return course.Expected{}, false
	}
	w := f.ahead(func(d draw) float64 { return d.falls(float64(g)) })
	return course.Expected{At: w.At, Within: w.Late.Sub(w.Early) / 2}, !w.At.IsZero()
}
