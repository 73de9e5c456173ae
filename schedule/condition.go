package schedule

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// holds tells whether a condition holds now. What the record cannot answer
// does not hold.
func (p *planner) holds(c ferment.Condition) bool {
	holds, known := p.c.HoldsIn(inPlan{p}, c)
	return holds && known
}

func (p *planner) anyHolds(cs []ferment.Condition) bool {
	for _, c := range cs {
		if p.holds(c) {
			return true
		}
	}
	return false
}

// firstUnmet is the first condition that does not hold.
func (p *planner) firstUnmet(cs []ferment.Condition) (ferment.Condition, bool) {
	for _, c := range cs {
		if !p.holds(c) {
			return c, true
		}
	}
	return ferment.Condition{}, false
}

// inPlan is what a condition may ask of the plan, as of now.
type inPlan struct{ *planner }

// Done is when an act, a measurement or a step was done.
func (p inPlan) Done(name string, last bool) (time.Time, bool) {
	i := p.anchor(name, last, p.now)
	return i.at, i.known
}

// Noted is when an act or a measurement was last written down.
func (p inPlan) Noted(name string) (time.Time, bool) {
	ts := p.times[name]
	if len(ts) == 0 {
		return time.Time{}, false
	}
	return ts[len(ts)-1], true
}

// Does is what a step of the plan does.
func (p inPlan) Does(step string) string {
	if i, ok := p.index[step]; ok {
		return p.steps[i].Do
	}
	return step
}

// Passed tells whether a time has come.
func (p inPlan) Passed(t time.Time) bool { return p.passed(t) }

// Clock is a time as near as it needs to be named.
func (p inPlan) Clock(t time.Time) string { return p.clock(t) }
