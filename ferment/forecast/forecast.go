// Package forecast says where a ferment's curve is going: a band, where it may
// end, when it may be done, and what cannot be said. One curve with one end is
// overconfident; here two shapes and three ends are weighed by how well they
// explain the readings.
package forecast

import (
	"math"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Forecast is what the readings let expect "if it goes on like this". All
// ranges hold nine times in ten.
type Forecast struct {
	Unknown string // why there is none; empty where there is one

	Finish, Low, High measure.Gravity
	Done              Window          // within 0.004 of its finish; zero where no date may be given
	Near              time.Time       // since when it should be near its finish, where all of that window is over
	Stops             float64         // the chance that it stops, or ends well above where it should
	MayStop           measure.Gravity // near where, if so; 0 unless that is why there is no date
	Rests             time.Time       // since when it has hardly fallen, where it is perhaps stalled
	Breaks            []Break
	Says              Verdict
	Why               string    // why no date is given
	ReadNext          time.Time // when the next reading should have 0.003 to show
	Recent            []Miss    // how the latest readings fell; empty unless LookingBack

	sight
	draws []draw
}

// Window is when something is expected: at about, between early and late.
type Window struct{ At, Early, Late time.Time }

// Break is a share of the expected fall, met or expected.
type Break struct {
	Of, In   int // one of three
	Gravity  measure.Gravity
	Met      time.Time // zero where it is not
	Expected Window    // zero where it is met, or no date may be given
}

// nearEnd is how near its finish a ferment counts as done (common practice, no
// source).
const nearEnd = 0.004

// Of is the forecast of a course at its moment. Without an original gravity,
// with fewer than two readings or none since the pitch, after the end and after
// stabilising there is none. The curve begins anew where something went in.
//
// Uncertainty: on 21 public series of grape and agave must the band held 80 to
// 97 of 100 later readings until they were done; what the band adds was tuned on
// the same series. The few public logs of honey are short and only checked.
func Of(c course.Course) Forecast {
	v, why := view(c)
	if why != "" {
		return Forecast{Unknown: why}
	}
	f := Forecast{sight: v, draws: v.courses()}
	f.Finish, f.Low, f.High = f.ends()
	f.Stops = f.chanceAbove(v.finish + wellAbove)
	f.Says, f.Why = v.says(f.Stops)
	if f.Says == CannotTell && f.Stops > mostDoubt {
		f.MayStop = f.stopsNear()
	}
	if f.Says == PerhapsStalled {
		f.Rests = v.restsSince()
	}
	f.Breaks = v.breaks(c)
	if f.Why == "" {
		f.date()
	}
	f.ReadNext = f.readNext()
	return f
}

// courses are draws of what may come, as the readings say.
func (v sight) courses() []draw {
	es := v.explain(v.series)
	if !v.slows() {
		v.asBelieved(es)
	}
	return v.draw(es, v.last(), len(v.days))
}

// date gives the windows.
func (f *Forecast) date() {
	f.Done = f.window(func(d draw) float64 { return d.reaches(nearEnd / (d.origin - d.finish)) })
	switch {
	case f.Done.At.IsZero():
		f.Why = "no date: hardly anything is left to fall"
	case f.Done.Late.Before(f.now):
		f.Why, f.Near = "no date: it should be near its finish by now", f.Done.At
		f.Done = Window{}
	}
	for i := range f.Breaks {
		if b := &f.Breaks[i]; b.Met.IsZero() {
			b.Expected = f.ahead(func(d draw) float64 { return d.falls(float64(b.Gravity)) })
		}
	}
}

// ends are the middle, the low and the high of where it ends.
func (f Forecast) ends() (middle, low, high measure.Gravity) {
	p := f.spread(func(d draw) float64 { return d.end() })
	return measure.Gravity(p.Middle), measure.Gravity(p.Low), measure.Gravity(p.High)
}

// chanceAbove is the chance that it stops on the way or ends above a gravity,
// unless its yeast ends it there; 0.99 at most, for nobody is certain.
func (f Forecast) chanceAbove(g float64) float64 {
	n := 0
	for _, d := range f.draws {
		if d.stops > 0 || d.end() > g && !d.ripe {
			n++
		}
	}
	return min(float64(n)/float64(len(f.draws)), 0.99)
}

// ahead is a window, unless it ended before now.
func (f Forecast) ahead(when func(draw) float64) Window {
	if w := f.window(when); !w.Late.Before(f.now) {
		return w
	}
	return Window{}
}

// window is when the courses that get there get there.
func (f Forecast) window(when func(draw) float64) Window {
	var days []float64
	for _, d := range f.draws {
		if day := when(d); !math.IsInf(day, 0) && !math.IsNaN(day) {
			days = append(days, day)
		}
	}
	if len(days) < draws/2 {
		return Window{}
	}
	s := spreadOf(days)
	return Window{f.clock.at(s.Middle), f.clock.at(s.Low), f.clock.at(s.High)}
}

func (v sight) breaks(c course.Course) []Break {
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
