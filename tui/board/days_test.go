package board_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/board"
	"cellar/jugkeeper/tui/theme"
)

// The days ahead are under their names, a task of two jugs of a trial in one line; days without tasks are named once,
// at the end.
func TestDaysAhead(t *testing.T) {
	day := func(tag, act string, due time.Time, e *course.Expected) words.Line {
		return words.Line{Subject: tag, Tag: tag, Trial: "lime", Word: words.Coming, Act: act, Until: "some day",
			Task: schedule.Task{Step: act, State: schedule.Waiting, Opens: due.Add(-time.Hour), Due: due, Closes: due.Add(time.Hour), Expected: e}}
	}
	s := words.Sheet{At: at(7, 7, 4), Days: 5, Tasks: []words.Line{heathDegas,
		day("LIME-A", "degas", at(8, 8, 0), nil), day("LIME-B", "degas", at(8, 8, 0), nil),
		day("LIME-A", "nutrient 2", at(9, 14, 0), &course.Expected{At: at(9, 14, 0), Within: 4 * time.Hour}),
		day("LIME-A", "rack", at(10, 9, 0), &course.Expected{At: at(10, 9, 0), Within: 40 * time.Hour}),
	}}
	text := board.Today(s, 80, theme.Theme{})
	assert.Equal(t, `
Thursday 8 October
LIME-A,B             degas                                                 08:00

Friday 9 October
LIME-A               nutrient 2                                      about 14:00

Saturday 10 October
LIME-A               rack                                               any time

Nothing is planned for Sunday 11 October and Monday 12 October.
`, text[strings.Index(text, "\nThursday"):])
	assert.Contains(t, board.Today(s, 38, theme.Theme{}), "Friday 9 October\nLIME-A nutrient 2, about 14:00\n")
	assert.Contains(t, board.Plain(s, 80), "Friday 9 October\nLIME-A  COMING  nutrient 2. About 14:00.\n")
}
