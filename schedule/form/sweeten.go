package form

import (
	"fmt"
	"math"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/larder"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// source is the honey that goes in: of which lot, and how wet it is.
type source struct {
	lot   string // the id; empty for honey of no lot
	water measure.Given[measure.Share]
}

func (s source) wet() measure.Share { return s.water.Or(honey.Typical) }

// noLot is honey that no lot is kept of.
const noLot = "of no lot"

// source asks for the lot, proposed as the one that is in the mead already.
func (j jug) source(p *asking) source {
	words := append(lotIDs(j.s.Cellar.Lots), noLot)
	f := Field{Key: "lot", Label: "honey", Value: words[0], Words: words}
	for _, h := range j.v.Ferment.Must.Honey {
		if _, known := j.lot(h.Lot); known {
			f.Value = h.Lot
			break
		}
	}
	id := p.choose(f)
	wet := Field{Key: "water", Label: "its water", From: "unknown: 17.2 % is taken"}
	var s source
	if l, known := j.lot(id); known {
		s.lot = id
		if w := larder.WaterOf(l); w.Known() {
			wet.Value, wet.From = w.Share.String(), string(w.From)
		}
	}
	s.water = may(p, wet, measure.ParseShare)
	return s
}

// uses tells what to know of a lot that so much is taken of.
func (j jug) uses(o *Outcome, s source, mass measure.Mass) {
	l, known := j.lot(s.lot)
	if !known {
		return
	}
	a := larder.Of(l, j.s.Cellar.OpenAndPast(), j.s.At)
	if left := a.Left; left.Weighed {
		word, text := words.Note, fmt.Sprintf("%s: %s left of it, %s then", l.ID, left.Mass.In(j.units()), max(left.Mass-mass, 0).In(j.units()))
		if mass > left.Mass {
			word, text = words.Warn, fmt.Sprintf("%s: only %s are left of it by the record", l.ID, max(left.Mass, 0).In(j.units()))
		}
		o.say(word, text)
	}
	for _, c := range schedule.LotCautions(a) {
		if c.Loud != schedule.Note {
			o.warn(c)
		}
	}
}

// sweeten puts honey in, to a gravity or so many g/L.
func (j jug) sweeten(p *asking) func() Outcome {
	volume, alcohol := j.volume(p), j.alcohol(p)
	from := want(p, Field{Key: "gravity", Label: "gravity now", Value: shown(j.gravity(), measure.Gravity.String), From: "the latest reading"},
		measure.ParseGravity, "read gravity, e.g. 0.997")
	h := j.source(p)
	to := p.ask(Field{Key: "to", Label: "sweeten to", From: "a gravity or a content, e.g. 1.010 or 30 g/L"})
	m := honey.Mead{Volume: volume.Value, Gravity: from.Value, Alcohol: alcohol.Value}
	proposed := Field{Key: "amount", Label: "honey", From: p.fill("as it is weighed, e.g. {120 g}")}
	if to != "" && len(p.wrong) == 0 {
		sweet, err := sweetened(m, h.wet(), to)
		if err != nil {
			p.fail("to", measure.ErrorIn(err, p.units))
		}
		proposed.Value, proposed.From = j.grams(sweet.Honey), "by mass and volume; write what is weighed"
	}
	amount := want(p, proposed, measure.ParseMass, p.fill("say how sweet it is to be, or weigh the honey, e.g. {120 g}"))
	then, sweet, err := sweetenedBy(m, h.wet(), amount.Value)
	if amount.Known() && err != nil && len(p.wrong) == 0 {
		p.fail("amount", measure.ErrorIn(err, p.units))
	}
	at, note := p.when(j.s.At), p.note()
	return func() Outcome {
		var o Outcome
		q, _ := measure.ParseQuantity(amount.Text) // it was read as a mass
		entries := j.measured(p, before(at, 1), volume, measure.Given[measure.PH]{})
		entries = append(entries, j.settle(&o, app.Wish{Step: string(ferment.Honey), Entry: ferment.Entry{At: at, Note: note, Amount: ferment.Amount{Quantity: q}, Of: "honey",
			Lot: h.lot, Water: h.water}})...)
		j.write(&o, p.values, entries...)
		o.answer(fmt.Sprintf("%s honey bring %s to %s", measure.AsTyped(amount, j.units()), measure.AsTyped(volume, j.units()), words.Exact(then, j.s.Cellar.Settings)))
		o.answer(fmt.Sprintf("then %s of %s, with %s g/L more of sugar", j.litres(sweet.Volume), sweet.Alcohol, measure.Decimal(float64(sweet.Added), 0)))
		j.ledger(&o, j.v.ID())
		if !h.water.Known() {
			o.say(words.Note, "the honey is taken to hold 17.2 % of water")
		}
		if room := j.stands().Brimful; room.Known() && sweet.Volume > room.Value {
			o.say(words.Warn, fmt.Sprintf("%s do not go into %s", j.litres(sweet.Volume), j.vesselWords(j.stands())))
		}
		j.uses(&o, h, amount.Value)
		if o.Closed == "" && j.v.Course.Steady.Met.IsZero() {
			o.say(words.Warn, "it has not been steady: the honey feeds the yeast, it does not sweeten, and breaks not yet met move")
		} else {
			o.say(words.Note, "a fall of 0.002, or bubbles, means that it works again: read in 7, 14 and 28 days, and bottle after that")
		}
		return o
	}
}

// sweetest is how far a mead is sweetened at most.
const sweetest = 0.15

// sweetened is what honey makes of a mead that is sweetened to a gravity, or by
// so many g/L of its solids.
func sweetened(m honey.Mead, water measure.Share, to string) (honey.Sweetened, error) {
	if strings.HasSuffix(strings.ToLower(to), "/l") {
		content, err := measure.ParseContent(to)
		if err != nil {
			return honey.Sweetened{}, err
		}
		_, s, err := sweetenedUntil(m, water, func(s honey.Sweetened) float64 { return float64(s.Added - content.Value) })
		return s, err
	}
	g, err := measure.ParseGravity(to)
	if err != nil {
		return honey.Sweetened{}, fmt.Errorf("%q is neither a gravity nor a content, e.g. 1.010 or 30 g/L", to)
	}
	return honey.Raise(m.Volume, m.Gravity, g.Value, m.Alcohol, water)
}

// sweetenedBy is the gravity that so much honey brings a mead to.
func sweetenedBy(m honey.Mead, water measure.Share, mass measure.Mass) (measure.Gravity, honey.Sweetened, error) {
	return sweetenedUntil(m, water, func(s honey.Sweetened) float64 { return float64(s.Honey - mass) })
}

// sweetenedUntil raises the gravity until what is wanted of it is reached.
func sweetenedUntil(m honey.Mead, water measure.Share, over func(honey.Sweetened) float64) (measure.Gravity, honey.Sweetened, error) {
	to := measure.Root(m.Gravity, m.Gravity+sweetest, func(g measure.Gravity) float64 {
		s, err := honey.Raise(m.Volume, m.Gravity, g, m.Alcohol, water)
		if err != nil {
			return 1 // too sweet for the figure: it lies under that
		}
		return over(s)
	})
	s, err := honey.Raise(m.Volume, m.Gravity, to, m.Alcohol, water)
	switch {
	case err != nil:
		return to, s, err
	case s.Honey <= 0:
		return to, s, fmt.Errorf("it is as sweet as that already: aim higher, e.g. 1.010 or 30 g/L")
	case math.Abs(over(s)) > 1e-3:
		return to, s, fmt.Errorf("that is sweeter than can be worked out: at most %s g/L", measure.Decimal(float64(s.Added), 0))
	}
	return to, s, nil
}
