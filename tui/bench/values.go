package bench

import (
	"fmt"

	figures "cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/ferment/measure"
)

// value is what stands in a field and where it came from: set by hand, taken
// over from the vessel, or, where one is wanted and nobody has it, an example.
func (m view) value(k figures.Key) (text, from string) {
	if set, ok := m.values[m.id(k)]; ok {
		return set, k.Does
	}
	if m.has {
		if text := m.ofVessel(k.Name); text != "" {
			return text, m.vessel.Label() + ": " + k.Does
		}
	}
	if k.Optional {
		return "", k.Does
	}
	return k.ExampleIn(m.units), "an example: " + k.Does
}

// ofVessel is what the record of the vessel has for a key of the open figure.
func (m view) ofVessel(key string) string {
	c := m.vessel.Course
	known := func(ok bool, format string, value float64) string {
		if !ok {
			return ""
		}
		return fmt.Sprintf(format, value)
	}
	original := known(c.Original.IsKnown(), "%.4f", float64(c.Original.Value))
	gravity := known(c.Gravity.IsKnown(), "%.4f", float64(c.Gravity.Value.Gravity))
	switch key {
	case "volume":
		return in(c.Volume.IsKnown(), c.Volume.Value, m.units)
	case "og", "original":
		return original
	case "gravity":
		if name := m.open().Name; name == "yeast" || name == "nutrient" || name == "must" {
			return original
		}
		return gravity
	case "fg":
		return gravity
	case "alcohol":
		return known(c.Alcohol.IsKnown(), "%.1f %%", float64(c.Alcohol.Value))
	case "warmest", "cools-from", "sample":
		return in(c.Temperature.IsKnown(), c.Temperature.Value.Middle(), m.units)
	case "ph":
		return known(c.PH.IsKnown(), "%.1f", float64(c.PH.Value))
	case "water":
		return m.honeyWater()
	}
	return m.ofFile(key)
}

// in is a known value in the units of the cellar.
func in[T interface{ In(measure.System) string }](known bool, value T, units measure.System) string {
	if !known {
		return ""
	}
	return value.In(units)
}

// ofFile is what the person wrote into the vessel's file or the settings.
func (m view) ofFile(key string) string {
	f := m.vessel.Ferment
	switch key {
	case "tolerance":
		return f.Yeast.Tolerance.Text
	case "hottest":
		return m.vessel.Course.Settings.Hottest.In(m.units)
	case "demand":
		return string(f.Yeast.Demand)
	case "own":
		return f.Nutrient.Own.Text
	case "kind":
		if m.open().Name == "nutrient" {
			return f.Nutrient.Kind
		}
	case "target":
		if m.open().Name == "nutrient" {
			return f.Nutrient.Target.Text
		}
		return measure.Decimal(float64(m.vessel.Course.Settings.Fizz), 1) + " g/L"
	}
	return ""
}

func (m view) honeyWater() string {
	for _, h := range m.vessel.Ferment.Must.Honey {
		if h.Water.Known() {
			return h.Water.Text
		}
	}
	return ""
}
