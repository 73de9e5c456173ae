package schedule_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// TestChanges is when a day may next be another one.
func TestChanges(t *testing.T) {
	started := "0d 18:30 pitch|1d 06:00 started|1d 20:00 1.078@20"
	for _, c := range []struct {
		what, log, now string
		want           time.Time
	}{
		{"a window opens", started, "1d 19:00", at("1d 23:00").Add(1)},
		{"the day's list grows", started, "1d 22:59", at("1d 23:00").Add(1)},
		{"the reading is no longer fresh", started + "|1d 20:10 nutrient 1.4g", "3d 07:30", at("3d 08:00")},
		{"its age grows by an hour", started + "|1d 20:10 nutrient 1.4g", "3d 09:30", at("3d 10:00")},
		{"doses are twelve hours apart", started + "|2d 12:00 nutrient 1.4g|2d 23:40 1.07", "2d 23:45", at("3d 00:00")},
		{"the hour is called by its day no more", started + "|2d 20:00 nutrient 1.4g step=nutrient-1|2d 21:00 1.07", "2d 23:30", at("3d 00:00")},
		{"the readings are too old to be steady", atRest, "90d 18:00", at("90d 18:30")},
		{"and just after", atRest, "90d 18:30", at("90d 18:30").Add(1)},
	} {
		d := jug{plan: "small-jug still", gravity: "1.084", log: c.log}.day(c.now)
		assert.Equal(t, c.want, d.Changes, c.what)
	}
}

// TestNothingEverChanges: what is over stays over.
func TestNothingEverChanges(t *testing.T) {
	d := jug{plan: "small-jug", gravity: "1.084", log: "0d 18:30 pitch|3d 10:00 dump"}.day("3d 11:00")
	assert.True(t, d.Changes.IsZero())
}
