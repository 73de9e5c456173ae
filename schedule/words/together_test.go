package words_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/words"
)

// Equal tasks of a trial share a line; if anything but the vessel differs, each has its own.
func TestSameTaskOfATrialIsOneLine(t *testing.T) {
	one := func(id, tag, amount string) words.Line {
		return words.Line{Subject: id, Tag: tag, Trial: "lime", Word: words.Due, Act: "nutrient 2", Until: "by 20:00",
			Amount: words.Amount{Number: amount, Unit: "g"}, Task: schedule.Task{Step: "nutrient-2"}}
	}
	two := words.Shared([]words.Line{one("lime-a", "LIME-A", "1.4"), one("lime-b", "LIME-B", "1.4")})
	require.Len(t, two, 1)
	assert.Equal(t, "LIME-A,B", two[0].Tag)
	assert.Equal(t, "1.4 g each", two[0].Amount.String())
	assert.True(t, two[0].IsOf("lime-b"))
	assert.Equal(t, "LIME-A,B", words.Shared([]words.Line{one("lime-b", "LIME-B", "1.4"), one("lime-a", "LIME-A", "1.4")})[0].Tag, "whichever is due first")
	three := words.Shared([]words.Line{one("lime-a", "LIME-A", "1.4"), one("lime-b", "LIME-B", "1.4"), one("lime-c", "LIME-C", "1.4")})
	require.Len(t, three, 1)
	assert.Equal(t, "LIME-A–C", three[0].Tag)

	assert.Len(t, words.Shared([]words.Line{one("lime-a", "LIME-A", "1.4"), one("lime-b", "LIME-B", "1.3")}), 2, "another amount")
	assert.Len(t, words.Shared([]words.Line{one("lime-a", "LIME-A", "1.4"), one("sloe", "SLOE", "1.4")}), 2, "tags without a common part")
	other := one("lime-b", "LIME-B", "1.4")
	other.Trial = ""
	assert.Len(t, words.Shared([]words.Line{one("lime-a", "LIME-A", "1.4"), other}), 2, "of no trial")
}

// An open task is for today if it has at most 36 hours left or is due today; else for any day.
func TestAnyDayTasks(t *testing.T) {
	now := at(7, 7, 4)
	due := func(due, closes time.Time) schedule.Task {
		return schedule.Task{Do: "rack", State: schedule.Due, Open: true, Due: due, Closes: closes}
	}
	yesterday := now.AddDate(0, 0, -1)
	assert.Equal(t, words.Due, words.WordAt(due(yesterday, now.Add(36*time.Hour)), now))
	assert.Equal(t, words.AnyDay, words.WordAt(due(yesterday, now.Add(36*time.Hour+time.Minute)), now))
	assert.Equal(t, words.Due, words.WordAt(due(now, now.AddDate(0, 0, 9)), now), "meant for today")
	held := due(yesterday, now.AddDate(0, 0, 9))
	held.State = schedule.Held
	assert.Equal(t, words.Held, words.WordAt(held, now))
}
