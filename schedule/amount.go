package schedule

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/finishing"
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
	rule := measure.Decimal(float64(y.Rate), 2) + " g in a litre"
	if y.Strong() {
		rule += ", for a strong must"
	}
	return rule
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

// alcoholNow is the strength that some amounts depend on.
func (p *planner) alcoholNow() (measure.Strength, error) {
	if !p.c.Alcohol.IsKnown() {
		return 0, errors.New(p.c.Alcohol.Unknown)
	}
	return p.c.Alcohol.Value, nil
}

// primingAmount is the honey that brings the fizz the cellar aims at.
func primingAmount(p *planner) (*Amount, error) {
	alcohol, err := p.alcoholNow()
	if err != nil {
		return nil, err
	}
	b := carbonation.Priming{Volume: p.c.Volume.Value, Liquid: carbonation.Liquid{Alcohol: alcohol}, Warmest: p.c.Warmest().Value,
		Target: p.c.Settings.Fizz, Sugar: carbonation.Honey, Size: bottleSize}
	d, err := carbonation.Prime(b)
	if err != nil {
		return nil, err
	}
	return &Amount{Known: true, Number: d.Batch.Grams(), Unit: "g", Of: "honey", Assumed: measure.Fill(strings.Join(d.Assumed, "; "), p.units()),
		How: fmt.Sprintf("%s of CO₂ less the %s in it: %s of honey in a litre, %s in a bottle of %s",
			b.Target, d.Left, d.PerLitre, d.PerBottle.In(p.units()), measure.Fill("{330 mL}", p.units()))}, nil
}

// bottleSize is the bottle that a dose is told for.
const bottleSize measure.Volume = 0.33

// everydayPH is taken where nobody measured it (common practice, no source).
const everydayPH measure.PH = 3.6

func sulphiteAmount(p *planner) (*Amount, error) {
	limits := p.c.Limits
	s := finishing.Sulphite{PH: everydayPH, Volume: p.c.Volume.Value, Added: p.sulphiteAdded(),
		Molecular: limits.Molecular, Bound: limits.Bound, PK: limits.PK}
	if p.c.Alcohol.IsKnown() {
		s.Alcohol = measure.Give(p.c.Alcohol.Value, p.c.Alcohol.Value.String())
	}
	assumed := "pH 3.6"
	if p.c.PH.IsKnown() {
		s.PH, assumed = p.c.PH.Value, ""
	}
	d, err := finishing.SulphiteFor(s)
	if err != nil {
		return nil, err
	}
	if assumed != "" {
		d.Assumed = append([]string{assumed}, d.Assumed...)
	}
	how := fmt.Sprintf("%s free at pH %s", d.Free, s.PH)
	if d.Warning != "" {
		how += "; " + d.Warning
	}
	return &Amount{Known: true, Number: d.Salt.Grams(), Unit: "g", Of: "metabisulphite", How: how,
		Assumed: measure.Fill(strings.Join(d.Assumed, "; "), p.units()), Stock: stockOf(d.Salt, p.c.Settings.Weighs)}, nil
}

// sulphiteAdded is the sulphur dioxide that has gone into each litre.
func (p *planner) sulphiteAdded() measure.Content {
	return measure.Content(p.c.Given(ferment.Sulphite).Grams() * finishing.SO2Yield / float64(p.c.Volume.Value))
}

func sorbateAmount(p *planner) (*Amount, error) {
	alcohol, err := p.alcoholNow()
	if err != nil {
		return nil, err
	}
	d, err := finishing.SorbateFor(p.c.Volume.Value, alcohol)
	if err != nil {
		return nil, err
	}
	return &Amount{Known: true, Number: d.Salt.Grams(), Unit: "g", Of: "potassium sorbate",
		How: fmt.Sprintf("%s of sorbic acid at %s%s", d.Sorbic, alcohol, p.sorbateAcidity()), Stock: stockOf(d.Salt, p.c.Settings.Weighs)}, nil
}

// sorbateAcidity says how far the sorbate can be trusted at the pH (common
// practice, no source: sorbic acid preserves as long as it is undissociated, pK
// 4.76).
func (p *planner) sorbateAcidity() string {
	switch {
	case !p.c.PH.IsKnown():
		return "; it is for pH under 3.5: measure it"
	case p.c.PH.Value > 3.8:
		return fmt.Sprintf("; at pH %s no dose is sure: lower the pH first", p.c.PH.Value)
	case p.c.PH.Value > 3.5:
		return fmt.Sprintf("; it is for pH under 3.5, and less sure at %s", p.c.PH.Value)
	}
	return ""
}

// honeyAmount hangs on a gravity that only the glasses can choose.
func honeyAmount(*planner) (*Amount, error) {
	return nil, errors.New("choose the gravity by the trial glasses first")
}
