package app_test

import (
	"testing"

	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
)

// TestUnlikelyValue has both sides of the ranges and changes of the table of
// keys (common practice, no source), and what was perhaps meant.
func TestUnlikelyValue(t *testing.T) {
	log := "3 11:00 pitch 1g|4 08:00 started|5 07:00 1.072 20C ph3.6"
	for _, c := range []struct{ entry, asks string }{
		{"5 19:00 45C", "45 °C is far from the last, 20 °C 12 h before"},
		{"7 19:00 45C", "45 °C is far from the last, 20 °C 60 h before"}, {"26 19:00 45C", ""}, {"26 19:00 46C", "temperature 46 °C is outside the usual −2 to 45 °C"},
		{"5 19:00 28C", ""}, {"5 19:00 28.1C", "far from the last"},
		{"5 19:00 68C", "did you mean 68 °F?"},
		{"5 19:00 91C", "did you mean 19 °C?"},
		{"5 19:00 19..24C", ""},
		{"5 19:00 ph3.1", ""}, {"5 19:00 ph3.0", "ph 3.0 is far from the last, 3.6 12 h before"},
		{"5 19:00 ph9.9", "ph 9.9 is outside the usual 2.5 to 5"},
		{"5 19:00 ph4.2", "far from the last"},
		{"5 19:00 1.055@40", ""}, {"5 19:00 1.068@68", "did you mean 68 °F?"},
		{"5 19:00 1.064@24 20C", ""}, {"5 19:00 1.064@25 20C", "the sample is at 25 °C and the vessel at 20 °C: which is wrong?"},
		{"5 19:00 vol3.6L", ""}, {"5 19:00 vol4L", "4 L is more than was in it, 3.60 L, and nothing"},
		{"5 19:00 vol36L", "36 L is more than the vessel takes, 4.1 L to the brim: did you mean 3.6 L?"},
		{"5 19:00 lees=1.5cm", ""}, {"5 19:00 lees=80mm", ""}, {"5 19:00 lees=8.1cm", "lees 8.1 cm is outside the usual 0 to 8 cm"},
		{"5 19:00 ta5.5", ""}, {"5 19:00 ta55", "did you mean 5.5"},
		{"5 19:00 foam=31cm", "foam 31 cm is outside the usual 0 to 30 cm"},
	} {
		f := jug("heath", 3.6, log)
		f.Vessel.Brimful = measure.Give(measure.Volume(4.1), "4.1 L")
		snapshot, v := vessel(holding(f), "heath", line(c.entry).At.Time)
		assertAsks(t, c.asks, app.Says(app.Unlikely(snapshot, v, line(c.entry))), c.entry)
	}
}
