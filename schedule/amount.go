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
	"cellar/jugkeeper/ferment/shelf"
)

const byFigure = "by figure"

var figures = map[ferment.Act]func(*record) (*Amount, error){
	ferment.Pitch: (*record).yeast, ferment.Starter: (*record).starter, ferment.Prime: (*record).priming,
	ferment.Sulphite: (*record).sulphite, ferment.Sorbate: (*record).sorbate, ferment.Honey: (*record).sweetener,
}

// AmountBy returns the calculated amount of an act for a course: yeast, starter, priming sugar, sulphite or sorbate.
// Without a number it has the reason.
func AmountBy(c *course.Course, do ferment.Act) *Amount { return newRecord(c).figure(do) }

// figure returns the amount of an act by its formula, or why there is none.
func (r *record) figure(do ferment.Act) *Amount {
	work, ok := figures[do]
	if !ok {
		return &Amount{Unknown: "there is no formula for an amount of " + string(do)}
	}
	if !r.c.Volume.IsKnown() {
		return &Amount{Unknown: r.c.Volume.Unknown}
	}
	a, err := work(r)
	if err != nil {
		return &Amount{Unknown: err.Error()}
	}
	return a
}

// written returns the amount that a step gives itself: a content by the litre, a quantity, or words.
func (r *record) written(s ferment.Step) *Amount {
	q, err := measure.ParseQuantity(s.Amount)
	switch {
	case err != nil:
		return &Amount{Of: s.Of, Words: s.Amount}
	case q.Dimension() != measure.OfContent:
		return &Amount{Known: true, Number: q.Number, Unit: q.Unit, Of: s.Of}
	case !r.c.Volume.IsKnown():
		return &Amount{Of: s.Of, Words: s.Amount, Unknown: r.c.Volume.Unknown}
	}
	v := r.c.Volume.Value
	grams := measure.Grams(q.Value() * float64(v))
	how := fmt.Sprintf("%s in %s", s.Amount, v.In(r.units()))
	if s.Do == string(ferment.Buffer) {
		given := measure.Content(r.c.Given(ferment.Buffer).Grams() / float64(v))
		if room, err := nutrient.BufferRoom(given, v); err == nil && room < grams {
			grams, how = room, how+fmt.Sprintf("; at most %s in all", nutrient.MostBuffer)
		}
	}
	return &Amount{Known: true, Number: grams.Grams(), Unit: "g", Of: s.Of, How: how, Stock: stockOf(grams, r.c.Settings.Weighs)}
}

// aPacket is the dry yeast in a packet, in grams (common practice, no source).
const aPacket = 5

func (r *record) yeast() (*Amount, error) {
	y, err := r.pitch()
	if err != nil {
		return nil, err
	}
	if r.isWild() {
		return r.ofCulture()
	}
	rule := measure.Decimal(float64(y.Rate), 2) + " g in a litre"
	if y.Strong() {
		rule += ", for a strong must"
	}
	g := y.Dry.Grams()
	return &Amount{Known: true, Number: g, Unit: "g", Of: r.c.Ferment.Yeast.Name,
		How: fmt.Sprintf("%s, about %s of a 5 g packet", rule, part(math.Round(10*g/aPacket)/10))}, nil
}

// ofCulture returns how much of a culture goes in: the starter that was grown for it, else as much as one, at most its
// part of what is left for the jugs that wait for it.
func (r *record) ofCulture() (*Amount, error) {
	a, err := r.starter()
	if e, grown := r.c.Last(ferment.Starter); grown && err == nil {
		if v, is := e.Amount.Volume(); is {
			a.Number, a.How = v.Millilitres(), "the starter that was grown"
		}
	} else if s := r.c.Ferment.Yeast.Stock; err == nil && s != nil && s.Known && s.Left > 0 {
		if part := s.Left.Millilitres() / float64(max(s.Waiting, 1)); part < a.Number {
			a.Number, a.How = part, "its part of the "+s.Left.Small(r.units())+" left of the culture; "+a.How+" need "+decimal(math.Round(a.Number))+" mL"
		}
	}
	return a, err
}

func (r *record) starter() (*Amount, error) {
	y, err := r.pitch()
	if err != nil {
		return nil, err
	}
	return &Amount{Known: true, Number: y.Starter.Millilitres(), Unit: "mL", Of: "starter",
		How: fmt.Sprintf("5 million cells in a mL of %s", r.c.Volume.Value.In(r.units()))}, nil
}

func (r *record) pitch() (nutrient.Pitch, error) {
	if og := r.c.Original; !og.IsKnown() {
		return nutrient.Pitch{}, errors.New(og.Unknown)
	}
	return nutrient.PitchFor(r.c.Volume.Value, r.c.Original.Value)
}

func (r *record) alcohol() (measure.Strength, error) {
	if !r.c.Alcohol.IsKnown() {
		return 0, errors.New(r.c.Alcohol.Unknown)
	}
	return r.c.Alcohol.Value, nil
}

func (r *record) priming() (*Amount, error) {
	alcohol, err := r.alcohol()
	if err != nil {
		return nil, err
	}
	bottle, own := shelf.KindForFizz(r.c, false) // a dose is stated for
	size := own.Else(measure.Give(measure.Volume(0.33), measure.Fill("{330 mL}", r.units())))
	b := carbonation.Priming{Volume: r.c.Volume.Value, Liquid: carbonation.Liquid{Alcohol: alcohol}, Warmest: r.c.Warmest().Value,
		Target: r.c.Settings.Fizz, Sugar: carbonation.Honey, Water: r.c.Ferment.Must.HoneyWater, Size: size.Value, Left: r.c.Limits.GasLeft}
	if own.Known() {
		b.Bottle = bottle
	}
	d, err := carbonation.Prime(b)
	if err != nil {
		return nil, err
	}
	return &Amount{Known: true, Number: d.Batch.Grams(), Unit: "g", Of: "honey", Dissolved: d.Dissolved, Assumed: measure.Fill(strings.Join(d.Assumed, "; "), r.units()),
		How: fmt.Sprintf("%s of CO₂ less the %s in it: %s of honey in a litre, %s in a bottle of %s",
			b.Target, d.Left, d.PerLitre, d.PerBottle.In(r.units()), measure.AsTyped(size, r.units()))}, nil
}

// everydayPH is assumed if the pH was not measured (common practice, no source).
const everydayPH measure.PH = 3.6

func (r *record) sulphite() (*Amount, error) {
	limits, v := r.c.Limits, r.c.Volume.Value
	s := finishing.Sulphite{PH: everydayPH, Volume: v, Molecular: limits.Molecular, Bound: limits.Bound, PK: limits.PK, At: limits.StoredAt,
		Added: measure.Content(r.c.Given(ferment.Sulphite).Grams() * finishing.SO2Yield / float64(v))}
	if r.c.Alcohol.IsKnown() {
		s.Alcohol = measure.Give(r.c.Alcohol.Value, r.c.Alcohol.Value.String())
	}
	if r.c.PH.IsKnown() {
		s.PH = r.c.PH.Value
	}
	d, err := finishing.SulphiteFor(s)
	if err != nil {
		return nil, err
	}
	if !r.c.PH.IsKnown() {
		d.Assumed = append([]string{"pH 3.6"}, d.Assumed...)
	}
	how := fmt.Sprintf("%s free at pH %s", d.Free, s.PH)
	if s.At.Known() {
		how += " and " + s.At.Value.In(r.units())
	}
	if d.Warning != "" {
		how += "; " + d.Warning
	}
	return &Amount{Known: true, Number: d.Salt.Grams(), Unit: "g", Of: "metabisulphite", How: how,
		Assumed: measure.Fill(strings.Join(d.Assumed, "; "), r.units()), Stock: stockOf(d.Salt, r.c.Settings.Weighs)}, nil
}

// sorbate adds to its amount how reliable it is at the pH (common practice, no source: sorbic acid preserves while it
// is undissociated, pK 4.76).
func (r *record) sorbate() (*Amount, error) {
	alcohol, err := r.alcohol()
	if err != nil {
		return nil, err
	}
	d, err := finishing.SorbateFor(r.c.Volume.Value, alcohol)
	if err != nil {
		return nil, err
	}
	how := fmt.Sprintf("%s of sorbic acid at %s", d.Sorbic, alcohol)
	switch ph := r.c.PH; {
	case !ph.IsKnown():
		how += "; sorbate works under pH 3.5: measure the pH"
	case ph.Value > 3.8:
		how += fmt.Sprintf("; at pH %s no dose is reliable: lower the pH first", ph.Value)
	case ph.Value > 3.5:
		how += fmt.Sprintf("; sorbate works under pH 3.5, and less well at %s", ph.Value)
	}
	return &Amount{Known: true, Number: d.Salt.Grams(), Unit: "g", Of: "potassium sorbate", How: how, Stock: stockOf(d.Salt, r.c.Settings.Weighs)}, nil
}

// sweetener has no number, because it depends on a gravity chosen by taste.
func (r *record) sweetener() (*Amount, error) {
	return nil, errors.New("choose the gravity by the trial glasses first")
}
