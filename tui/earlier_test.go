package tui

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/tui/intent"
)

// left returns a draft that a board left ten hours before.
func left(text string) intent.Draft {
	return intent.Draft{Kind: "reading", Subject: "lime-a", Text: text, Cellar: "/cellar", Typed: morning.Add(-10 * time.Hour)}
}

func withDrafts(kept *[]intent.Draft, drafts ...intent.Draft) func(*Options) {
	return func(o *Options) {
		o.Drafts = drafts
		o.Keep = func(ds []intent.Draft) error { *kept = ds; return nil }
	}
}

// A draft of an earlier run is offered with its vessel and time, and kept with the time at which it was typed.
func TestDraftIsOfferedAtTheStart(t *testing.T) {
	var kept []intent.Draft
	d := drive(t, newShelf(), 80, 24, withDrafts(&kept, left("1062")))
	d.shows("LIME-A", "1062", "typed Tue 21:04", "Enter go on with it", "Esc discard it")
	d.keys("j", "text:99").shows("1062", "typed Tue 21:04")
	d.keys("enter").shows("2026-10-06 21:04 1062")
	d.keys("enter", "enter")
	log := d.log("lime-a")
	require.Len(t, log, 1)
	assert.Equal(t, morning.Add(-10*time.Hour), log[0].At.Time)
	assert.True(t, d.keys("q").quit)
	assert.Empty(t, kept)
}

// What is typed is stored within a second, once, with the time at which it was typed, and goes when the line closes.
func TestDraftIsStoredWhileTyping(t *testing.T) {
	var stored [][]intent.Draft
	d := drive(t, newShelf(), 80, 24, func(o *Options) {
		o.Cellar = "/cellar"
		o.Keep = func(ds []intent.Draft) error { stored = append(stored, ds); return nil }
	})
	tick := func() { d.send(ticked{now: d.now}) }
	tick()
	assert.Empty(t, stored)
	on(d, "lime-a").keys("g", "text:1062")
	typed := intent.Draft{Kind: "reading", Subject: "lime-a", Text: "1062", Cellar: "/cellar", Typed: morning}
	for range 3 {
		tick()
		d.now = d.now.Add(time.Minute)
	}
	assert.Equal(t, [][]intent.Draft{{typed}}, stored)
	d.keys("enter", "enter")
	require.Len(t, d.log("lime-a"), 1)
	tick()
	require.Len(t, stored, 2)
	assert.Empty(t, stored[1])
}

func TestDraftIsReplacedByTyping(t *testing.T) {
	var kept []intent.Draft
	d := drive(t, newShelf(), 80, 24, withDrafts(&kept, left("1.007"))).keys("enter", "text:1060", "enter")
	log := d.log("lime-a")
	require.Len(t, log, 1)
	assert.Equal(t, "1.060", log[0].Gravity.Value.Places(3))
	assert.Equal(t, morning, log[0].At.Time)
}

// A time in it is relative to when it was typed.
func TestDraftKeepsItsOwnTime(t *testing.T) {
	for text, at := range map[string]time.Time{
		"1062 -2h":              morning.Add(-12 * time.Hour),
		"yesterday 20:00 1062":  time.Date(2026, time.October, 5, 20, 0, 0, 0, time.UTC),
		"2026-10-05 08:00 1062": time.Date(2026, time.October, 5, 8, 0, 0, 0, time.UTC),
		"18:30 1062 ; at dusk":  time.Date(2026, time.October, 6, 18, 30, 0, 0, time.UTC),
	} {
		var kept []intent.Draft
		d := drive(t, newShelf(), 80, 24, withDrafts(&kept, left(text))).keys("enter", "enter", "enter")
		log := d.log("lime-a")
		require.Len(t, log, 1, text)
		assert.Equal(t, at, log[0].At.Time, text)
	}
}

func TestDraftCanBeDropped(t *testing.T) {
	var kept []intent.Draft
	d := drive(t, newShelf(), 80, 24, withDrafts(&kept, left("1062"))).keys("esc").lacks("typed Tue").shows("u brings it back")
	d.keys("u").shows("typed Tue 21:04").keys("esc", "q")
	assert.True(t, d.quit)
	assert.Empty(t, kept)
	assert.Empty(t, d.log("lime-a"))
}

// A note, a reason and an amount open in the line in which they were typed.
func TestFurtherDraftsAreOffered(t *testing.T) {
	note, reason, amount := left("bready"), left("away"), left("1.2 g")
	note.Kind = "note"
	reason.Kind, reason.Step = "passing", "nutrient-2"
	amount.Kind, amount.Step = "given", "nutrient-2"
	var kept []intent.Draft
	d := drive(t, newShelf(), 80, 24, withDrafts(&kept, note)).keys("enter").shows("2026-10-06 21:04 ; bready").keys("enter")
	require.Len(t, d.log("lime-a"), 1)
	assert.Equal(t, "bready", d.log("lime-a")[0].Note)
	assert.Equal(t, morning.Add(-10*time.Hour), d.log("lime-a")[0].At.Time)
	d = drive(t, newShelf(), 80, 24, withDrafts(&kept, reason)).keys("enter").shows("skipped, because:", "away").keys("enter")
	require.Len(t, d.log("lime-a"), 1)
	assert.Equal(t, "away", d.log("lime-a")[0].Because)
	drive(t, newShelf(), 80, 24, withDrafts(&kept, amount)).keys("enter").shows("given:", "1.2 g")
}

// A draft of another cellar is neither offered nor lost.
func TestDraftOfAnotherCellarStays(t *testing.T) {
	other := left("1062")
	other.Cellar = "/elsewhere"
	kept := []intent.Draft{}
	d := drive(t, newShelf(), 80, 24, withDrafts(&kept, other)).lacks("1062")
	on(d, "lime-a").keys("g").lacks("1062").keys("esc", "q")
	assert.True(t, d.quit)
	assert.Equal(t, []intent.Draft{other}, kept)
}

// A draft of a vessel that is gone can still be read.
func TestDraftOfAVesselThatIsGone(t *testing.T) {
	gone := left("1062")
	gone.Subject = "clover"
	var kept []intent.Draft
	d := drive(t, newShelf(), 80, 24, withDrafts(&kept, gone)).shows("clover", "1062")
	d.keys("enter").shows("there is no vessel clover now").keys("esc", "q")
	assert.Empty(t, kept)
}
