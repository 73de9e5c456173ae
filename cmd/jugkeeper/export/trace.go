package export

import (
	"strings"
	"time"

	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// trace is one ferment as it is drawn. Its days count from the pitch, else from
// the first reading.
type trace struct {
	vessel   app.Vessel
	from     time.Time
	readings []course.Reading
	band     []forecast.Point
	finish   string // where it is expected to end, in words
}

// aheadInCurve is how many days ahead of the last reading a curve goes.
const aheadInCurve = 14

func traceOf(v app.Vessel) trace {
	v, f := app.Foreseen(v)
	c := v.Course
	t := trace{vessel: v}
	for _, r := range c.Readings {
		if r.From != course.FromStart {
			t.readings = append(t.readings, r)
		}
	}
	if len(t.readings) == 0 {
		return t
	}
	t.from = t.readings[0].At
	if c.Pitch.Known {
		t.from = c.Pitch.At
	}
	if c.Finish.IsKnown() {
		t.finish = "expected finish " + exact(c.Finish.Value, c.Settings)
	}
	if f.Unknown == "" && c.Stage != course.Bottled && c.Gravity.IsKnown() {
		last := c.Gravity.Value.At
		days := aheadInCurve
		if !f.Done.Late.IsZero() {
			days = max(3, min(days, int(f.Done.Late.Sub(last).Hours()/24)+2))
		}
		t.band = f.Band(last, days)
	}
	return t
}

func (t trace) days(at time.Time) float64 { return at.Sub(t.from).Hours() / 24 }

// words are the readings of a ferment, for whom the picture does not speak to.
func (t trace) words(now time.Time) string {
	var parts []string
	for _, r := range t.readings {
		text := words.PaperTime(r.Moment, now) + " " + exact(r.Gravity, t.vessel.Course.Settings)
		if r.Doubt != "" {
			text += " in doubt"
		}
		parts = append(parts, text)
	}
	if t.finish != "" {
		parts = append(parts, t.finish)
	}
	return label(t.vessel) + ": " + strings.Join(parts, "; ") + "."
}
