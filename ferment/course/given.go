package course

import (
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
func (c Course) Warmest() Figure[measure.Temperature] {
	var warmest measure.Temperature
	seen := false
	for _, e := range c.between(c.Steady.First, c.Now) {
		if t := e.Temperature; t.Known() && !e.Did.ApartFromCourse() && (!seen || t.Value.High > warmest) {
			warmest, seen = t.Value.High, true
		}
	}
	switch {
	case seen && !c.Steady.First.IsZero():
		return Known(warmest)
	case c.Temperature.IsKnown():
		return Figure[measure.Temperature]{Value: c.Temperature.Value.High, Assumed: "no temperature is recorded since the bubbling ended"}
	}
	return Figure[measure.Temperature]{Value: roomTemperature, Assumed: "no temperature is recorded: 20 °C"}
}
