package schedule_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
)

var sprint = fmt.Sprint

// ordinary is a first mead with an ordinary pace: started within the day, past the third on day 4, at rest within the
// month.
const ordinary = `0d 18:30 pitch 0.9g | 1d 12:00 started | 1d 18:40 degas | 1d 19:00 nutrient 1.4g |
	2d 07:00 1.072@20 19.5C | 2d 18:30 degas | 2d 18:40 nutrient 1.4g step=nutrient-2 | 3d 18:30 degas | 3d 18:31 1.062@20 |
	4d 18:30 degas | 5d 18:30 1.045@20 | 7d 18:30 1.030@20 | 10d 18:30 1.012@20 | 14d 18:30 1.003@20`

// TestOrdinarySmallJug compares the plan of a first jug with common practice (no source): degassed daily from the first
// day for five days; nutrient about the second day, degassed before; then left alone for about two months; then
// bottled.
func TestOrdinarySmallJug(t *testing.T) {
	j := jug{plan: "small-jug still", gravity: "1.084", log: "0d 18:30 pitch 0.9g|1d 12:00 started"}
	for _, c := range []struct {
		now, step string
		want      string
	}{
		{"1d 18:30", "degas", "due waiting"},
		{"2d 18:30", "degas", "lapsed due waiting"},
		{"3d 18:30", "degas", "lapsed lapsed due waiting"},
		{"5d 18:30", "degas", "lapsed lapsed lapsed lapsed due"},
		{"6d 18:30", "degas", "lapsed lapsed lapsed lapsed lapsed"},
	} {
		assert.Equal(t, c.want, states(j.day(c.now), c.step), "%s %s", c.now, c.step)
	}

	j.log += "|1d 19:00 nutrient 1.4g|2d 07:00 1.072@20"
	second, ok := task(j.day("2d 18:30"), "nutrient-2")
	require.True(t, ok)
	assert.Equal(t, schedule.Due, second.State)
	assert.True(t, second.Open)
	assert.Equal(t, at("2d 18:30"), second.Due)
	assert.Equal(t, "[degas]", sprint(second.Also))
	assert.InDelta(t, 1.4, second.Amount.Number, 0.1)

	j.log = ordinary
	day := j.day("18d 09:00")
	require.NotNil(t, day.Quiet)
	assert.InDelta(t, 60, day.Quiet.To.Sub(day.Quiet.From).Hours()/24, 1)
	assert.Empty(t, pressing(day))
	assert.Equal(t, []string{"look"}, pressing(j.day("21d 18:30")))

	j.log += `|74d 18:30 rack lost=0.2L clear | 74d 18:35 0.997@20 17C vol3.2L | 81d 18:30 0.997@20 17C | 95d 18:30 0.997@20 17C clear`
	assert.Equal(t, []string{"bottle"}, pressing(j.day("95d 19:00")))
}

// pressing returns the steps that are to be done now.
func pressing(d schedule.Day) []string {
	var steps []string
	for _, t := range d.Tasks {
		if t.Open && !t.Option && (t.State == schedule.Due || t.State == schedule.Late || t.State == schedule.Held) {
			steps = append(steps, t.Step)
		}
	}
	return steps
}

// TestStepsOfTheSmallJugKeepTheirWindows checks both sides of every edge of a small jug's windows.
func TestStepsOfTheSmallJugKeepTheirWindows(t *testing.T) {
	for _, c := range []struct {
		log, now, step string
		state          schedule.State
		reason         string
	}{
		{"", "0d 12:00", "pitch", schedule.Due, "bring must and yeast within 10 °C of each other; leave 10 to 20 % headspace"},
		{"0d 12:00 mix", "1d 11:59", "pitch", schedule.Due, "bring must and yeast within 10 °C of each other; leave 10 to 20 % headspace"},
		{"0d 12:00 mix", "1d 12:00", "pitch", schedule.Late, "0 min late; may still be done"},
		{"0d 12:00 mix", "1d 20:05", "pitch", schedule.Late, "8 h late; may still be done"},
		{"0d 12:00 mix|0d 18:30 pitch", "1d 20:05", "pitch", schedule.Done, "done 12 Sep 18:30"},
		{"0d 18:30 pitch", "0d 23:00", "degas", schedule.Waiting, "comes 1 day after adding the yeast"},
		{"0d 18:30 pitch", "1d 00:31", "degas", schedule.Due, "put a tray under it, take the airlock off, swirl it for one to two minutes; daily until the ½ break"},
		{"0d 18:30 pitch", "1d 08:30", "degas", schedule.Due, "put a tray under it, take the airlock off, swirl it for one to two minutes; daily until the ½ break"},
		{"0d 18:30 pitch|1d 08:29 degas", "1d 08:30", "degas", schedule.Due, "put a tray under it, take the airlock off, swirl it for one to two minutes; daily until the ½ break"},
		{"0d 18:30 pitch|1d 08:30 degas", "1d 08:30", "degas", schedule.Done, "done 13 Sep 08:30"},
		{"0d 18:30 pitch|1d 09:00 skipped=degas because=away", "1d 10:00", "degas", schedule.Skipped, "skipped: away"},
		{"0d 18:30 pitch", "2d 08:30", "air", schedule.Lapsed, "its time is over"},
		{"0d 18:30 pitch|0d 22:00 started", "0d 23:00", "air", schedule.Lapsed, "it has started"},
		{"0d 18:30 pitch", "1d 18:00", "check", schedule.Due, "1 day after adding the yeast"},
		{"0d 18:30 pitch|1d 12:00 1.081", "1d 18:00", "check", schedule.Lapsed, "it has started"},
		{"0d 18:30 pitch|1d 12:00 1.0811", "1d 18:00", "check", schedule.Due, "1 day after adding the yeast"},
	} {
		d := jug{plan: "small-jug", gravity: "1.084", log: c.log}.day(c.now)
		got, ok := task(d, c.step)
		require.True(t, ok, "%s: no %s", c.now, c.step)
		assert.Equal(t, c.state, got.State, "%s | %s: %s", c.log, c.now, c.step)
		assert.Equal(t, c.reason, got.Reason, "%s | %s: %s", c.log, c.now, c.step)
	}
}

// TestDayEndsOnTheNextMorning: the day's list ends at the first morning, 07:00, that is at least eight hours ahead. The reading of day
// 5 opens at 06:30; that of day 7, made to open at 07:30, is not in the list of the day before.
func TestDayEndsOnTheNextMorning(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.084", log: "0d 18:30 pitch|2d 12:00 1.075|3d 12:00 1.070"}
	assert.Equal(t, "done done waiting waiting waiting waiting", states(j.day("3d 23:00"), "gravity"), "to the morning of day 4")
	assert.Equal(t, "done done due waiting waiting waiting", states(j.day("3d 23:01"), "gravity"), "to the morning of day 5")
	assert.Equal(t, "done done due waiting waiting waiting", states(j.day("4d 23:00"), "gravity"), "to the morning of day 5")
	j.log = "0d 19:00 pitch|2d 12:00 1.075|3d 12:00 1.070"
	assert.Equal(t, "done done waiting waiting waiting waiting", states(j.day("4d 22:59"), "gravity"), "07:00 is not before the end")
	assert.Equal(t, "done done due waiting waiting waiting", states(j.day("4d 23:01"), "gravity"), "to the morning of day 6")
	j.settings = func(s *ferment.Settings) { s.Morning = 8 * time.Hour }
	assert.Equal(t, "done done due waiting waiting waiting", states(j.day("4d 22:59"), "gravity"), "mornings at 08:00")
}
