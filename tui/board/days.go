package board

import (
	"fmt"
	"strings"

	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/layout"
)

// daysAhead returns the days ahead that have tasks, each under its name, and last the
// days that have none. Share puts the same task of several vessels into one; head writes
// the name of a day, say a task of it.
func daysAhead(s words.Sheet, width int, share func([]words.Line) []words.Line, head func(string) string, say func(words.Line) []string) []string {
	var rows, idle []string
	for n := 1; n <= s.Days; n++ {
		day, lines := s.At.AddDate(0, 0, n), s.On(n)
		if len(lines) == 0 {
			idle = append(idle, day.Format("Monday 2 January"))
			continue
		}
		rows = append(rows, "", head(day.Format("Monday 2 January")))
		for _, l := range share(lines) {
			rows = append(rows, say(l)...)
		}
	}
	if text := layout.Wrap(nothingOn(idle, s.Days), width); len(text) > 0 {
		rows = append(append(rows, ""), text...)
	}
	return rows
}

// nothingOn names the days on which nothing is planned; of more than three only how many
// they are.
func nothingOn(idle []string, days int) string {
	switch n := len(idle); {
	case n == 0:
		return ""
	case n > 3 && n == days:
		return fmt.Sprintf("Nothing is planned for the next %d days.", days)
	case n > 3:
		return fmt.Sprintf("Nothing is planned for the other %d days.", n)
	case n == 1:
		return "Nothing is planned for " + idle[0] + "."
	default:
		return "Nothing is planned for " + strings.Join(idle[:n-1], ", ") + " and " + idle[n-1] + "."
	}
}
