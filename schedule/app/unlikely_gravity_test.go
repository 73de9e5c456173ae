package app_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
)

// TestSteepFallIsAsked: three times the pace of this jug, at least 12 points a
// day (common practice, no source).
func TestSteepFallIsAsked(t *testing.T) {
	log := "3 11:00 pitch|4 08:00 started|5 07:00 1.078|6 07:00 1.072"
	for entry, asks := range map[string]string{
		"7 07:00 1.064": "", "7 07:00 1.055": "", "7 07:00 1.046": "−26.0 points in 24 h: a typing slip?",
		"6 07:00 1.066": "−6.0 points in 0 min", // in the same minute
		"6 07:00 1.071": "",
	} {
		snapshot, v := vessel(holding(jug("heath", 3.6, log)), "heath", line(entry).At.Time)
		assertAsks(t, asks, app.Says(app.Unlikely(snapshot, v, line(entry))), entry)
	}
}

// TestTrueReadingsAfterASlipAreNotAsked: 1.046 is a slip for 1.064. The next reading asks which of the two is wrong,
// and the one after it continues its line: both count, the slip does not.
func TestTrueReadingsAfterASlipAreNotAsked(t *testing.T) {
	log := "3 11:00 pitch|4 08:00 started|5 07:00 1.078|6 07:00 1.072|7 07:00 1.046"
	snapshot, v := vessel(holding(jug("heath", 3.6, log)), "heath", at(8, 7, 0))
	asks := app.Unlikely(snapshot, v, line("8 07:00 1.057"))
	assertAsks(t, "Which one is wrong, this one or 1.046 of 7 Oct 07:00?", app.Says(asks), "a rise")
	assert.Equal(t, "1.057 doubt=false", asks[0].Take("1.057", asks[0].Meant[1]))

	_, v = vessel(holding(jug("heath", 3.6, log+"|8 07:00 1.057|9 07:00 1.051")), "heath", at(9, 8, 0))
	assert.InDelta(t, 1.051, float64(v.Course.Gravity.Value.Gravity), 0.0002)
	_, past := v.Course.FirstMet(ferment.Condition{Kind: ferment.AtBreak, Break: ferment.BreakLimit{Of: 1, In: 2}})
	assert.False(t, past, "the slip alone was past the half")
}

// TestReadingOfTheOtherJugIsAsked if it is far from this jug's own.
func TestReadingOfTheOtherJugIsAsked(t *testing.T) {
	for entry, asks := range map[string]string{"7 08:00 1.055": "LIME-A is at that gravity", "7 08:00 1.064": ""} {
		a := jug("lime-a", 3.5, "3 11:00 pitch|4 08:00 started|5 07:00 1.072|6 07:00 1.063|7 07:00 1.055")
		b := jug("lime-b", 3.5, "3 11:00 pitch|4 08:00 started|5 07:00 1.078|6 07:00 1.071")
		a.Trial.Name, b.Trial.Name = "lime", "lime"
		snapshot, v := vessel(holding(a, b), "lime-b", line(entry).At.Time)
		assertAsks(t, asks, app.Says(app.Unlikely(snapshot, v, line(entry))), entry)
	}
}

// TestReadingBeforeThePitchIsTheOriginal: 1.080 at 19:00, the pitch at 19:30. The gravity of the honey is not used
// instead, and a recorded start is not a reading from which a fall is counted.
func TestReadingBeforeThePitchIsTheOriginal(t *testing.T) {
	f := jug("heath", 3.6, "3 19:00 1.080@20|3 19:30 pitch|4 08:00 started")
	f.Must.Gravity = measure.Given[measure.Gravity]{}
	f.Must.Honey = []ferment.HoneyPart{{Mass: measure.Give(measure.Grams(1000), "1 kg")}}
	snapshot, v := vessel(holding(f), "heath", at(5, 9, 0))
	assert.InDelta(t, 1.080, float64(v.Course.Original.Value), 0.0001)
	assert.Equal(t, course.Measured, v.Course.Original.Source)
	p := app.Meaning(snapshot, v, line("5 09:00 1.0792"))
	if assert.NotNil(t, p.Since) {
		assert.InDelta(t, -0.8, p.Points, 0.01, "since the must, not since a start that was not read")
	}
}

// TestGravityOfTheHoneyIsEstimated wherever it is listed as a reading.
func TestGravityOfTheHoneyIsEstimated(t *testing.T) {
	f := jug("heath", 3.6, "3 19:30 pitch|5 07:00 1.072")
	f.Must.Gravity = measure.Given[measure.Gravity]{}
	f.Must.Honey = []ferment.HoneyPart{{Mass: measure.Give(measure.Grams(1000), "1 kg")}}
	_, v := vessel(holding(f), "heath", at(5, 9, 0))
	if rs := v.Course.Readings; assert.Len(t, rs, 2) {
		assert.True(t, rs[0].Estimated)
		assert.Empty(t, rs[0].Typed)
		assert.False(t, rs[1].Estimated)
	}
}
