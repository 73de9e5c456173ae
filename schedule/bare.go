package schedule

import "cellar/jugkeeper/ferment"

// bareSteps are what is done without a plan that says so.
var bareSteps = struct{ pitch, nutrient ferment.Step }{
	pitch: ferment.Step{
		Name: string(ferment.Pitch), Do: string(ferment.Pitch), Amount: byFigure, Missed: ferment.Late,
		Due:    ferment.When{Point: ferment.Point{Anchor: string(ferment.Mix)}, Text: string(ferment.Mix)},
		Window: ferment.Window{Opens: ferment.Offset{Unit: ferment.Hour}, Closes: ferment.Offset{Number: 24, Unit: ferment.Hour}},
	},
	nutrient: ferment.Step{Name: string(ferment.Nutrient), Do: string(ferment.Nutrient)},
}

// assumedPitch asks when the yeast went in, where gravity has fallen and nobody
// wrote a pitch down.
func (p *planner) assumedPitch(i int) (Task, bool) {
	first, _ := p.firstStepOf(string(ferment.Pitch))
	if i != first || p.steps[i].Do != string(ferment.Pitch) || !p.c.Pitch.Known || !p.c.Pitch.Assumed {
		return Task{}, false
	}
	at := p.c.Pitch.At.In(p.zone)
	return Task{Subject: p.c.Ferment.ID, Step: p.steps[i].Name, Title: p.steps[i].Title, Occurrence: 1, Do: string(ferment.Pitch),
		State: Due, Open: true, Opens: at, Due: at, Asks: true, Say: "when was it pitched?",
		Reason: "gravity has fallen and no pitch is recorded; it is taken as " + dated(at)}, true
}
