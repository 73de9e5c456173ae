package form

import (
	"fmt"
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// pour is what a vessel is topped up with.
type pour struct {
	amount  measure.Given[measure.Volume]
	of      string
	gravity measure.Given[measure.Gravity]
	alcohol measure.Given[measure.Strength] // of a mead; of water none
}

// What a vessel is topped up with.
const (
	withNothing = "nothing"
	withWater   = "water"
	withSame    = "the same mead"
	withLike    = "another mead"
)

// fillUp asks whether a vessel that holds so much is to be filled up, and what with.
func (j jug) fillUp(p *asking, holds measure.Volume, v ferment.Vessel) pour {
	return j.pour(p, "fill up with", []string{withNothing, withWater, withSame, withLike}, holds, v)
}

func (j jug) pour(p *asking, label string, words []string, holds measure.Volume, v ferment.Vessel) pour {
	t := pour{of: p.choose(Field{Key: "with", Label: label, Value: words[0], Words: words})}
	if t.of == withNothing {
		return t
	}
	amount := Field{Key: "amount", Label: "amount", From: p.fill("e.g. {0.2 L}")}
	if room := neck(v.Brimful.Value) - holds; v.Brimful.Known() && holds > 0 && room > 0 {
		amount.Value, amount.From = j.litres(room), "to the neck of "+j.vesselWords(v)
	}
	t.amount = want(p, amount, measure.ParseVolume, p.fill("say how much goes in, e.g. {0.2 L}"))
	if t.amount.Known() && t.amount.Value <= 0 {
		p.fail("amount", t.amount.Text+p.fill(" is nothing: say how much goes in, e.g. {0.2 L}"))
	}
	switch t.of {
	case withSame:
		t.gravity, t.alcohol = j.own()
	case withLike:
		of := p.ask(Field{Key: "of", Label: "which", From: "what it is, e.g. lime blossom 2025"})
		t.alcohol = may(p, Field{Key: "strength", Label: "its alcohol", From: "e.g. 12 %; unknown, that of the whole is too"}, measure.ParseStrength)
		t.gravity = may(p, Field{Key: "its-gravity", Label: "its gravity", From: "e.g. 0.997"}, measure.ParseGravity)
		if of == withWater {
			p.fail("of", "water has its own word above")
		}
		if of != "" {
			t.of = of
		}
	}
	return t
}

// own are gravity and alcohol of the mead itself, where they are known.
func (j jug) own() (g measure.Given[measure.Gravity], s measure.Given[measure.Strength]) {
	m, err := j.mead()
	if err != nil {
		return g, s
	}
	return measure.Give(m.Gravity, m.Gravity.Places(4)), measure.Give(m.Alcohol, percent(m.Alcohol))
}

// wish is the top-up as something that is done.
func (t pour) wish(at ferment.Moment) app.Wish {
	amount, _ := measure.ParseQuantity(t.amount.Text) // it was read as a volume
	return app.Wish{Step: string(ferment.TopUp), Entry: ferment.Entry{At: at, Amount: ferment.Amount{Quantity: amount}, Of: t.of, Alcohol: t.alcohol}}
}

// mead is what is poured in, as far as it is known.
func (t pour) mead() (honey.Mead, bool) {
	if t.of == withWater {
		return honey.Mead{Volume: t.amount.Value, Gravity: 1}, true
	}
	return honey.Mead{Volume: t.amount.Value, Gravity: t.gravity.Value, Alcohol: t.alcohol.Value}, t.gravity.Known() && t.alcohol.Known()
}

// told says what a top-up of so much mead makes of it.
func (j jug) told(o *Outcome, t pour, holds measure.Volume) {
	own, err := j.mead()
	in, known := t.mead()
	own.Volume = holds
	switch {
	case err != nil:
		o.say(words.Note, "what it comes to is not known: "+measure.ErrorIn(err, j.units()))
		return
	case !known:
		o.say(words.Note, "what it comes to is not known: give the alcohol and the gravity of what goes in")
		return
	}
	made, err := honey.Blend(own, in)
	if err != nil {
		o.say(words.Note, measure.ErrorIn(err, j.units()))
		return
	}
	o.answer(fmt.Sprintf("it comes to %s", j.mixed(made)))
}

// topUp fills the vessel up.
func (j jug) topUp(p *asking) func() Outcome {
	v, c := j.stands(), j.v.Course
	t := j.pour(p, "with", []string{withWater, withSame, withLike}, c.Volume.Value, v)
	at, note := p.when(j.s.At), p.note()
	if v.Brimful.Known() && c.Volume.IsKnown() && t.amount.Known() && c.Volume.Value+t.amount.Value > v.Brimful.Value {
		p.fail("amount", fmt.Sprintf("%s do not go into %s", j.litres(c.Volume.Value+t.amount.Value), j.vesselWords(v)))
	}
	return func() Outcome {
		var o Outcome
		w := t.wish(at)
		w.Note = note
		j.write(&o, p.values, j.settle(&o, w)...)
		o.answer(fmt.Sprintf("%s of %s", measure.AsTyped(t.amount, j.units()), t.of))
		j.told(&o, t, c.Volume.Value)
		j.ledger(&o, j.v.ID())
		j.restarts(&o, t.of)
		return o
	}
}

// restarts says that readings from before a mead went in do not count any more.
func (j jug) restarts(o *Outcome, of string) {
	if of != withWater {
		o.say(words.Note, "readings from before it do not count as steady any more")
	}
}

// others are the other open vessels.
func (j jug) others() []app.Vessel {
	return slices.DeleteFunc(slices.Clone(j.s.Vessels), func(v app.Vessel) bool { return v.ID() == j.v.ID() || v.Course.Over() })
}

// blend takes some of another open ferment in. The other's log loses it, and is
// closed where nothing is left.
func (j jug) blend(p *asking) func() Outcome {
	others := j.others()
	if len(others) == 0 {
		p.fail("what", "there is no other open ferment to blend with")
		return nil
	}
	names := make([]string, len(others))
	for i, v := range others {
		names[i] = v.Label()
	}
	with := p.choose(Field{Key: "other", Label: "with", Value: names[0], Words: names})
	other := jug{j.record, others[slices.Index(names, with)]}
	t, rest := j.share(p, other)
	at, note := p.when(j.s.At), p.note()
	return func() Outcome {
		var o Outcome
		w := t.wish(at)
		w.Step, w.Note = string(ferment.Blend), note
		entries := j.settle(&o, w)
		j.sick(&o, other)
		j.write(&o, p.values, entries...)
		j.loses(&o, other, t, rest, at)
		o.answer(fmt.Sprintf("%s of %s into %s", measure.AsTyped(t.amount, j.units()), other.v.Label(), j.v.Label()))
		j.told(&o, t, j.v.Course.Volume.Value)
		j.ledger(&o, j.v.ID())
		j.ledger(&o, other.v.ID())
		j.restarts(&o, t.of)
		for _, one := range []jug{j, other} {
			if !one.v.Course.Steady.Open {
				o.say(words.Warn, one.v.Label()+" is not steady: the blend may work on; airlock on, and read again")
			}
		}
		return o
	}
}

// share asks how much of the other goes in and what stays of it.
func (j jug) share(p *asking, other jug) (t pour, rest measure.Given[measure.Volume]) {
	there, v := other.v.Course.Volume, j.stands()
	amount := Field{Key: "amount", Label: "how much", From: p.fill("e.g. {0.5 L}")}
	if room := neck(v.Brimful.Value) - j.v.Course.Volume.Value; v.Brimful.Known() && j.v.Course.Volume.IsKnown() && there.IsKnown() && room > 0 {
		amount.Value, amount.From = j.litres(min(room, there.Value)), "to the neck of "+j.vesselWords(v)
	}
	t = pour{of: other.v.ID()}
	t.gravity, t.alcohol = other.own()
	t.amount = want(p, amount, measure.ParseVolume, p.fill("say how much of it goes in, e.g. {0.5 L}"))
	left := Field{Key: "rest", Label: "stays of it", From: "in " + other.v.Label() + p.fill("; {0 L} closes it")}
	if there.IsKnown() {
		left.Value = j.litres(max(there.Value-t.amount.Value, 0))
	}
	rest = want(p, left, measure.ParseVolume, p.fill("say what stays of it, e.g. {0.2 L}; {0 L} closes it"))
	switch {
	case t.amount.Known() && t.amount.Value <= 0:
		p.fail("amount", t.amount.Text+p.fill(" is nothing: say how much of it goes in, e.g. {0.5 L}"))
	case there.IsKnown() && t.amount.Value > there.Value+0.005:
		p.fail("amount", fmt.Sprintf("%s holds %s: measure it, or take less", other.v.Label(), j.litres(there.Value)))
	case v.Brimful.Known() && j.v.Course.Volume.IsKnown() && j.v.Course.Volume.Value+t.amount.Value > v.Brimful.Value:
		p.fail("amount", fmt.Sprintf("%s do not go into %s", j.litres(j.v.Course.Volume.Value+t.amount.Value), j.vesselWords(v)))
	}
	return t, rest
}

// sick closes the outcome where the other may not be poured together with
// anything.
func (j jug) sick(o *Outcome, other jug) {
	if no := schedule.Refusal(schedule.Task{Step: string(ferment.Blend), Do: string(ferment.Blend)}, other.v.Day, other.v.Course); no != nil {
		o.say("", other.v.Label()+":")
		o.refuse(no)
	}
}

// loses writes into the other's log what went out of it.
func (j jug) loses(o *Outcome, other jug, t pour, rest measure.Given[measure.Volume], at ferment.Moment) {
	e := ferment.Entry{At: at, Lost: t.amount, Note: t.amount.Text + " into " + j.v.Label()}
	if rest.Value <= 0 {
		e.Did = ferment.Close
		if there := other.v.Course.Volume; there.IsKnown() {
			e.Lost = measure.Give(there.Value, measure.Of(float64(there.Value), "L").Text) // the lees too
		}
		o.Change.Closes = append(o.Change.Closes, other.v.ID())
		o.say(words.Note, "nothing is left of "+other.v.Label()+": it is closed, and its file goes to past")
	} else if there := other.v.Course.Volume; !there.IsKnown() || rest.Value < there.Value-t.amount.Value-0.005 || rest.Value > there.Value-t.amount.Value+0.005 {
		e.Volume = rest
	}
	o.Change.Entries = append(o.Change.Entries, ferment.Logged{Subject: other.v.ID(), Entries: []ferment.Entry{e}})
}
