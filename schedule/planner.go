package schedule

import (
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/protocol"
)

// planner works out one day. It is made for one course and thrown away.
type planner struct {
	*ledger
	say      wording
	gates    *gates
	nutrient *nutrition
	doses    doses
	quiet    *Quiet
}

func newPlanner(p ferment.Protocol, c course.Course) *planner {
	r := newRecord(c)
	n := newNutrition(r)
	pl := &planner{say: wording{&r.c}, gates: newGates(filling{record: r}, n), nutrient: n}
	steps := stepsFor(p, c)
	pl.doses = newDoses(r, steps)
	pl.ledger = newLedger(newCalendar(r, steps))
	return pl
}

// stepsFor returns the steps that are meant for the subject, with their defaults.
func stepsFor(p ferment.Protocol, c course.Course) []ferment.Step {
	steps := make([]ferment.Step, 0, len(p.Steps)+1)
	pitches := false
	for _, s := range p.Steps {
		if s.Culture == (c.Culture != nil) {
			steps = append(steps, s)
			pitches = pitches || s.Do == string(ferment.Pitch)
		}
	}
	if c.Culture == nil && !pitches {
		steps = slices.Insert(steps, 0, barePitch)
	}
	for i := range steps {
		complete(&steps[i])
	}
	return steps
}

func complete(s *ferment.Step) {
	var every ferment.Offset
	if s.Repeat != nil {
		every = s.Repeat.Every
	}
	window, missed := protocol.DefaultWindow(s.Do, every)
	if s.Window == (ferment.Window{}) {
		s.Window = window
	}
	if s.Missed == "" {
		s.Missed = missed
	}
	if s.Do == string(ferment.Nutrient) && s.Gate == ferment.NoGate {
		s.Gate = ferment.NutrientGate
	}
}

// barePitch is the pitch of a plan that has none.
var barePitch = ferment.Step{
	Name: string(ferment.Pitch), Do: string(ferment.Pitch), Amount: byFigure, Missed: ferment.Late,
	Due:    ferment.When{Point: ferment.Point{Anchor: string(ferment.Mix)}, Text: string(ferment.Mix)},
	Window: ferment.Window{Opens: ferment.Offset{Unit: ferment.Hour}, Closes: ferment.Offset{Number: 24, Unit: ferment.Hour}},
}
