package form

import (
	"cmp"
	"fmt"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// source is the honey to add: its lot and water.
type source struct {
	lot   string // id of the lot; empty for none
	water measure.Given[measure.Share]
}

func (s source) wet() measure.Share { return s.water.Or(honey.Typical) }

// source asks for the lot, proposed as the one in the mead.
func (j jug) source(p *asking, folded bool) source {
	words := append(lotIDs(j.s.Cellar.Lots), "of no lot")
	f := Field{Key: "lot", Label: "honey", Value: words[0], Words: words, More: folded}
	for _, h := range j.v.Ferment.Must.Honey {
		if _, known := j.lot(h.Lot); known {
			f.Value = h.Lot
			break
		}
	}
	id := p.choose(f)
	l, _ := j.lot(id)
	water := j.lotWater("water", "its water", l.ID)
	if id == f.Value {
		water.Value = cmp.Or(water.Value, j.v.Ferment.Must.HoneyWater.Text)
	}
	return source{l.ID, may(p, water, measure.ParseShare)}
}

// uses says what is left of a lot after so much is taken, with its cautions.
func (j jug) uses(o *Outcome, s source, mass measure.Mass) {
	l, known := j.lot(s.lot)
	if !known {
		return
	}
	j.draws(o, l, mass)
	for _, c := range schedule.LotCautions(j.account(l)) {
		if c.Loud != schedule.Note {
			o.warn(c)
		}
	}
}

// sweeten adds honey to reach a gravity or a content in g/L, or as in the best glass of a trial.
func (j jug) sweeten(p *asking) func(*Outcome) {
	volume, alcohol := j.volume(p), j.alcohol(p)
	from := want(p, Field{Key: "gravity", Label: "gravity now", Value: shown(j.v.Course.Present, measure.Gravity.String), From: "the latest reading"},
		measure.ParseGravity, "read gravity, e.g. 0.997")
	h := j.source(p, false)
	to := p.ask(Field{Key: "to", Label: "sweeten to", From: p.fill("e.g. 1.010, 30 g/L, or {2 g} in {100 mL} as tasted")})
	proposed := Field{Key: "amount", Label: "honey", From: p.fill("as it is weighed, e.g. {120 g}")}
	if to != "" && len(p.wrong) == 0 {
		mass, err := sweetened(honey.Mead{Volume: volume.Value, Gravity: from.Value, Alcohol: alcohol.Value}, h.wet(), to)
		if err != nil {
			p.fail("to", measure.ErrorIn(err, p.units))
		}
		proposed.Value, proposed.From = j.grams(mass), "by mass and volume; write what is weighed"
	}
	amount := want(p, proposed, measure.ParseMass, p.fill("say how sweet it is to be, or weigh the honey, e.g. {120 g}"))
	solids := measure.Content(honey.Solids(amount.Value, h.wet()).Grams() / max(float64(volume.Value+honey.VolumeIn(amount.Value, h.wet())), 0.01))
	switch {
	case len(p.wrong) > 0:
	case amount.Value <= 0:
		p.fail("amount", "it is already as sweet as that: aim higher, e.g. 1.010 or 30 g/L")
	case solids > 400:
		p.fail("amount", "that is sweeter than can be worked out: at most 400 g/L")
	}
	at, note := p.when(j.s.At), p.note()
	return func(o *Outcome) {
		q, _ := measure.ParseQuantity(amount.Text) // it was read as a mass
		entries := j.measured(p, before(at, 1), ferment.Entry{Volume: volume, Gravity: from})
		entries = append(entries, j.settle(o, app.Wish{Step: string(ferment.Honey), Entry: ferment.Entry{At: at, Note: note, Amount: ferment.Amount{Quantity: q}, Of: "honey",
			Lot: h.lot, Water: h.water}})...)
		j.write(o, p.values, entries...)
		o.answer(fmt.Sprintf("%s of honey into %s: %s g/L more of sugar", measure.AsTyped(amount, j.units()), measure.AsTyped(volume, j.units()), measure.Decimal(float64(solids), 0)))
		then := j.comesTo(o)
		j.ledger(o, j.v.ID())
		if !h.water.Known() {
			o.say(words.Note, "worked out with honey of 17.2 % water")
		}
		if v := j.vessel(); v.Brimful.Known() && then > v.Brimful.Value {
			o.say(words.Warn, fmt.Sprintf("%s do not go into %s", j.litres(then), j.vesselWords(v)))
		}
		j.uses(o, h, amount.Value)
		if o.Closed == "" && j.v.Course.Steady.Met.IsZero() {
			o.say(words.Warn, "it has not been steady: the yeast will ferment the honey, and the breaks not yet reached move")
		} else {
			o.say(words.Note, "a fall of 0.002, or bubbles, means that it works again: read in 7, 14 and 28 days, and bottle after that")
		}
	}
}

// sweetened returns the honey for a gravity, for a content in g/L, or as in a glass of a trial.
func sweetened(m honey.Mead, water measure.Share, to string) (measure.Mass, error) {
	if mass, glass, is := strings.Cut(to, " in "); is {
		h, err := measure.ParseMass(mass)
		v, err2 := measure.ParseVolume(glass)
		if err := cmp.Or(err, err2); err != nil {
			return 0, err
		}
		if v.Value <= 0 {
			return 0, fmt.Errorf("%q is no glass: the honey and the mead that it went into, e.g. 2 g in 100 mL", to)
		}
		return h.Value * measure.Mass(m.Volume/v.Value), nil
	}
	if strings.HasSuffix(strings.ToLower(to), "/l") {
		content, err := measure.ParseContent(to)
		if err != nil {
			return 0, err
		}
		return honey.SweetenBy(m, content.Value, water)
	}
	g, err := measure.ParseGravity(to)
	if err != nil {
		return 0, fmt.Errorf("%q is neither a gravity, a content nor a glass, e.g. 1.010, 30 g/L or 2 g in 100 mL", to)
	}
	return honey.Sweeten(m, g.Value, water)
}

// askFruit asks for a kind of fruit, its mass, sugar and water; none without a kind.
func askFruit(p *asking, needed bool) ferment.FruitPart {
	f := ferment.FruitPart{Name: p.ask(Field{Key: "fruit", Label: "fruit", From: "e.g. bramble, frozen", More: !needed})}
	if f.Name == "" {
		if needed {
			p.fail("fruit", "say which fruit it is, e.g. bramble")
		}
		return f
	}
	kind, known := ferment.FruitOf(f.Name)
	from := fmt.Sprintf("of its mass, ±%s; usual, from memory", kind.Spread)
	if !known {
		from = fmt.Sprintf("not in the table: ±%s; measure its juice", kind.Spread)
	}
	f.Mass = want(p, Field{Key: "fruit-mass", Label: "fruit mass", From: p.fill("without stones, e.g. {500 g}")}, measure.ParseMass, p.fill("weigh the fruit, e.g. {500 g}"))
	f.Sugar = may(p, Field{Key: "fruit-sugar", Label: "fruit sugar", Value: kind.Sugar.String(), From: from, More: !needed}, measure.ParseShare)
	f.Water = may(p, Field{Key: "fruit-water", Label: "fruit water", Value: kind.Water.String(), From: "of its mass", More: !needed}, measure.ParseShare)
	if f.Sugar.Value+f.Water.Value > 100 {
		p.fail("fruit-sugar", "sugar and water are more than the fruit: e.g. 6 % and 87 %")
	}
	if f.Sugar.Value == kind.Sugar { // the table's values keep their uncertainty
		f.Sugar = measure.Given[measure.Share]{}
	}
	if f.Water.Value == kind.Water {
		f.Water = measure.Given[measure.Share]{}
	}
	return f
}

func (j jug) fruit(p *asking) func(*Outcome) {
	f := askFruit(p, true)
	frozen := p.choose(Field{Key: "frozen", Label: "frozen", Value: "no", Words: []string{"no", "yes"}, From: "freezing and thawing releases the juice"})
	sulphited := p.choose(Field{Key: "sulphited", Label: "sulphited", Value: "no", Words: []string{"no", "yes"}, From: "a day before; not with a wild yeast"})
	at, note := p.when(j.s.At), p.note()
	if f.Mass.Known() && f.Mass.Value <= 0 {
		p.fail("fruit-mass", f.Mass.Text+p.fill(" is no amount: weigh the fruit, e.g. {500 g}"))
	}
	return func(o *Outcome) {
		of := f.Name
		for _, more := range []struct{ is, word string }{{frozen, "frozen"}, {sulphited, "sulphited"}} {
			if more.is == "yes" {
				of += ", " + more.word
			}
		}
		amount, _ := measure.ParseQuantity(f.Mass.Text) // it was read as a mass
		e := ferment.Entry{At: at, Note: note, Amount: ferment.Amount{Quantity: amount}, Of: of, Sugar: f.Sugar, Water: f.Water}
		j.write(o, p.values, j.settle(o, app.Wish{Step: string(ferment.FruitIn), Entry: e})...)
		j.fruited(o, f)
		j.ledger(o, j.v.ID())
		o.warn(schedule.Warning("fruit-stones"))
		if b := j.vessel().Brimful; b.Known() && j.v.Course.Volume.IsKnown() && float64(j.v.Course.Volume.Value)+float64(f.Mass.Value) > 0.8*float64(b.Value) {
			o.say(words.Warn, "fruit swells and rises: leave a quarter of the vessel empty, and use no vessel with a narrow neck")
		}
		o.say(words.Note, "it ferments again: punch the cap down daily, take it out after 7 to 14 days; the days of steady start again")
	}
}

// fruited says what the fruit brings and what becomes of the gravity.
func (j jug) fruited(o *Outcome, f ferment.FruitPart) {
	kind, _ := ferment.FruitOf(f.Name)
	kind = kind.With(f.Sugar, f.Water)
	grams := func(s measure.Share) measure.Mass { return f.Mass.Value * measure.Mass(s) / 100 }
	o.answer(fmt.Sprintf("%s of sugar, ±%s, and %s of water", j.grams(grams(kind.Sugar)), j.grams(grams(kind.Spread)), j.grams(grams(kind.Water))))
	is, ok := j.afterChange(o.Change, j.v.ID())
	if !ok || !is.Course.Effective.IsKnown() {
		o.say(words.Note, "the result is not known: "+cmp.Or(is.Course.Effective.Unknown, "no volume"))
		return
	}
	o.answer(fmt.Sprintf("%s in all; it counts as a must that started at %s", shown(is.Course.Volume, j.litres), words.Exact(is.Course.Effective.Value, j.s.Cellar.Settings)))
	if is.Course.FinishAlcohol.IsKnown() {
		o.sayf("", "about %s if that ferments out", is.Course.FinishAlcohol.Value)
	}
}
