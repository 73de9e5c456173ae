package schedule

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// edges gathers the times at which something in a day may become different,
// and keeps the first of them that lies ahead.
type edges struct {
	now  time.Time
	next time.Time
}

func (e *edges) at(t time.Time) {
	if t.After(e.now) && (e.next.IsZero() || t.Before(e.next)) {
		e.next = t
	}
}

// passed tells whether a time has come, and remembers it as an edge.
func (p *planner) passed(t time.Time) bool {
	p.edges.at(t)
	return !t.After(p.now)
}

// endOfDay is where the day's list ends: the first morning at least eight
// hours ahead.
func (p *planner) endOfDay() time.Time {
	const ahead = 8 * time.Hour
	day := p.now.In(p.zone)
	for n := 0; ; n++ {
		y, m, d := day.AddDate(0, 0, n).Date()
		hour := int(p.c.Settings.Morning / time.Hour)
		minute := int(p.c.Settings.Morning % time.Hour / time.Minute)
		morning := time.Date(y, m, d, hour, minute, 0, 0, p.zone)
		if morning.Sub(p.now) >= ahead {
			p.edges.at(morning.Add(-ahead).Add(1))
			return morning
		}
	}
}

// midnight is an edge where a text names a day by how near it is.
func (p *planner) midnight() {
	y, m, d := p.now.In(p.zone).Date()
	p.edges.at(time.Date(y, m, d+1, 0, 0, 0, 0, p.zone))
}

// watchCourse marks when the course itself may say something else although
// nobody has written anything: what was read or done grows old.
func (p *planner) watchCourse() {
	if p.c.Pitch.Known {
		for _, h := range []time.Duration{24, 48, 96} {
			p.edges.at(p.c.Pitch.At.Add(h * time.Hour))
		}
	}
	days := []int{14, 28, 30, 60, p.c.Limits.SteadyDays, p.c.Limits.SteadyDaysWild}
	for _, e := range p.entries {
		if !e.HasDensity() && !ripens[e.Did] {
			continue
		}
		for _, n := range days {
			p.ripe(e.At.Time.AddDate(0, 0, n))
			p.ripe(e.At.Time.Add(time.Duration(n) * 24 * time.Hour))
		}
	}
	if p.c.CannotTell != nil {
		p.edges.at(p.c.CannotTell.ReadAgain)
	}
}

// ripe is an edge at a time and just after it: some ages count from it, others
// from when it is over.
func (p *planner) ripe(t time.Time) {
	p.edges.at(t)
	p.edges.at(t.Add(1))
}

// ripens are the acts whose age a gate looks at.
var ripens = map[ferment.Act]bool{
	ferment.Honey: true, ferment.ForcedTest: true, ferment.Sulphite: true, ferment.Sorbate: true, ferment.Chill: true, ferment.Bottle: true,
}
