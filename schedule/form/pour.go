package form

import (
	"cmp"
	"fmt"
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

type pour struct {
	amount  measure.Given[measure.Volume]
	of      string
	alcohol measure.Given[measure.Strength] // of a mead; none for water
}

// What a vessel is topped up with.
const (
	withNothing = "nothing"
	withWater   = "water"
	withSame    = "the same mead"
	withLike    = "another mead"
)

// pour asks what a vessel with so much in it is topped up with.
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
		p.fail("amount", t.amount.Text+p.fill(" is no amount: say how much goes in, e.g. {0.2 L}"))
	}
	if t.of == withLike {
		of := p.ask(Field{Key: "of", Label: "which", From: "what it is, e.g. lime blossom 2025"})
		t.alcohol = may(p, Field{Key: "strength", Label: "its alcohol", From: "e.g. 12 %; without it the strength of the whole is unknown"}, measure.ParseStrength)
		if of == withWater {
			p.fail("of", "for water choose water above")
		}
		t.of = cmp.Or(of, t.of)
	}
	return t
}

func (t pour) wish(at ferment.Moment) app.Wish {
	amount, _ := measure.ParseQuantity(t.amount.Text) // it was read as a volume
	return app.Wish{Step: string(ferment.TopUp), Entry: ferment.Entry{At: at, Amount: ferment.Amount{Quantity: amount}, Of: t.of, Alcohol: t.alcohol}}
}

const fromAnew = "readings from before this no longer count as steady"

func (j jug) topUp(p *asking) func(*Outcome) {
	v, c := j.vessel(), j.v.Course
	t := j.pour(p, "with", []string{withWater, withSame, withLike}, c.Volume.Value, v)
	at, note := p.when(j.s.At), p.note()
	if v.Brimful.Known() && c.Volume.IsKnown() && t.amount.Known() && c.Volume.Value+t.amount.Value > v.Brimful.Value {
		p.fail("amount", fmt.Sprintf("%s do not go into %s", j.litres(c.Volume.Value+t.amount.Value), j.vesselWords(v)))
	}
	return func(o *Outcome) {
		w := t.wish(at)
		w.Note = note
		entries := j.settle(o, w)
		j.write(o, p.values, entries...)
		o.Change.Entries = append(o.Change.Entries, j.v.Ferment.Losses(entries, j.s.Cellar.Ferments)...)
		o.answer(fmt.Sprintf("%s of %s", measure.AsTyped(t.amount, j.units()), t.of))
		j.comesTo(o)
		j.ledger(o, j.v.ID())
		if t.of != withWater && t.of != withSame {
			o.say(words.Note, fromAnew)
		}
	}
}

// blend adds some of another open ferment, whose log records the loss, and which is closed if empty.
func (j jug) blend(p *asking) func(*Outcome) {
	others := slices.DeleteFunc(slices.Clone(j.s.Vessels), func(v app.Vessel) bool {
		c := v.Course
		return v.ID() == j.v.ID() || c.Over() || c.Stage == course.Bottled || c.Volume.IsKnown() && c.Volume.Value < drop
	})
	if len(others) == 0 {
		p.fail("what", "there is no other open ferment to blend with")
		return nil
	}
	names := ferment.Map(others, app.Vessel.Label)
	with := p.choose(Field{Key: "other", Label: "with", Value: names[0], Words: names})
	other := jug{j.record, others[slices.Index(names, with)]}
	t, rest := j.share(p, other)
	at, note := p.when(j.s.At), p.note()
	return func(o *Outcome) {
		w := t.wish(at)
		w.Step, w.Note = string(ferment.Blend), note
		entries := j.settle(o, w)
		if no := schedule.Refusal(schedule.Task{Step: string(ferment.Blend), Do: string(ferment.Blend)}, other.v.Day, other.v.Course); no != nil {
			o.say("", other.v.Label()+":")
			o.refuse(no)
		}
		j.write(o, p.values, entries...)
		j.loses(o, other, t, rest, at)
		o.answer(fmt.Sprintf("%s of %s into %s", measure.AsTyped(t.amount, j.units()), other.v.Label(), j.v.Label()))
		j.comesTo(o)
		j.ledger(o, j.v.ID())
		j.ledger(o, other.v.ID())
		o.say(words.Note, fromAnew)
		for _, one := range []jug{j, other} {
			if !one.v.Course.Steady.Open {
				o.say(words.Warn, one.v.Label()+" is not steady: the blend may go on working: fit the airlock, and read again")
			}
		}
	}
}

// share asks how much of the other is added and what is left of it.
func (j jug) share(p *asking, other jug) (t pour, rest measure.Given[measure.Volume]) {
	there, v := other.v.Course.Volume, j.vessel()
	amount := Field{Key: "amount", Label: "how much", From: p.fill("e.g. {0.5 L}")}
	if room := neck(v.Brimful.Value) - j.v.Course.Volume.Value; v.Brimful.Known() && j.v.Course.Volume.IsKnown() && there.IsKnown() && room > 0 {
		amount.Value, amount.From = j.litres(min(room, there.Value)), "to the neck of "+j.vesselWords(v)
	}
	t = pour{of: other.v.ID()}
	if a := other.v.Course.Alcohol; a.IsKnown() { // for who reads the file alone
		t.alcohol = measure.Give(a.Value, percent(a.Value))
	}
	t.amount = want(p, amount, measure.ParseVolume, p.fill("say how much of it goes in, e.g. {0.5 L}"))
	left := Field{Key: "rest", Label: "left of it", From: "in " + other.v.Label() + p.fill("; {0 L} closes it")}
	if there.IsKnown() {
		left.Value = j.litres(max(there.Value-t.amount.Value, 0))
	}
	rest = want(p, left, measure.ParseVolume, p.fill("say what left of it, e.g. {0.2 L}; {0 L} closes it"))
	switch {
	case t.amount.Known() && t.amount.Value <= 0:
		p.fail("amount", t.amount.Text+p.fill(" is no amount: say how much of it goes in, e.g. {0.5 L}"))
	case there.IsKnown() && t.amount.Value > there.Value+0.005:
		p.fail("amount", fmt.Sprintf("%s has %s: measure it, or take less", other.v.Label(), j.litres(there.Value)))
	case v.Brimful.Known() && j.v.Course.Volume.IsKnown() && j.v.Course.Volume.Value+t.amount.Value > v.Brimful.Value:
		p.fail("amount", fmt.Sprintf("%s do not go into %s", j.litres(j.v.Course.Volume.Value+t.amount.Value), j.vesselWords(v)))
	}
	return t, rest
}

// loses adds what the other ferment gives: its entry, or its closing where nothing is left.
func (j jug) loses(o *Outcome, other jug, t pour, rest measure.Given[measure.Volume], at ferment.Moment) {
	e := ferment.Entry{At: at, Lost: t.amount, Note: t.amount.Text + " into " + j.v.Label()}
	there := other.v.Course.Volume
	if rest.Value <= 0 {
		e.Did = ferment.Close
		if there.IsKnown() {
			e.Lost = measure.Give(there.Value, measure.Of(float64(there.Value), "L").Text) // including the lees
		}
		o.Change.Closes = append(o.Change.Closes, other.v.ID())
		o.say(words.Note, "nothing is left of "+other.v.Label()+": it will be closed, and its file moves to past")
	} else if by := there.Value - t.amount.Value; !there.IsKnown() || rest.Value < by-0.005 || rest.Value > by+0.005 {
		e.Volume = rest
	}
	o.Change.Entries = append(o.Change.Entries, ferment.Logged{Subject: other.v.ID(), Entries: []ferment.Entry{e}})
}
