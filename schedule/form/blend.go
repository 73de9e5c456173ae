package form

import (
	"fmt"
	"slices"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/words"
)

// blend takes some of another open ferment in. The other's log loses it, and is
// closed where nothing is left.
func (j jug) blend(p *page) func() Outcome {
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
	other := jug{j.s, others[slices.Index(names, with)]}
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
		o.answer(fmt.Sprintf("%s of %s into %s", t.amount.Text, other.v.Label(), j.v.Label()))
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
func (j jug) share(p *page, other jug) (t pour, rest measure.Given[measure.Volume]) {
	there, v := other.v.Course.Volume, j.stands()
	amount := Field{Key: "amount", Label: "how much", From: "e.g. 0.5 L"}
	if room := neck(v.Brimful.Value) - j.v.Course.Volume.Value; v.Brimful.Known() && j.v.Course.Volume.IsKnown() && there.IsKnown() && room > 0 {
		amount.Value, amount.From = j.litres(min(room, there.Value)), "to the neck of "+vesselWords(v)
	}
	t = pour{of: other.v.ID()}
	t.gravity, t.alcohol = other.own()
	t.amount = want(p, amount, measure.ParseVolume, "say how much of it goes in, e.g. 0.5 L")
	left := Field{Key: "rest", Label: "stays of it", From: "in " + other.v.Label() + "; 0 L closes it"}
	if there.IsKnown() {
		left.Value = j.litres(max(there.Value-t.amount.Value, 0))
	}
	rest = want(p, left, measure.ParseVolume, "say what stays of it, e.g. 0.2 L; 0 L closes it")
	switch {
	case t.amount.Known() && t.amount.Value <= 0:
		p.fail("amount", t.amount.Text+" is nothing: say how much of it goes in, e.g. 0.5 L")
	case there.IsKnown() && t.amount.Value > there.Value+0.005:
		p.fail("amount", fmt.Sprintf("%s holds %s: measure it, or take less", other.v.Label(), j.litres(there.Value)))
	case v.Brimful.Known() && j.v.Course.Volume.IsKnown() && j.v.Course.Volume.Value+t.amount.Value > v.Brimful.Value:
		p.fail("amount", fmt.Sprintf("%s do not go into %s", j.litres(j.v.Course.Volume.Value+t.amount.Value), vesselWords(v)))
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
		o.Deed.Closes = append(o.Deed.Closes, other.v.ID())
		o.say(words.Note, "nothing is left of "+other.v.Label()+": it is closed, and its file goes to past")
	} else if there := other.v.Course.Volume; !there.IsKnown() || rest.Value < there.Value-t.amount.Value-0.005 || rest.Value > there.Value-t.amount.Value+0.005 {
		e.Volume = rest
	}
	o.Deed.Entries = append(o.Deed.Entries, ferment.Logged{Subject: other.v.ID(), Entries: []ferment.Entry{e}})
}
