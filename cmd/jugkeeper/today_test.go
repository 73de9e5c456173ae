package main

import (
	"bytes"
	"encoding/json"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// said returns what a command writes at a moment.
func said(t *testing.T, dir string, at time.Time, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	require.Equal(t, 0, run(append(args, "--at", at.Format("2006-01-02 15:04")), around(dir, &out, &errs)), errs.String())
	return out.String()
}

// TestTodayIsOneDay: text, JSON and calendar have the same tasks, over two and a half days and also ahead. The text
// also has what was done; the calendar has nothing that is over or optional.
func TestTodayIsOneDay(t *testing.T) {
	dir := demoCellar(t)
	line := regexp.MustCompile(`(?m)^(\S+) +(STOP|LATE|HELD|TODAY|ANY DAY|LATER|MISSED|OPTION|COMING) `)
	states := map[string]string{"STOP": "held", "TODAY": "due", "ANY DAY": "due", "MISSED": "lapsed", "LATER": "due", "OPTION": "due", "COMING": "waiting"}
	for hours := range 20 {
		require.NoError(t, os.RemoveAll(dir+"-home")) // without earlier calendars
		now := evening.Add(time.Duration(3*hours) * time.Hour)
		for _, days := range []string{"0", "2"} {
			var text, asJSON, events []string
			for _, m := range line.FindAllStringSubmatch(said(t, dir, now, "today", "--plain", "--days", days), -1) {
				state := strings.ToLower(m[2])
				if s, other := states[m[2]]; other {
					state = s
				}
				text = append(text, m[1]+" "+state)
			}
			var day todayJSON
			require.NoError(t, json.Unmarshal([]byte(said(t, dir, now, "today", "--json", "--days", days)), &day))
			add := func(tag, id string, tasks []taskJSON) {
				for _, task := range tasks {
					state := task.State
					if state == "due" && task.Opens != nil && *task.Opens > now.Format(time.RFC3339) && (*task.Due)[:10] > now.Format(time.DateOnly) {
						state = "waiting" // it opens today but is due on another day
					}
					asJSON = append(asJSON, tag+" "+state)
					if task.State != "lapsed" && !task.Option {
						events = append(events, id+"."+task.Step)
					}
				}
			}
			for _, f := range day.Ferments {
				add(f.Tag, f.Name, f.Tasks)
			}
			for _, c := range day.Cultures {
				add(c.Name, "culture."+c.Name, c.Tasks)
			}
			assert.ElementsMatch(t, text, asJSON, "%s, %s days", now, days)
			if days == "0" {
				continue // the calendar has forecasts, today does not
			}
			var ics []string
			for _, m := range regexp.MustCompile(`UID:(.*)\.\d+@`).FindAllStringSubmatch(said(t, dir, now, "export", "calendar", "--days", days), -1) {
				ics = append(ics, m[1])
			}
			slices.Sort(events)
			slices.Sort(ics)
			assert.Equal(t, events, ics, "%s", now)
		}
	}
}
