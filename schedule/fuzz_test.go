package schedule_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/protocols"
)

// Whatever is in a protocol: it is read or has problems, and what was read can be planned on any day, with a reason for
// every task.
func FuzzProtocol(f *testing.F) {
	for _, text := range protocols.Files() {
		f.Add(text)
	}
	day := time.Date(2026, time.September, 1, 9, 0, 0, 0, time.UTC)
	jug := ferment.Ferment{ID: "a", Log: []ferment.Entry{
		{At: ferment.At(day), Did: ferment.Pitch}, {At: ferment.At(day.AddDate(0, 0, 1)), Order: 1, Did: ferment.Started},
	}}
	settings := ferment.DefaultSettings(time.UTC)
	f.Fuzz(func(t *testing.T, text []byte) {
		p, problems := journal.ReadProtocol("protocols/a.yaml", text)
		for _, problem := range problems {
			require.NotEmpty(t, problem.Message)
			require.Equal(t, ferment.Harmless(problem.Message), problem.Message)
		}
		limits := settings.Limits
		if p.Limits != nil {
			limits = p.Limits(limits)
		}
		for _, days := range []int{0, 3, 40, 400} {
			c := course.Of(jug, settings, limits, day.AddDate(0, 0, days))
			for _, task := range schedule.Plan(p, c).Tasks {
				require.NotEmpty(t, task.Reason, task.Step)
			}
		}
	})
}
