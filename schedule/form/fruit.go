package form

import (
	"cmp"
	"fmt"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// askFruit asks for a kind of fruit, its mass, and its sugar and water, proposed by
// the table of common fruit. It is none where no kind is named.
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
	f.Mass = want(p, Field{Key: "fruit-mass", Label: "its mass", From: p.fill("without stones, e.g. {500 g}")}, measure.ParseMass, p.fill("weigh the fruit, e.g. {500 g}"))
	f.Sugar = may(p, Field{Key: "fruit-sugar", Label: "its sugar", Value: kind.Sugar.String(), From: from, More: !needed}, measure.ParseShare)
	f.Water = may(p, Field{Key: "fruit-water", Label: "its water", Value: kind.Water.String(), From: "of its mass", More: !needed}, measure.ParseShare)
	if f.Sugar.Value+f.Water.Value > 100 {
		p.fail("fruit-sugar", "sugar and water are more than the fruit: e.g. 6 % and 87 %")
	}
	if f.Sugar.Value == kind.Sugar { // the table's own keep its doubt
		f.Sugar = measure.Given[measure.Share]{}
	}
	if f.Water.Value == kind.Water {
		f.Water = measure.Given[measure.Share]{}
	}
	return f
}

func (j jug) fruit(p *asking) func() Outcome {
	f := askFruit(p, true)
	frozen := p.choose(Field{Key: "frozen", Label: "frozen", Value: "no", Words: []string{"no", "yes"}, From: "frozen and thawed, it gives its juice"})
	sulphited := p.choose(Field{Key: "sulphited", Label: "sulphited", Value: "no", Words: []string{"no", "yes"}, From: "a day before; none for a wild yeast"})
	at, note := p.when(j.s.At), p.note()
	if f.Mass.Known() && f.Mass.Value <= 0 {
		p.fail("fruit-mass", f.Mass.Text+p.fill(" is no amount: weigh the fruit, e.g. {500 g}"))
	}
	return func() Outcome {
		var o Outcome
		of := f.Name
		for _, more := range []struct{ is, word string }{{frozen, "frozen"}, {sulphited, "sulphited"}} {
			if more.is == "yes" {
				of += ", " + more.word
			}
		}
		amount, _ := measure.ParseQuantity(f.Mass.Text) // it was read as a mass
		e := ferment.Entry{At: at, Note: note, Amount: ferment.Amount{Quantity: amount}, Of: of, Sugar: f.Sugar, Water: f.Water}
		j.write(&o, p.values, j.settle(&o, app.Wish{Step: string(ferment.FruitIn), Entry: e})...)
		j.fruited(&o, f)
		j.ledger(&o, j.v.ID())
		o.warn(schedule.Warning("fruit-stones"))
		if b := j.vessel().Brimful; b.Known() && j.v.Course.Volume.IsKnown() && float64(j.v.Course.Volume.Value)+float64(f.Mass.Value) > 0.8*float64(b.Value) {
			o.say(words.Warn, "fruit swells and rises: leave a quarter of the vessel empty, and never a narrow neck")
		}
		o.say(words.Note, "it ferments again: push it under daily, take it out after 7 to 14 days; the days of steady start again")
		return o
	}
}

// fruited says what the fruit makes of the mead, with its doubt.
func (j jug) fruited(o *Outcome, f ferment.FruitPart) {
	kind, _ := ferment.FruitOf(f.Name)
	kind = kind.With(f.Sugar, f.Water)
	grams := func(s measure.Share) measure.Mass { return f.Mass.Value * measure.Mass(s) / 100 }
	o.answer(fmt.Sprintf("%s of sugar, ±%s, and %s of water", j.grams(grams(kind.Sugar)), j.grams(grams(kind.Spread)), j.grams(grams(kind.Water))))
	is, ok := j.after(o.Change, j.v.ID())
	if !ok || !is.Course.Effective.IsKnown() {
		o.say(words.Note, "what it comes to is not known: "+cmp.Or(is.Course.Effective.Unknown, "no volume"))
		return
	}
	o.answer(fmt.Sprintf("%s in all; it counts as a must that started at %s", shown(is.Course.Volume, j.litres), words.Exact(is.Course.Effective.Value, j.s.Cellar.Settings)))
	if is.Course.FinishAlcohol.IsKnown() {
		o.sayf("", "about %s if that ferments out", is.Course.FinishAlcohol.Value)
	}
}
