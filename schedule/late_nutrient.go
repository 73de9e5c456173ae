package schedule

import (
	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/nutrient"
)

// LateNutrient is the step of the one dose of yeast-derived nutrient that may
// be chosen between the two breaks, where a planned dose has lapsed.
const LateNutrient = "nutrient-late"

// lateNutrient offers that dose, once.
func (p *planner) lateNutrient(tasks []Task) []Task {
	n, atHand := p.organic()
	if !atHand || p.nutrient.zone != late || p.lateGiven() {
		return nil
	}
	step, lapsed := p.lapsedDose(tasks)
	if !lapsed {
		return nil
	}
	t := Task{Subject: p.c.Ferment.ID, Step: LateNutrient, Occurrence: 1, Do: string(ferment.Nutrient), State: Due, Open: true,
		Opens: p.nutrient.past.At, Due: p.nutrient.past.At, Option: true, Routine: true, Also: []ferment.Act{ferment.Degas},
		Until: p.limitAt(p.nutrient.last), Caution: p.caution(bareSteps.nutrient), Amount: p.doseOf(step, n),
		Reason: "yeast-derived, once, down to " + p.nutrient.last.String() + ", the " + p.c.Limits.OrganicUntil.Sign() + " break"}
	if h, held := p.lateHold(); held {
		t.State, t.Reason, t.Frees, t.hold = Held, h.reason, h.frees, &h
	}
	return []Task{t}
}

// lateGiven tells whether nutrient has gone in since the planned doses lapsed.
func (p *planner) lateGiven() bool {
	for _, e := range p.entries {
		if e.Step == LateNutrient || e.Skipped == LateNutrient ||
			e.Did == ferment.Nutrient && p.momentOf(e).After(p.nutrient.past.At) {
			return true
		}
	}
	return false
}

// lapsedDose is the last planned dose that gravity has closed.
func (p *planner) lapsedDose(tasks []Task) (step int, ok bool) {
	for _, t := range tasks {
		if i, is := p.index[t.Step]; is && t.State == Lapsed && t.Do == string(ferment.Nutrient) && p.steps[i].Share > 0 {
			step, ok = i, true
		}
	}
	return step, ok
}

// doseOf is the nitrogen of one planned dose in another nutrient.
func (p *planner) doseOf(step int, n nutrient.Nutrient) *Amount {
	d := p.doses
	i, planned := d.part[step]
	if d.unknown != "" || !planned {
		return &Amount{Of: n.Name, Unknown: d.unknown}
	}
	one, err := nutrient.Plan(d.plan.Each[i].Nitrogen, d.volume, []nutrient.Part{{Share: 100, Of: n}})
	if err != nil {
		return &Amount{Of: n.Name, Unknown: err.Error()}
	}
	a := d.of(n, one.Total, p.c.Settings.Weighs)
	a.How = "the nitrogen of " + p.label(p.steps[step])
	return a
}

// lateHold is why the late dose may not be given at the moment.
func (p *planner) lateHold() (hold, bool) {
	if h, soon := p.tooSoon(string(ferment.Nutrient)); soon {
		return h, true
	}
	return p.stale()
}
