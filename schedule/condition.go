package schedule

import "cellar/jugkeeper/ferment"

// holds tells whether a condition holds now. What the record cannot answer
// does not hold.
func (p *planner) holds(c ferment.Condition) bool {
	switch c.Kind {
	case ferment.StepDone:
		return p.anchor(c.Word, false, p.now).known
	case ferment.HasStarted:
		return p.hasStarted()
	case ferment.ActAtLeastAgo, ferment.ActUnderAgo:
		return p.agoHolds(c)
	case ferment.KeySince:
		step := p.anchor(c.Step, false, p.now)
		ts := p.times[c.Word]
		return step.known && len(ts) > 0 && ts[len(ts)-1].After(step.at)
	}
	holds, known := p.c.Holds(c)
	return holds && known
}

// agoHolds is about the last time an act was done.
func (p *planner) agoHolds(c ferment.Condition) bool {
	last := p.anchor(c.Word, true, p.now)
	if !last.known {
		return false
	}
	ago := p.passed(c.Offset.Add(last.at))
	return ago == (c.Kind == ferment.ActAtLeastAgo)
}

// hasStarted is about what was seen; an assumed start does not count.
func (p *planner) hasStarted() bool {
	return p.c.Started.Known && !p.c.Started.Assumed && !p.c.Started.At.After(p.now)
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

// frees is the act or measurement that can make a condition hold; nothing for
// what only time brings.
func (p *planner) frees(c ferment.Condition) string {
	switch c.Kind {
	case ferment.StepDone:
		if i, ok := p.index[c.Word]; ok {
			return p.steps[i].Do
		}
		return c.Word
	case ferment.KeySince:
		return c.Word
	case ferment.ActAtLeastAgo:
		if len(p.times[c.Word]) == 0 {
			return c.Word
		}
		return ""
	}
	return freedBy[c.Kind]
}

var freedBy = map[ferment.ConditionKind]string{
	ferment.HasStarted: string(ferment.Started),
	ferment.IsClear:    string(ferment.Look), ferment.Smells: string(ferment.Look), ferment.Saw: string(ferment.Look),
	ferment.DryAirlock: string(ferment.Look), ferment.Feels: string(ferment.Squeeze),
	ferment.AtBreak: ferment.DoGravity, ferment.Below: ferment.DoGravity, ferment.NearFinish: ferment.DoGravity,
	ferment.Steady: ferment.DoGravity, ferment.Dry: ferment.DoGravity,
	ferment.PHOver: ferment.DoPH, ferment.PHUnder: ferment.DoPH,
	ferment.Stabilised: string(ferment.Sulphite), ferment.HasVerdict: string(ferment.Verdict),
	ferment.IsPrimed: string(ferment.Prime), ferment.HissOver: string(ferment.Open), ferment.HissUnder: string(ferment.Open),
}
