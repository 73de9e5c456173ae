package schedule

import (
	"cmp"
	"fmt"
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
)

// Plan returns what a ferment or a culture needs at the moment of its course: tasks of every state. A waiting task
// without a due time depends on something that cannot be dated yet.
func Plan(p ferment.Protocol, c *course.Course) Day { return PlanAhead(p, c, 0) }

// PlanAhead is Plan with every time of a repeated step within some days, not the next alone.
func PlanAhead(p ferment.Protocol, c *course.Course, days int) Day {
	if c.Over() {
		return Day{}
	}
	pl := newPlanner(p, c)
	pl.horizon = ferment.Later(pl.dayEnd, pl.now.AddDate(0, 0, days))
	pl.quiet = pl.quietNow()
	if z := pl.nutrient.zone; z == open || z == grace {
		pl.mergeDoses()
	}
	tasks := make([]Task, 0, 3*len(pl.steps)/2)
	for i := range pl.steps {
		tasks = pl.tasksOf(i, tasks)
	}
	tasks = append(pl.sparingBottles(tasks), pl.lateNutrient(tasks)...)
	tasks = append(append(pl.hush(tasks, pl.quiet), pl.reminders()...), pl.readAgain()...)
	tasks = pl.inTime(pl.remedied(tasks))
	tasks = pl.sparing(pl.alarms(append(tasks, pl.forgotten(tasks)...)))
	sortTasks(tasks)
	return Day{Tasks: tasks, Gates: pl.gates.all(), Quiet: pl.quiet}
}

// InUnits converts the quantities in braces of a plan to a system of units.
func InUnits(p ferment.Protocol, s measure.System) ferment.Protocol {
	p.Steps = slices.Clone(p.Steps)
	for i, step := range p.Steps {
		p.Steps[i].Say, p.Steps[i].Amount = measure.Fill(step.Say, s), measure.Fill(step.Amount, s)
	}
	return p
}

// Merge returns a plan followed by the steps of its endings, without names that it already has.
func Merge(p ferment.Protocol, endings ...ferment.Protocol) ferment.Protocol {
	merged, all := p, append([]ferment.Protocol{p}, endings...)
	merged.Steps, merged.Complete = nil, true
	have := map[string]bool{}
	for _, one := range all {
		for _, s := range one.Steps {
			if !have[s.Name] {
				have[s.Name] = true
				complete(&s)
				merged.Steps = append(merged.Steps, s)
			}
		}
	}
	merged.Limits = func(l ferment.Limits) ferment.Limits {
		for _, one := range all {
			if one.Limits != nil {
				l = one.Limits(l)
			}
		}
		return l
	}
	return merged
}

// Refusal returns the reason against doing a task now; nil for none. Task and day are of one Plan of the course; an act
// without a task is passed as a task with that act and no state.
func Refusal(t Task, d Day, c *course.Course) *No {
	switch {
	case t.Hold != nil:
		return refusalOf(*t.Hold, d)
	case t.State == Due, t.State == Late:
		return nil
	}
	p := newPlanner(ferment.Protocol{}, c)
	s := ferment.Step{Name: t.Step, Do: t.Do, Gate: gateOfAct(ferment.Act(t.Do), c.Ferment)}
	if h, held := p.heldBy(s); held {
		no, n, l := refusalOf(h, d), p.nutrient, c.Limits
		switch {
		case no.Verdict == "too soon" && p.doses.unknown == "":
			no.Why = append(no.Why, p.doses.givenWords())
		case no.Verdict == "closed" && n.zone == late:
			no.Why = []string{
				fmt.Sprintf("it ends %s past the %s break, at %s", decimal(l.Grace), l.AmmoniumUntil.Sign(), n.grace),
				fmt.Sprintf("it was at %s on %s, and gravity only falls", n.past.Gravity.Rounded(4), dated(n.past.At.In(p.zone))),
			}
		}
		return no
	}
	if h, early := p.early(t.Do); early {
		return refusalOf(h, d)
	}
	if s.Gate == ferment.NutrientGate && p.doses.allGiven() {
		return &No{Name: string(s.Gate), Verdict: "enough", Why: []string{p.doses.givenWords()}}
	}
	return nil
}

// refusalOf returns what a person is told when an act is refused: why, and what to do instead.
func refusalOf(h Hold, d Day) *No {
	no := &No{Name: h.name, Verdict: h.verdict, Why: []string{h.reason}, Instead: cmp.Or(h.instead, h.asks)}
	switch {
	case no.Instead != "", h.frees == "":
	case h.frees == string(ferment.Started):
		no.Instead = "check that it has started, and write it down: started"
	case ferment.IsMeasurement(h.frees):
		no.Instead = "read " + h.frees + " first"
	default:
		no.Instead = h.frees + " first"
	}
	if h.verdict != "closed" {
		return no
	}
	for _, t := range d.Tasks {
		if t.Step == LateNutrient && t.State == Due {
			no.Option, no.Instead = &t, t.Reason
		}
	}
	return no
}

// gateOfAct returns the gate of an act that the plan does not ask for.
func gateOfAct(act ferment.Act, f ferment.Ferment) ferment.Gate {
	switch act {
	case ferment.Nutrient:
		return ferment.NutrientGate
	case ferment.Prime:
		return ferment.ConditioningGate
	case ferment.Bottle:
		if f.EndsAs(ferment.BottleConditioned) && !f.EndsAs(ferment.Still) {
			return ferment.ConditioningGate
		}
		return ferment.StillGate
	}
	return ferment.NoGate
}

// Bottling is the reasons against filling some bottles.
type Bottling struct {
	Gates []Gate   // those that apply to the bottles: still, conditioning, or both
	Stop  *No      // a danger in the record, or too much pressure for a bottle; nil for none
	Near  string   // over four fifths of a bottle's limit, in words; empty for less
	Still *Caution // for bottles without fizz
}

// BottlingOf returns the reasons against filling these bottles now: a danger in the record, too much pressure for one
// of them, a gate that is shut. The conditioning gate is about these bottles only.
func BottlingOf(c *course.Course, bottles []Filled) Bottling {
	var b Bottling
	r := newRecord(c)
	f := filling{r, []Filled{}}
	for _, one := range bottles {
		if one.Fizz <= 0 {
			b.Still = StillCaution(c)
		} else {
			f.bottles = append(f.bottles, one)
		}
	}
	g := newGates(f, newNutrition(r))
	if len(f.bottles) < len(bottles) {
		b.Gates = append(b.Gates, g.gate(ferment.StillGate))
	}
	if len(f.bottles) > 0 {
		b.Gates = append(b.Gates, g.gate(ferment.ConditioningGate))
		if near, is, _ := f.atLoad(carbonation.Watch); is {
			b.Near = near
		}
	}
	if h, stops := f.stopped(string(ferment.Bottle)); stops {
		b.Stop = refusalOf(h, Day{})
	}
	return b
}
