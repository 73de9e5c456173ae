package app_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
)

// TestUnlikely checks both sides of every limit (common practice, no source): a rise over 0.003, a fall over 0.030 a
// day, a time before the pitch or in the future, the same reading within a minute.
func TestUnlikely(t *testing.T) {
	log := "3 11:00 pitch|3 11:00 rack 3.2L|4 08:00 started|5 07:00 1.072"
	for _, c := range []struct{ entry, asks string }{
		{"5 09:00 1.0750", ""}, {"5 09:00 1.0751", "gas on the stem?"},
		{"6 07:00 1.0420", ""}, {"6 07:00 1.0419", "−30.1 points in 24 h: a typing slip?"},
		{"5 19:00 1.0570", ""}, {"5 19:00 1.0569", "−15.1 points in 12 h"},
		{"5 07:30 1.0708", ""}, {"5 07:30 1.0707", "−1.3 points in 30 min"}, // at least an hour's fall is allowed
		{"5 07:01 1.072", ""}, {"5 07:00 1.072", "typed twice?"}, {"5 06:59 1.072", ""}, {"5 07:00 1.071", ""}, {"3 11:00 1.084", ""},
		{"3 11:00 degas", ""}, {"3 10:59 degas", "it is before the pitch"}, {"3 10:59 mix", ""},
		{"7 09:00 degas", ""}, {"7 09:01 degas", "it is in the future"},
		{"5 09:00 1.080 ?", ""},                                                                   // marked doubtful by the person
		{"5 09:00 ph3.4", ""}, {"5 09:00 rack 3.1L", ""}, {"3 11:01 rack 3.1L", "a second time?"}, // racked at 11:00 below
	} {
		snapshot, v := vessel(holding(jug("heath", 3.6, log)), "heath", at(7, 9, 0))
		assertAsks(t, c.asks, app.Says(app.Unlikely(snapshot, v, line(c.entry))), c.entry)
	}
}

// TestWrongDayOrJugIsAsked: by what was logged before or after.
func TestWrongDayOrJugIsAsked(t *testing.T) {
	log := "3 09:00 mix|3 11:00 pitch|4 08:00 started|4 19:00 degas|5 07:00 1.072|5 19:00 1.066|6 07:00 1.060|6 08:00 degas"
	for _, c := range []struct{ entry, asks string }{
		{"3 08:59 degas", "it is before the pitch"},
		{"6 09:00 degas", "degas is written down already, 6 Oct 08:00"}, {"6 09:01 degas", ""},
		{"5 08:00 started", "started is written down already, 4 Oct 08:00"},
		{"5 18:00 nutrient unknown", "nutrient of 5 Oct 18:00, and what came after it is written down already"}, {"6 12:00 nutrient unknown", ""},
		{"6 08:00 1.059", "a reading is written down already, 6 Oct 07:00"}, {"6 08:01 1.059", ""},
		{"6 19:00 bottle", "it still falls 12.0 points a day, so its bottles would burst"}, {"6 19:00 bottle because=\"it goes into the cold\"", ""},
		{"6 19:00 1.0544", "1.0544 has 4 decimals, all earlier readings have 3"}, {"6 19:00 1.05", "1.05 has 2 decimals"}, {"6 19:00 1.054", ""},
	} {
		f := jug("heath", 3.6, log)
		f.Trial.Name = "moor"
		snapshot, v := vessel(holding(f, jug("moor", 3.6, "")), "heath", at(6, 20, 0))
		says := app.Says(app.Unlikely(snapshot, v, line(c.entry)))
		if c.asks == "" {
			assert.Empty(t, says, c.entry)
			continue
		}
		assert.Contains(t, strings.Join(says, "; "), c.asks, c.entry)
	}
}

// TestBeforeTheMixing: yeast cannot be pitched before the must is mixed.
func TestBeforeTheMixing(t *testing.T) {
	snapshot, v := vessel(holding(jug("heath", 3.6, "3 09:00 mix")), "heath", at(3, 12, 0))
	assertAsks(t, "it is before the must was mixed, 3 Oct 09:00", app.Says(app.Unlikely(snapshot, v, line("3 08:59 pitch 0.9g"))), "before")
	assertAsks(t, "", app.Says(app.Unlikely(snapshot, v, line("3 09:00 pitch 0.9g"))), "after")
}

func assertAsks(t *testing.T, want string, asks []string, what string) {
	t.Helper()
	switch {
	case want == "":
		assert.Empty(t, asks, what)
	case assert.Len(t, asks, 1, what):
		assert.Contains(t, asks[0], want, what)
	}
}

// TestRiseAfterHoneyIsNotAsked; a rise before it is.
func TestRiseAfterHoneyIsNotAsked(t *testing.T) {
	for log, asks := range map[string]string{
		"3 11:00 pitch|5 07:00 1.072|6 07:00 honey 300g": "",
		"3 11:00 pitch|5 06:00 honey 300g|5 07:00 1.072": "gas on the stem?",
	} {
		snapshot, v := vessel(holding(jug("heath", 3.6, log)), "heath", at(7, 9, 0))
		assertAsks(t, asks, app.Says(app.Unlikely(snapshot, v, line("6 09:00 1.085"))), log)
	}
}

// TestSiblings: on the first day a reading 0.010 from the other jug's is asked about, later not.
func TestSiblings(t *testing.T) {
	for _, c := range []struct {
		trial, entry, asks string
	}{
		{"lime", "3 18:00 1.0741", ""},
		{"lime", "3 18:00 1.0740", "LIME-A, from the same must, is at 1.0840"},
		{"lime", "4 11:00 1.0700", "LIME-A"},
		{"lime", "4 11:01 1.0700", ""},
		{"", "3 18:00 1.0740", ""},
	} {
		a, b := jug("lime-a", 3.5, "3 11:00 pitch|3 12:00 1.084"), jug("lime-b", 1.8, "3 11:00 pitch")
		a.Trial, b.Trial = ferment.Trial{Name: "lime"}, ferment.Trial{Name: c.trial}
		snapshot, v := vessel(holding(a, b), "lime-b", at(5, 9, 0))
		var asks []string
		for _, one := range app.Says(app.Unlikely(snapshot, v, line(c.entry))) {
			if one[0] == 'L' { // a fall of so much on the first day is asked about as well
				asks = append(asks, one)
			}
		}
		assertAsks(t, c.asks, asks, c.entry)
	}
}
