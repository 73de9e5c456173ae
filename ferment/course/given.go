package course

import (
	"math"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// Given is the mass that the entries of an act have put into the vessel. What
// was written down as unknown is not in it.
func (c Course) Given(act ferment.Act) (sum measure.Mass) {
	for _, e := range c.Entries {
		if m, ok := e.Mass(); ok && e.Did == act {
			sum += m
		}
	}
	return sum
}

// roomTemperature is taken where nobody wrote one down.
const roomTemperature measure.Temperature = 20

// Warmest is the highest temperature of vessel or room since the bubbling
// ended, which is what decides how much gas is left: since the first of the
// readings that agree. Without one since then it is the latest recorded, else
// 20 °C, and says so.
func (c Course) Warmest() Figure[measure.Temperature] { return c.WarmestBy(c.Now) }

// WarmestBy is Warmest as it was at a time.
func (c Course) WarmestBy(at time.Time) Figure[measure.Temperature] {
	warmest, latest := measure.Temperature(math.Inf(-1)), Figure[measure.Temperature]{Value: roomTemperature, Assumed: "no temperature is recorded: " + roomTemperature.In(c.Settings.Units)}
	for _, e := range c.Entries {
		if !e.Temperature.Known() || e.Did.ApartFromCourse() || e.At.Time.After(at) {
			continue
		}
		high := e.Temperature.Value.High
		latest = Figure[measure.Temperature]{Value: high, Assumed: "no temperature is recorded since the bubbling ended"}
		if !c.Steady.First.IsZero() && !e.At.Time.Before(c.Steady.First) {
			warmest = max(warmest, high)
		}
	}
	if math.IsInf(float64(warmest), -1) {
		return latest
	}
	return Known(warmest)
}
