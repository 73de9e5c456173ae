package words_test

import (
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/words"
)

// A row has 40 columns for a reason: the short form says what to do first, the long one is in whole sentences.
func TestReasonsInTwoLengths(t *testing.T) {
	held := func(do, frees string, why schedule.Hold) schedule.Task {
		return schedule.Task{Step: do, Do: do, State: schedule.Held, Frees: frees, Hold: &why, Until: &schedule.Limit{Gravity: 1.0637}}
	}
	lapsed := func(do string, past ferment.BreakLimit, reason string) schedule.Task {
		return schedule.Task{Step: do, Do: do, State: schedule.Lapsed, Past: past, Reason: reason}
	}
	late := func(do string, hours int) schedule.Task {
		return schedule.Task{Step: do, Do: do, State: schedule.Late, Opens: at(1, 0, 0), Closes: now.Add(-time.Duration(hours) * time.Hour)}
	}
	dose := late("nutrient", 14)
	dose.Until = &schedule.Limit{Gravity: 1.0511, Expected: &course.Expected{At: at(11, 13, 0), Within: time.Hour}}
	asks := late("look", 5)
	asks.Asks = true
	look := held("passage", "look", schedule.Hold{Need: ferment.Condition{Kind: ferment.Smells, Word: "clean"}})
	look.Reason = "it is not smell clean by the record"
	look.Answer = "look at it: is the smell clean?"
	for _, c := range []struct {
		task        schedule.Task
		read        time.Time
		short, long string
	}{
		{held("nutrient", "started", schedule.Hold{}), now,
			"check for bubbles first (not started)", "No sign of fermentation yet. Check for bubbles, or take gravity."},
		{held("nutrient", "gravity", schedule.Hold{}), now.Add(-41 * time.Hour),
			"take gravity first (last 41 h ago)", "The last reading is 41 h old; a dose needs one from the last 36 h. Take gravity first."},
		{held("nutrient", "gravity", schedule.Hold{}), now.Add(-20 * time.Hour),
			"take gravity first: likely past 1.064", "The last reading was 1.067, but it has probably passed 1.064, the limit for this dose. Take gravity first."},
		{held("buffer", "", schedule.Hold{Wait: &schedule.Wait{What: "4 g went in", Since: now.Add(-6 * time.Hour), Until: at(7, 19, 0)}}), now,
			"wait until 19:00 (4 g went in 6 h ago)", "4 g went in 6 h ago. Wait until 19:00."},
		{held("honey", "", schedule.Hold{Wait: &schedule.Wait{What: "it was stabilised", Since: now.Add(-6 * time.Hour), Until: at(8, 13, 0)}}), now,
			"wait until Thu 13:00", "It was stabilised 6 h ago. Wait until Thu 13:00."},
		{held("bottle", "forced-test", schedule.Hold{Gate: ferment.StillGate}), now,
			"start the forced test first", "Sugar may be left that restarts in the bottle. Start the forced test: it shows in 5 to 7 days."},
		{held("bottle", "gravity", schedule.Hold{Gate: ferment.ConditioningGate}), now,
			"not yet: steady 14 of 28 days", "Not ready to bottle: steady. Take gravity on Saturday. 1 more thing on its page."},
		{look, now, "smell the culture first", "It is not smell clean by the record. Look at it: is the smell clean?"},
		{dose, now, "14 h late: give it above 1.051", "14 h late: give it before gravity reaches 1.051"},
		{late("rack", 9*24), now, "9 days late: take it off the old yeast", "9 days late. Left on the sediment, the mead tastes of old yeast."},
		{asks, now, "was it done? mark it, or skip it", "The time for this is over and nothing is written down. Was it done? Mark it as done with its time, or skip it."},
		{lapsed("nutrient", ferment.BreakLimit{Of: 1, In: 2}, "1.048 is past the ½ break"), now,
			"too late: half of the sugar is gone", "too late: 1.048 is past the ½ break"},
		{lapsed("nutrient", ferment.BreakLimit{}, "9.4 % is over 9 %"), now, "9.4 % is over 9 %", "9.4 % is over 9 %"},
		{lapsed("aerate", ferment.BreakLimit{}, "its time is over"), now,
			"too late: do not add air now", "too late: do not add air now; it would stale the mead"},
	} {
		v := vessel("HEATH", "heath", course.Working, at(2, 19, 0), 1.067, c.read)
		v.Course.Limits = ferment.DefaultLimits()
		v.Course.Limits.SteadyDays = 28
		v.Course.Steady.Days = 14
		v.Day.Gates = []schedule.Gate{
			{Name: ferment.StillGate, Unmet: []course.Unmet{{What: "a forced test"}}},
			{Name: ferment.ConditioningGate, Unmet: []course.Unmet{{What: "steady", Frees: "take gravity on Saturday", Act: "gravity"}, {What: "clear"}}},
		}
		l := words.LineOf(c.task, v, now)
		assert.Equal(t, c.short, l.Short)
		assert.Equal(t, c.long, l.Reason)
		assert.LessOrEqual(t, ansi.StringWidth(l.Short), 40)
	}
}

// The parts of a day begin at 5, 11, 15 and 22; the small hours are part of the night before.
func TestLimitsByPartOfTheDay(t *testing.T) {
	for want, early := range map[string]time.Time{
		"by noon": at(7, 11, 0), "by this evening": at(7, 21, 59), "by tonight": at(8, 4, 59), "by Thu morning": at(8, 5, 0),
		"by Sun noon": at(11, 12, 0), "by Thu 15 Oct": at(15, 12, 0),
	} {
		dose := lateDose
		dose.Until = &schedule.Limit{Gravity: 1.0445, Expected: &course.Expected{At: early.Add(2 * time.Hour), Within: 2 * time.Hour}}
		v := vessel("HEATH", "heath", course.Working, at(2, 19, 0), measure.Gravity(1.0612), at(6, 19, 10))
		assert.Equal(t, want, words.LineOf(dose, v, now).Until)
	}
}
