package desk

import (
	"cellar/jugkeeper/ferment/forecast"
	"cellar/jugkeeper/schedule"
)

// Foreseen is a vessel whose dates ahead come from its forecast, where that may
// give any. It costs a few milliseconds: only where dates ahead are shown.
func Foreseen(v Vessel) (Vessel, forecast.Forecast) {
	f := forecast.Of(v.Course)
	if len(v.Plan.Steps) > 0 && f.Unknown == "" && f.Why == "" {
		v.Course.Ahead = f.Reaches
		v.Day = schedule.Plan(v.Plan, v.Course)
	}
	return v, f
}
