package schedule

import (
	"fmt"
	"math"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/nutrient"
)

// byFigure is the amount of a step that is worked out.
const byFigure = "by figure"

// amount is how much an occurrence takes, nil where it takes nothing.
func (p *planner) amount(o occurrence) *Amount {
	s := p.steps[o.step]
	switch {
	case s.Do == string(ferment.Nutrient) && s.Share > 0:
		times := 1.0
		if p.takesOver(o) {
			times = mergedDoses
		}
		return p.doses.amount(o.step, times, p.c.Settings.Weighs)
	case s.Amount == byFigure:
		return p.figure(ferment.Act(s.Do))
	case s.Amount != "":
		return p.written(s)
	}
	return nil
}

// written is an amount that the plan says itself: by the litre, a quantity, or
// words.
func (p *planner) written(s ferment.Step) *Amount {
	a := &Amount{Of: s.Of, Words: s.Amount}
	q, err := measure.ParseQuantity(s.Amount)
	if err != nil {
		return a
	}
	if q.Dimension() != measure.OfContent {
		return &Amount{Known: true, Number: q.Number, Unit: q.Unit, Of: s.Of}
	}
	if !p.c.Volume.IsKnown() {
		return &Amount{Of: s.Of, Words: s.Amount, Unknown: p.c.Volume.Unknown}
	}
	v := p.c.Volume.Value
	grams := measure.Grams(q.Value() * float64(v))
	how := fmt.Sprintf("%s in %s", s.Amount, v.In(p.units()))
	if s.Do == string(ferment.Buffer) {
		if room, err := nutrient.BufferRoom(p.bufferGiven(), v); err == nil && room < grams {
			grams, how = room, how+fmt.Sprintf("; at most %s in all", nutrient.MostBuffer)
		}
	}
	return &Amount{Known: true, Number: grams.Grams(), Unit: "g", Of: s.Of, How: how, Stock: stockOf(grams, p.c.Settings.Weighs)}
}

// bufferGiven is the buffer that has gone into each litre.
func (p *planner) bufferGiven() measure.Content {
	return measure.Content(p.c.Given(ferment.Buffer).Grams() / float64(p.c.Volume.Value))
}

// AmountBy is the amount of an act that its equation gives of what a course
// says: yeast, starter, sugar for the bottles, sulphite, sorbate. Why there is no
// number stands in it.
func AmountBy(c course.Course, do ferment.Act) *Amount {
	return newPlanner(ferment.Protocol{}, c).figure(do)
}

// figure is the amount of an act that its equation gives.
func (p *planner) figure(do ferment.Act) *Amount {
	work, ok := figures[do]
	if !ok {
		return &Amount{Unknown: "nothing works out an amount for " + string(do)}
	}
	if !p.c.Volume.IsKnown() {
		return &Amount{Unknown: p.c.Volume.Unknown}
	}
	a, err := work(p)
	if err != nil {
		return &Amount{Unknown: err.Error()}
	}
	return a
}

var figures map[ferment.Act]func(*planner) (*Amount, error)

func init() {
	figures = map[ferment.Act]func(*planner) (*Amount, error){
		ferment.Pitch: yeastAmount, ferment.Starter: starterAmount, ferment.Prime: primingAmount,
		ferment.Sulphite: sulphiteAmount, ferment.Sorbate: sorbateAmount, ferment.Honey: honeyAmount,
	}
}

// aPacket is how much dry yeast a packet holds (common practice, no source).
const aPacket = 5

func yeastAmount(p *planner) (*Amount, error) {
	y, err := p.yeast()
	if err != nil {
		return nil, err
	}
	if p.c.Ferment.Yeast.IsWild() {
		return starterAmount(p)
	}
	g := y.Dry.Grams()
	a := &Amount{Known: true, Number: g, Unit: "g", Of: p.c.Ferment.Yeast.Name,
		How: fmt.Sprintf("%s, about %s of a 5 g packet", yeastRule(y), part(math.Round(10*g/aPacket)/10))}
	return a, nil
}

func yeastRule(y nutrient.Pitch) string {
	if y.Doubled {
		return "0.5 g in a litre, for a strong must"
	}
	return "0.25 g in a litre"
}

func starterAmount(p *planner) (*Amount, error) {
	y, err := p.yeast()
	if err != nil {
		return nil, err
	}
	return &Amount{Known: true, Number: y.Starter.Millilitres(), Unit: "mL", Of: "starter",
		How: fmt.Sprintf("5 million cells in a mL of %s", p.c.Volume.Value.In(p.units()))}, nil
}

func (p *planner) yeast() (nutrient.Pitch, error) {
	og := p.c.Original
	if !og.IsKnown() {
		return nutrient.Pitch{}, fmt.Errorf("%s", og.Unknown)
	}
	return nutrient.PitchFor(p.c.Volume.Value, og.Value)
}
