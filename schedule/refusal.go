package schedule

import (
	"fmt"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
)

// Refusal returns what stands against doing a task now; nil for nothing. Task and day are of one Plan of the course; an act
// without a task is a task with that act and no state.
func Refusal(t Task, d Day, c course.Course) *No {
	switch {
	case t.hold != nil:
		return refusalOf(*t.hold, d)
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

func refusalOf(h hold, d Day) *No {
	no := &No{Name: h.name, Verdict: h.verdict, Why: []string{h.reason}, Instead: h.instead}
	switch {
	case no.Instead != "", h.frees == "":
	case h.frees == string(ferment.Started):
		no.Instead = "check that it has started, and write started"
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

// gateOfAct returns the gate before an act that no plan asks for.
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

// Bottling is what the record says to filling some bottles.
type Bottling struct {
	Gates []Gate   // those that the bottles have to pass: still, conditioning, or both
	Stop  *No      // a danger in the record, or a pressure over what a bottle stands; nil for none
	Near  string   // over four fifths of what a bottle stands, in words; empty for less
	Still *Caution // of bottles without fizz
}

// BottlingOf returns what stands against filling these bottles now: a danger in the
// record, a pressure over what one of them stands, a gate that is shut. The gate
// of conditioning looks at these bottles and no others.
func BottlingOf(c course.Course, bottles []Filled) Bottling {
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
		if near, is, _ := f.loaded(carbonation.Watch); is {
			b.Near = near
		}
	}
	if h, stops := f.stopped(string(ferment.Bottle)); stops {
		b.Stop = refusalOf(h, Day{})
	}
	return b
}
