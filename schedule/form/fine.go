package form

import (
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// fine puts in what makes the mead clear.
func (j jug) fine(p *page) func() Outcome {
	of := p.ask(Field{Key: "of", Label: "with", From: "e.g. bentonite"})
	amount := want(p, Field{Key: "amount", Label: "amount", From: "in all or a litre, e.g. 1.5 g, 0.5 g/L"}, aQuantity,
		"say how much, as the trial glasses had it, e.g. 0.5 g/L")
	if of == "" {
		p.fail("of", "say what it is made clear with, e.g. bentonite")
	}
	at, note := p.when(j.s.At), p.note()
	if amount.Value.Dimension() == measure.OfContent && !j.v.Course.Volume.IsKnown() {
		p.fail("amount", "an amount a litre needs the volume in the vessel: give it in all, e.g. 1.5 g")
	}
	return func() Outcome {
		var o Outcome
		entries := j.settle(&o, app.Wish{Step: string(ferment.Fine), At: at, Note: note, Amount: ferment.Amount{Quantity: amount.Value}, Of: of})
		j.write(&o, p.values, entries...)
		for _, e := range entries {
			if e.Did == ferment.Fine {
				o.answer(e.Amount.Text + " of " + of)
			}
		}
		o.say(words.Note, "trial glasses of 100 mL first: the least that clears one overnight is the dose")
		if what := ferment.Contains(ferment.Ferment{}, []*ferment.Entry{{Of: of}}); len(what) > 0 {
			o.say(words.Warn, "some people react to "+strings.Join(what, " and ")+": write it on the label")
		}
		return o
	}
}

// aQuantity reads an amount of something.
func aQuantity(text string) (measure.Given[measure.Quantity], error) {
	q, err := measure.ParseQuantity(text)
	switch q.Dimension() {
	case measure.OfMass, measure.OfVolume, measure.OfContent:
	default:
		if err == nil {
			err = &measure.Error{Text: text, Problem: "is not an amount", Hint: "a number and g, mL or g/L, e.g. 1.5 g"}
		}
	}
	if err == nil && q.Number < 0 {
		err = &measure.Error{Text: text, Problem: "is less than nothing", Hint: "a number and g, mL or g/L, e.g. 1.5 g"}
	}
	q.Text = ferment.Spelled(q.Text)
	return measure.Give(q, q.Text), err
}
