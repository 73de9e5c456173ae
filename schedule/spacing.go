package schedule

import (
	"fmt"
	"time"

	"cellar/jugkeeper/ferment"
)

// bufferSpacing is how long a dose and a buffer stand apart: both foam (common
// practice, no source).
const bufferSpacing = 6 * time.Hour

// tooSoon is why a dose or a buffer may not follow what went in last.
func (p *planner) tooSoon(do string) (hold, bool) {
	switch ferment.Act(do) {
	case ferment.Nutrient:
		if h, soon := p.apart(ferment.Nutrient, p.c.Limits.Spacing, "doses stand %s apart"); soon {
			return h, true
		}
		return p.apart(ferment.Buffer, bufferSpacing, "a dose and a buffer stand %s apart")
	case ferment.Buffer:
		return p.apart(ferment.Nutrient, bufferSpacing, "a dose and a buffer stand %s apart")
	}
	return hold{}, false
}

func (p *planner) apart(act ferment.Act, spacing time.Duration, rule string) (hold, bool) {
	last, ok := p.c.Last(act)
	if !ok {
		return hold{}, false
	}
	again := last.At.Latest().Add(spacing)
	if p.passed(again) {
		return hold{}, false
	}
	went := string(act)
	if last.Amount.Known() {
		went = last.Amount.Text
	}
	why := fmt.Sprintf("%s went in at %s; "+rule+": not before %s", went, p.clock(last.At.Time), span(spacing), p.clock(again))
	return hold{name: "spacing", verdict: "too soon", reason: why}, true
}

// mergeDoses lets a missed dose go over to the next where both are due now, and
// lets the next wait for the first where they are not.
func (p *planner) mergeDoses() {
	z := p.nutrient.zone
	if z != open && z != grace {
		return
	}
	// Pairs in the order of due time: a dose that is taken over may take its own
	// predecessor with it, because each pair is looked at once, the earlier first.
	due := p.dosesInList()
	for i := 1; i < len(due); i++ {
		missed, next := due[i-1], due[i]
		at := mergesAt(missed, next)
		if p.passed(at) {
			p.merged[missed.slot], p.mergedAt[missed.slot] = next.slot, at
		} else {
			p.delayed[next.slot] = at
		}
	}
}

// dosesInList are the planned doses that are not given yet and may be within
// the day's list, by due time.
func (p *planner) dosesInList() []occurrence {
	var due []occurrence
	for _, o := range p.unsettledOf(string(ferment.Nutrient), p.dayEnd) {
		if s := p.steps[o.step]; !s.Option && !p.anyHolds(s.Unless) {
			due = append(due, o)
		}
	}
	return due
}

// takesOver tells whether an occurrence has taken over a missed dose that is
// not given yet.
func (p *planner) takesOver(o occurrence) bool {
	for missed, next := range p.merged {
		if next == o.slot && !p.isSettled(occurrence{slot: missed}) {
			return true
		}
	}
	return false
}
