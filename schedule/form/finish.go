package form

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

func (j jug) fine(p *asking) func(*Outcome) {
	of := p.ask(Field{Key: "of", Label: "with", From: "e.g. bentonite"})
	amount := want(p, Field{Key: "amount", Label: "amount", From: p.fill("in all or a litre, e.g. {1.5 g}, 0.5 g/L")}, aQuantity,
		"say how much, as the trial glasses had it, e.g. 0.5 g/L")
	if of == "" {
		p.fail("of", "name the fining, e.g. bentonite")
	}
	at, note := p.when(j.s.At), p.note()
	if amount.Value.Dimension() == measure.OfContent && !j.v.Course.Volume.IsKnown() {
		p.fail("amount", p.fill("an amount a litre needs the volume in the vessel: give it in all, e.g. {1.5 g}"))
	}
	return func(o *Outcome) {
		entries := j.settle(o, app.Wish{Step: string(ferment.Fine), Entry: ferment.Entry{At: at, Note: note, Amount: ferment.Amount{Quantity: amount.Value}, Of: of}})
		j.write(o, p.values, entries...)
		for _, e := range entries {
			if e.Did == ferment.Fine {
				o.answer(e.Amount.Quantity.In(j.units()) + " of " + of)
			}
		}
		o.say(words.Note, p.fill("trial glasses of {100 mL} first: the least that clears one overnight is the dose"))
		if what := ferment.Allergens(ferment.Ferment{}, []*ferment.Entry{{Of: of}}); len(what) > 0 {
			o.say(words.Warn, "some people react to "+strings.Join(what, " and ")+": write it on the label")
		}
	}
}

var aQuantity = within(func(text string) (measure.Given[measure.Quantity], error) {
	q, err := measure.ParseQuantity(text)
	q.Text = measure.Spelled(q.Text)
	return measure.Give(q, q.Text), err
}, func(q measure.Quantity) bool {
	return slices.Contains([]measure.Dimension{measure.OfMass, measure.OfVolume, measure.OfContent}, q.Dimension()) && q.Number >= 0
}, "is not an amount", "a number and g, mL or g/L, e.g. {1.5 g}")

// tenPercent is the stock solution for small doses: 10 g in 100 mL.
var tenPercent = measure.Give[measure.Share](10, "10 %")

// dose is an amount of a powder, weighed or as stock solution.
type dose struct {
	amount ferment.Amount
	stock  measure.Given[measure.Share]
	words  string // "0.32 g metabisulphite"
	of     string
}

func (j jug) stabilise(p *asking) func(*Outcome) {
	volume := j.volume(p)
	acid := Field{Key: "ph", Label: "pH", Value: shown(j.v.Course.PH, measure.PH.String), From: "measure it, e.g. 3.4; the dose depends on it"}
	if acid.Value != "" {
		acid.From = "measured " + words.Age(j.s.At.Sub(j.v.Course.PHAt)) + " ago"
	}
	ph := may(p, acid, measure.ParsePH)
	alcohol := j.alcohol(p)
	c := *j.v.Course
	c.Limits.StoredAt = may(p, Field{Key: "at", Label: "kept at", Value: c.Limits.StoredAt.Text, From: p.fill("{20 to 40 °C}; {20 °C} if empty or colder")}, measure.ParseTemperature)
	c.Volume, c.Alcohol = course.Known(volume.Value), course.Known(alcohol.Value)
	if c.PH = course.Known(ph.Value); !ph.Known() {
		c.PH = course.Unknown[measure.PH]("no pH recorded")
	}
	sulphite := j.powder(p, "sulphite", schedule.AmountBy(&c, ferment.Sulphite))
	sorbate := j.powder(p, "sorbate", schedule.AmountBy(&c, ferment.Sorbate))
	if !sulphite.amount.Given() && !sorbate.amount.Given() {
		p.fail("sulphite", p.fill("nothing goes in: give at least the sulphite, e.g. {0.32 g}"))
	}
	at, note := p.when(j.s.At), p.note()
	return func(o *Outcome) {
		for _, g := range j.v.Day.Gates {
			if g.Name == ferment.SteadyGate && !g.Open {
				o.gate(g)
			}
		}
		entries := j.measured(p, before(at, 2), ferment.Entry{Volume: volume, PH: ph})
		entries = append(entries, j.powders(o, sulphite, sorbate, at, note)...)
		j.write(o, p.values, entries...)
		o.answer(words.Join(" and ", sulphite.words, sorbate.words) + " for " + volume.Text)
		j.explain(o, sulphite, schedule.AmountBy(&c, ferment.Sulphite))
		j.explain(o, sorbate, schedule.AmountBy(&c, ferment.Sorbate))
		if !ph.Known() {
			o.say(words.Warn, "pH not measured: worked out for pH 3.6. Measure it: 0.1 of pH changes the dose by a quarter")
		}
		j.stabilised(o)
	}
}

// powder asks for a dose, proposed by its figure, weighed or in mL of stock solution.
func (j jug) powder(p *asking, key string, a *schedule.Amount) dose {
	d := dose{of: a.Of}
	f := Field{Key: key, Label: key, From: p.fill("e.g. {0.32 g}, {3.2 mL} of a 10 % stock, or none")}
	switch {
	case !a.Known:
		f.From = a.Unknown
	case a.Stock != nil:
		f.Value, f.From = a.Stock.Volume.Small(measure.Metric), "of a 10 % stock, "+j.grams(measure.Grams(a.Number))+": the scale is too coarse"
	default:
		f.Value, f.From = j.grams(measure.Grams(a.Number)), "or "+measure.Millilitres(a.Number*10).Small(measure.Metric)+" of a 10 % stock"
	}
	text := p.quantity(f)
	if strings.EqualFold(text, none) {
		return d
	}
	q, err := measure.ParseQuantity(text)
	switch mass, isMass := q.Mass(); {
	case text == "":
		p.fail(key, "say how much, or none: "+f.From)
	case err != nil:
		p.fail(key, measure.ErrorIn(err, p.units))
	case isMass && mass > 0:
		d.words = fmt.Sprintf("%s %s", j.typed(q, text), d.of)
	case q.Dimension() == measure.OfVolume && q.Number > 0:
		d.stock = tenPercent
		d.words = fmt.Sprintf("%s of a 10 %% stock of %s", j.typed(q, text), d.of)
	default:
		p.fail(key, fmt.Sprintf(p.fill("%q is no dose: grams, mL of a 10 %% stock, or none, e.g. {0.32 g}"), text))
	}
	q.Text = measure.Spelled(q.Text)
	d.amount = ferment.Amount{Quantity: q}
	return d
}

// powders returns the entries of both, sulphite first, or refuses them.
func (j jug) powders(o *Outcome, sulphite, sorbate dose, at ferment.Moment, note string) []ferment.Entry {
	var entries []ferment.Entry
	if sulphite.amount.Given() {
		entries = j.settle(o, sulphite.wish(ferment.Sulphite, before(at, 1), note))
		note = ""
	}
	if !sorbate.amount.Given() {
		return entries
	}
	return append(entries, jug{j.record, j.afterEntries(entries)}.settle(o, sorbate.wish(ferment.Sorbate, at, note))...)
}

func (d dose) wish(act ferment.Act, at ferment.Moment, note string) app.Wish {
	return app.Wish{Step: string(act), Entry: ferment.Entry{At: at, Amount: d.amount, Of: d.of, Stock: d.stock, Note: note}}
}

// measured returns an entry of typed values that differ from the record.
func (j jug) measured(p *asking, at ferment.Moment, e ferment.Entry) []ferment.Entry {
	if e.Volume.Text == shown(j.v.Course.Volume, j.litres) {
		e.Volume = measure.Given[measure.Volume]{}
	}
	if e.PH.Text == shown(j.v.Course.PH, measure.PH.String) {
		e.PH = measure.Given[measure.PH]{}
	}
	if e.Gravity.Text == shown(j.v.Course.Present, measure.Gravity.String) {
		e.Gravity = measure.Given[measure.Gravity]{}
	}
	if e.Empty() {
		return nil
	}
	e.At = at
	return []ferment.Entry{e}
}

// explain says how the planned amount was calculated.
func (j jug) explain(o *Outcome, d dose, a *schedule.Amount) {
	if !d.amount.Given() || !a.Known {
		return
	}
	text := words.Join("; ", a.Of+": "+a.How, a.Assumed)
	if a.Stock != nil {
		text += measure.Fill("; stock: {10 g} in {100 mL}", j.units())
	}
	o.say("", text)
}

// stabilised says whether it then counts as stabilised, with cautions.
func (j jug) stabilised(o *Outcome) {
	if after, ok := j.afterChange(o.Change, j.v.ID()); ok {
		if holds, _ := after.Course.Holds(ferment.Condition{Kind: ferment.Stabilised, Text: string(ferment.Stabilised)}); holds {
			o.say(words.Done, "it is then stabilised; wait a day before you add honey")
		} else {
			o.say(words.Note, "it is not stabilised by this alone: that needs both sulphite and sorbate, added when it is steady and within 48 h")
		}
	}
	if j.v.Ferment.EndsAs(ferment.BottleConditioned) {
		o.say(words.Warn, "it cannot be bottle-conditioned after this: split off first what you want to condition")
	}
	o.warn(schedule.Warning("sulphite-asthma"))
	o.warn(schedule.Warning("sorbate"))
}

// closing closes the ferment, and says what would still be to do.
func (j jug) closing(p *asking) func(*Outcome) {
	at, note := p.when(j.s.At), p.note()
	return func(o *Outcome) {
		o.answer(j.v.Label() + " will be closed: its file moves to past, and it has no more tasks")
		j.still(o)
		o.Change.Closes = []string{j.v.ID()}
		j.write(o, p.values, j.settle(o, app.Wish{Step: string(ferment.Close), Entry: ferment.Entry{At: at, Note: note}})...)
	}
}

func (j jug) still(o *Outcome) {
	bottles := shelf.Of(j.v.Course)
	var left []string
	for _, purpose := range []string{shelf.Test, shelf.Tasting} {
		if n := bottles.Left(purpose); n.Some() {
			left = append(left, fmt.Sprintf("%s for %s", n, map[string]string{shelf.Test: "a test", shelf.Tasting: "tasting"}[purpose]))
		}
	}
	if len(left) > 0 {
		o.say(words.Warn, "bottles are left, "+strings.Join(left, " and ")+": open and taste them first, you will not be reminded of them later")
	} else if rest := bottles.Left(); rest.Some() {
		o.sayf(words.Note, "%s bottles of it are left to drink or to keep: they stay on the shelf", rest)
	}
	if v := j.v.Course.Volume; v.IsKnown() && v.Value > drop && !j.v.Course.Over() {
		o.say(words.Warn, j.litres(v.Value)+" are in the vessel by the record: bottle or dump them first")
	}
	for _, t := range j.v.Day.Tasks {
		if t.State == schedule.Late || t.State == schedule.Due && !t.Option {
			o.say(words.Note, "still to do: "+words.ActLabel(t))
		}
	}
}

// dumping dumps what is in the vessel, and closes the ferment if no bottles are left.
func (j jug) dumping(p *asking) func(*Outcome) {
	at, note := p.when(j.s.At), p.ask(Field{Key: "note", Label: "why", From: "any words: they help with the next one"})
	return func(o *Outcome) {
		away := "what is in the vessel"
		if v := j.v.Course.Volume; v.IsKnown() {
			away = j.litres(v.Value)
		}
		o.answer(away + " of " + j.v.Label() + " are poured away")
		j.write(o, p.values, j.settle(o, app.Wish{Step: string(ferment.Dump), Entry: ferment.Entry{At: at, Note: note}})...)
		if after, ok := j.afterChange(o.Change, j.v.ID()); ok && !after.Course.Over() {
			o.say(words.Note, "its bottles stay on the shelf, with their tasks")
			return
		}
		o.Change.Closes = []string{j.v.ID()}
		o.say(words.Note, "it will be closed: its file moves to past")
		if n := shelf.Of(j.v.Course).Left(); n.Some() {
			o.say(words.Warn, n.String()+" bottles of it are poured away with it")
		}
	}
}
