package schedule_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/schedule"
)

// fed is a must that has had its doses, so that none waits for a reading.
const fed = "0d 18:30 pitch|0d 19:00 started|0d 20:00 nutrient 1g step=nutrient-1|1d 20:00 nutrient 1g step=nutrient-2|"

// TestEntrySettlesTheTaskOfItsTime: an entry settles the step it names, else the earliest due whose window contains its time, else the
// nearest earlier one that may be late.
func TestEntrySettlesTheTaskOfItsTime(t *testing.T) {
	for _, c := range []struct {
		what, plan, log, now, step, want string
	}{
		{"in its window", "small-jug", "0d 18:30 pitch|1d 18:00 degas", "1d 20:00", "degas", "done waiting"},
		{"the first second of the window", "small-jug", "0d 18:30 pitch|1d 08:30 degas", "1d 20:00", "degas", "done waiting"},
		{"a second too early settles nothing", "small-jug", "0d 18:30 pitch|1d 08:29 degas", "1d 20:00", "degas", "due waiting"},
		{"a second pitch is no second first", "small-jug", "0d 18:30 pitch|5d 10:00 pitch", "5d 11:00", "pitch", "done"},
		{"early, but named", "small-jug", "0d 18:30 pitch|1d 03:00 degas step=degas", "1d 20:00", "degas", "done waiting"},
		{"the last second of the window", "small-jug", "0d 18:30 pitch|2d 08:29 degas", "2d 09:00", "degas", "done due waiting"},
		{"in the next window", "small-jug", "0d 18:30 pitch|2d 08:30 degas", "2d 09:00", "degas", "lapsed done waiting"},
		{"a missed one is never made up", "small-jug", "0d 18:30 pitch|2d 09:00 degas|2d 10:00 degas", "2d 11:00", "degas", "lapsed done waiting"},
		{"nor after the last", "small-jug", "0d 18:30 pitch|6d 12:00 degas", "6d 13:00", "degas", "lapsed lapsed lapsed lapsed lapsed"},
		{"a minute before it closes", "small-jug", "0d 18:30 pitch|1d 06:29 aerate", "1d 07:00", "air", "done"},
		{"as it closes", "small-jug", "0d 18:30 pitch|1d 06:30 aerate", "1d 07:00", "air", "lapsed"},
		{"skipped by its act", "small-jug", "0d 18:30 pitch|1d 18:00 skipped=degas", "1d 20:00", "degas", "skipped waiting"},
		{"a step that is not in the plan is as good as none", "small-jug", "0d 18:30 pitch|1d 18:00 degas step=shake", "1d 20:00", "degas", "done waiting"},
		{"late, no window holds it", "small-jug", "0d 08:00 pitch|0d 10:00 started|3d 23:00 1.070|3d 23:30 nutrient 1g", "4d 06:00", "nutrient-2", "done"},
		{"any entry that measures it", "small-jug", "0d 18:30 pitch|2d 18:30 degas|2d 18:31 look 1.070@20", "2d 20:00", "gravity", "done due waiting waiting waiting waiting"},
		{"a doubtful reading settles nothing", "small-jug", fed + "2d 18:31 1.070@20 ?", "2d 20:00", "gravity", "due waiting waiting waiting waiting waiting"},
		{"a test glass is not the vessel", "small-jug", fed + "2d 18:31 forced-test 0.996", "2d 20:00", "gravity", "due waiting waiting waiting waiting waiting"},
		{"two steps share one reading", "small-jug", "0d 18:30 pitch|30d 18:30 1.000@20|30d 18:31 rack", "31d 20:00", "steady-reading", "done waiting waiting"},
		{"an answer settles the look, whichever key it was given with", "small-jug", "0d 18:30 pitch|1d 18:30 airlock=working", "1d 20:00", "check", "done"},
		{"with another act too", "small-jug", "0d 18:30 pitch|1d 18:30 degas seen=foam", "1d 20:00", "check", "done"},
		{"a still airlock is no start", "small-jug", "0d 18:30 pitch|1d 18:30 airlock=still", "1d 20:00", "check", "due"},
		{"an answer of nothing yet settles the check", "small-jug", "0d 18:30 pitch|1d 10:00 airlock=still step=check", "1d 11:00", "check", "done"},
		{"until it has started", "small-jug", "0d 18:30 pitch|1d 10:00 airlock=still step=check|1d 22:00 started", "1d 23:00", "check-again", "done"},
		{"clear settles the look", "small-jug", "0d 18:30 pitch|1d 18:30 started|26d 10:00 0.998@20|37d 10:00 clear", "37d 11:00", "look", "lapsed done waiting"},
		{"a later entry than now is left out", "small-jug", "0d 18:30 pitch|1d 18:00 degas", "1d 17:59", "degas", "due waiting"},
	} {
		d := jug{plan: c.plan, gravity: "1.084", log: c.log}.day(c.now)
		assert.Equal(t, c.want, states(d, c.step), c.what)
	}
}

// TestStillAirlockIsAskedAgain: twelve hours after the answer.
func TestStillAirlockIsAskedAgain(t *testing.T) {
	d := jug{plan: "small-jug", gravity: "1.084", log: "0d 18:30 pitch|1d 10:00 airlock=still step=check"}.day("1d 11:00")
	got, _ := task(d, "check-again")
	assert.Equal(t, at("1d 22:00"), got.Due)
}

// TestAssumedPitch: if gravity fell without a pitch, it asks when it was pitched.
func TestAssumedPitch(t *testing.T) {
	d := jug{plan: "small-jug", gravity: "1.084", log: "0d 18:30 look|2d 18:30 1.080@20"}.day("2d 19:00")
	got, _ := task(d, "pitch")
	assert.Equal(t, schedule.Due, got.State)
	assert.True(t, got.Asks)
	assert.Equal(t, "when was it pitched?", got.Say)
	d = jug{plan: "small-jug", gravity: "1.084", log: "0d 18:30 look|2d 18:30 1.0811@20"}.day("2d 19:00")
	got, _ = task(d, "pitch")
	assert.False(t, got.Asks, "a fall of 0.0029 is none")
	assert.Equal(t, schedule.Late, got.State, "from the first entry")
}

// TestEndedFermentHasNoTasks: dumped, closed or blended away.
func TestEndedFermentHasNoTasks(t *testing.T) {
	for _, end := range []string{"dump", "close", "blend left=0L"} {
		d := jug{plan: "small-jug", gravity: "1.084", log: "0d 18:30 pitch|3d 10:00 " + end}.day("3d 11:00")
		assert.Empty(t, d.Tasks, end)
	}
}

// TestReminders: they appear on their day and stay until they are settled.
func TestReminders(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.084", log: "0d 18:30 pitch|1d 08:00 remind=2026-09-20 ;label it"}
	for _, c := range []struct{ now, want string }{
		{"6d 12:00", "waiting"}, {"7d 12:00", "due"}, {"8d 00:00", "due"}, {"8d 23:59", "due"}, {"9d 00:00", "late"},
	} {
		assert.Equal(t, c.want, states(j.day(c.now), schedule.Reminder), c.now)
	}
	got, _ := task(j.day("8d 12:00"), schedule.Reminder)
	assert.Equal(t, "label it", got.Reason)
}

// TestRemindersAreSettled: by an entry that names the step, the earliest first, even before its day.
func TestRemindersAreSettled(t *testing.T) {
	two := "0d 18:30 pitch|1d 08:00 remind=2026-09-22 ;label it|1d 09:00 remind=2026-09-20 ;wash the bung"
	for _, c := range []struct{ log, now, want string }{ // in the order they were asked for
		{two, "11d 12:00", "late late"},
		{two + "|9d 12:00 step=reminder", "11d 12:00", "late done"},
		{two + "|9d 12:00 skipped=reminder because=away", "11d 12:00", "late skipped"},
		{two + "|2d 12:00 step=reminder", "11d 12:00", "late done"},
		{two + "|9d 12:00 step=reminder|10d 12:00 step=reminder", "11d 12:00", "done done"},
		{"0d 18:30 pitch|0d 19:00 step=reminder|1d 08:00 remind=2026-09-22", "11d 12:00", "late"},
		{"0d 18:30 pitch|1d 08:00 remind=2026-09-20|9d 12:00 step=reminder remind=2026-09-25", "11d 12:00", "done waiting"},
	} {
		got := map[int]string{}
		for _, task := range (jug{plan: "small-jug", gravity: "1.084", log: c.log}).day(c.now).Tasks {
			if task.Step == schedule.Reminder {
				got[task.Occurrence] = string(task.State)
			}
		}
		assert.Equal(t, c.want, strings.TrimSpace(got[1]+" "+got[2]), c.log)
	}
}

// TestReadAgainCanBePassedOver, until the next reading raises the question again.
func TestReadAgainCanBePassedOver(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.084", log: fed + "5d 08:00 1.060|6d 08:00 1.060"}
	assert.Equal(t, "waiting", states(j.day("6d 12:00"), schedule.ReadAgain))
	assert.Equal(t, "late", states(j.day("10d 12:00"), schedule.ReadAgain))
	j.log += "|9d 12:00 skipped=read-again because=away"
	assert.Equal(t, "skipped", states(j.day("10d 12:00"), schedule.ReadAgain))
}

// TestClockChange: days keep the hour, hours are absolute. In Dublin the night of 24 to 25 October is an hour longer.
func TestClockChange(t *testing.T) {
	j := jug{plan: "small-jug", gravity: "1.084", log: "41d 18:30 pitch"} // 23 October
	got, _ := task(j.day("43d 09:00"), "degas")
	assert.Equal(t, 18, got.Due.Hour())
	assert.Equal(t, at("43d 18:30"), got.Due)
	j.log = "42d 06:00 pitch|42d 22:00 started" // nutrient 1 is due six hours after
	got, _ = task(j.day("43d 02:00"), "nutrient-1")
	assert.Equal(t, at("43d 03:00"), got.Due, "23:00, 00:00, 01:00, 01:00 again, 02:00, 03:00")
}
