package app

import (
	"time"

	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/schedule"
)

// Foreseen is a vessel whose dates ahead come from its forecast, where that may
// give any. It costs a few milliseconds: only where dates ahead are shown.
func Foreseen(v Vessel) (Vessel, forecast.Forecast) {
	f := forecast.Of(v.Course).LookingBack()
	if len(v.Plan.Steps) == 0 || f.Unknown != "" {
		return v, f
	}
	v.Course.Ahead = f.Reaches
	v.Course.CannotTell = perhapsStuck(v.Course, f)
	v.Day = schedule.Plan(v.Plan, v.Course)
	return v, f
}

// perhapsStuck is what cannot be told yet: what the rules say, else what the
// forecast makes of a course that hardly falls, to be read again in two days.
func perhapsStuck(c course.Course, f forecast.Forecast) *course.CannotTell {
	if c.CannotTell != nil || f.Says != forecast.PerhapsStalled || !c.Gravity.IsKnown() {
		return c.CannotTell
	}
	for _, k := range c.Conditions {
		if k.Name == course.Stuck || k.Name == course.AtLimit {
			return nil
		}
	}
	return &course.CannotTell{What: "stuck", Why: "perhaps stalled", ReadAgain: c.Gravity.Value.At.Add(48 * time.Hour)}
}
