package schedule_test

import (
	"fmt"
	"strings"
	"testing"

	"cellar/jugkeeper/schedule"
)

// logOf returns a log of n entries: an ordinary ferment, then looks and readings twice a week.
func logOf(n int) string {
	lines := strings.Split(ordinary, "|")
	for day := 20; len(lines) < n; day += 3 {
		lines = append(lines, fmt.Sprintf("%dd 09:00 look", day), fmt.Sprintf("%dd 10:00 0.997@20 17C", day))
	}
	return strings.Join(lines[:n], "|")
}

func BenchmarkPlan(b *testing.B) {
	for _, n := range []int{60, 600, 6000} {
		j := jug{plan: "small-jug still", gravity: "1.084", log: logOf(n)}
		c, p := j.course(fmt.Sprintf("%dd 09:00", 30+n*3/2)), j.protocol()
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				schedule.Plan(p, c)
			}
		})
	}
}
