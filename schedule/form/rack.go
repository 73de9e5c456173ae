package form

import (
	"fmt"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// Rack returns the form for acts between fermenting and bottling: racking, splitting, topping up, blending, fining,
// stabilising, sweetening. given has values for fields.
func Rack(s app.Snapshot, v app.Vessel, given Values) Form {
	j := jug{record{s}, v}
	return j.form(Form{Name: "rack", Title: "rack " + v.Label(), Subject: v.ID()}, given, func(p *asking) func(*Outcome) {
		what := p.choose(Field{Key: "what", Label: "what", Value: rackingWords[0], Words: rackingWords})
		return rackings[what](j, p)
	})
}

// rackings are the choices by their word.
var rackings = map[string]func(jug, *asking) func(*Outcome){
	"rack": jug.rack, "into two": jug.part, "top up": jug.topUp, "blend": jug.blend,
	"fruit": jug.fruit, "fine": jug.fine, "stabilise": jug.stabilise, "sweeten": jug.sweeten,
}

var rackingWords = []string{"rack", "into two", "top up", "blend", "fruit", "fine", "stabilise", "sweeten"}

type moved struct {
	after measure.Given[measure.Volume] // measured; unknown if only the loss was given
	lost  measure.Given[measure.Volume]
	holds measure.Volume // volume in the new vessel; 0 if unknown
}

// over asks how much was racked over, besides what was split off, and how much stayed behind. Each follows from the
// other if the volume before is known.
func (j jug) over(p *asking, label string, parted measure.Volume) moved {
	before := j.v.Course.Volume
	m := moved{after: may(p, Field{Key: "after", Label: label, From: p.fill("measured, e.g. {3.2 L}")}, measure.ParseVolume)}
	left := Field{Key: "lost", Label: "left behind", From: p.fill("with the lees, e.g. {0.2 L}")}
	if lees := before.Value - parted - m.after.Value; before.IsKnown() && m.after.Known() && lees > drop {
		left.Value, left.From = j.litres(lees), "of the "+j.litres(before.Value)+" that were there"
	}
	m.lost = may(p, left, measure.ParseVolume)
	switch {
	case m.after.Known():
		m.holds = m.after.Value
	case !m.lost.Known():
		p.fail("after", p.fill("measure what came over, e.g. {3.2 L}, or give what was left behind"))
	case before.IsKnown() && parted+m.lost.Value > before.Value:
		p.fail("lost", fmt.Sprintf("%s is more than the %s that were there", m.lost.Text, j.litres(before.Value)))
	case before.IsKnown():
		m.holds = before.Value - parted - m.lost.Value
	}
	return m
}

// drop is too little to measure.
const drop measure.Volume = 0.0005

// rack moves the mead into another vessel, and tops that up if wanted.
func (j jug) rack(p *asking) func(*Outcome) {
	m := j.over(p, "came over", 0)
	to := j.into(p, "", "into", m.holds)
	pour := j.pour(p, "fill up with", []string{withNothing, withWater, withSame, withLike}, m.holds, to)
	seen := j.questions(p, ferment.Rack)
	at, note := p.when(j.s.At), p.note()
	if to.Brimful.Known() && m.holds+pour.amount.Value > to.Brimful.Value {
		p.fail("brimful", fmt.Sprintf("%s do not go into %s: take a larger vessel", j.litres(m.holds+pour.amount.Value), measure.AsTyped(to.Brimful, j.units())))
	}
	return func(o *Outcome) {
		minutes := 0
		if pour.amount.Known() {
			minutes = 1
		}
		racked := seen
		racked.At, racked.Note, racked.To, racked.Volume, racked.Lost = before(at, minutes), note, to, m.after, m.lost
		entries := j.settle(o, app.Wish{Step: string(ferment.Rack), Entry: racked})
		if pour.amount.Known() {
			entries = append(entries, j.settle(o, pour.wish(at))...)
		}
		j.write(o, p.values, entries...)
		o.answer(fmt.Sprintf("%s in %s", j.litres(m.holds+pour.amount.Value), j.vesselWords(to)))
		j.surprise(o, m)
		j.ledger(o, j.v.ID())
		if pour.amount.Known() {
			j.comesTo(o)
		}
		j.headspace(o, to, m.holds+pour.amount.Value)
		j.rackingCautions(o)
	}
}

// surprise says so if more is in the vessel than the record had.
func (j jug) surprise(o *Outcome, m moved) {
	if before := j.v.Course.Volume; before.IsKnown() && m.after.Value > before.Value {
		o.sayf(words.Warn, "%s more than the record says: the measured volume counts", j.litres(m.after.Value-before.Value))
	}
}

func (j jug) rackingCautions(o *Outcome) {
	for _, name := range []string{"racking-air", "wet-glass"} {
		c := schedule.Warning(name)
		if _, racked := j.v.Course.First(ferment.Rack); racked {
			c.Loud = schedule.Note
		}
		o.warn(c)
	}
}

// Common practice, no source.
const cools measure.Temperature = 10 // by how much a vessel may cool in an evening
const little = 0.02                  // share of the vessel that need not be topped up

// headspace says how much air is over the mead, what would fill it, and what it draws in.
func (j jug) headspace(o *Outcome, to ferment.Vessel, holds measure.Volume) {
	if !to.Brimful.Known() || holds <= 0 {
		return
	}
	air := to.Brimful.Value - holds
	word, text := words.Note, j.litres(air)+" of air over it"
	if room := neck(to.Brimful.Value) - holds; room > little*to.Brimful.Value {
		word, text = words.Warn, text+": fill it to the neck with "+j.litres(room)
		if smaller, ok := j.smaller(holds, to.Brimful.Value); ok {
			text += ", or take the next smaller vessel, " + j.vesselWords(smaller)
		}
	}
	o.say(word, text)
	c := j.v.Course
	from := c.Warmest().Value
	if drawn, err := carbonation.DrawnIn(holds, carbonation.Liquid{Alcohol: c.Alcohol.Value}, from, from-cools); err == nil && c.Alcohol.IsKnown() {
		o.sayf(words.Note, "from %s to %s it draws in %s of air through its lock", from.In(j.units()), (from - cools).In(j.units()), j.litres(drawn))
	}
}

const undecided = "undecided"

// part racks the mead into two: the new part becomes a ferment with its own name.
func (j jug) part(p *asking) func(*Outcome) {
	goes := want(p, Field{Key: "part", Label: "split off", From: p.fill("how much goes into it, e.g. {1.0 L}")}, measure.ParseVolume,
		p.fill("measure what is split off, e.g. {1.0 L}"))
	rest := j.over(p, "what stays", goes.Value)
	stays, part := j.into(p, "", "into", rest.holds), j.into(p, "-part", "split into", goes.Value)
	f := j.parted(p, goes, part)
	at, note := p.when(j.s.At), p.note()
	if goes.Known() && goes.Value <= 0 {
		p.fail("part", goes.Text+p.fill(" is not an amount: measure what is split off, e.g. {1.0 L}"))
	}
	if rest.holds <= 0 {
		p.fail("after", p.fill("measure what stays, e.g. {2.2 L}"))
	}
	return func(o *Outcome) {
		// The parent's entry has the whole volume; the part is subtracted by its own file, so that it is not lost twice.
		whole := rest.holds + goes.Value
		over := measure.Give(whole, measure.Of(float64(whole), "L").Text)
		entries := j.settle(o, app.Wish{Step: string(ferment.Rack), Entry: ferment.Entry{At: at, Note: note, To: stays, Volume: over, Lost: rest.lost}})
		f.From.At = at
		o.Change.Ferments = []ferment.Ferment{f}
		j.write(o, p.values, entries...)
		o.answer(fmt.Sprintf("%s stays as %s, %s goes on as %s", j.litres(rest.holds), j.v.Label(), measure.AsTyped(goes, j.units()), f.Label()))
		j.surprise(o, moved{after: over})
		j.ledger(o, j.v.ID())
		j.ledger(o, f.ID)
		j.headspace(o, part, goes.Value)
		j.headspace(o, stays, rest.holds)
		o.say(words.Note, f.Label()+" has the must, the yeast and the log of "+j.v.Label()+" up to now")
		j.rackingCautions(o)
	}
}

// parted asks for the ferment that the part in another vessel becomes.
func (j jug) parted(p *asking, goes measure.Given[measure.Volume], in ferment.Vessel) ferment.Ferment {
	f := ferment.Ferment{Name: j.v.Ferment.Name, Vessel: in, Protocol: j.v.Ferment.Protocol, Nutrient: j.v.Ferment.Nutrient,
		From: ferment.Origin{Ferment: j.v.ID(), Volume: goes}}
	id := j.v.ID()
	if n := len(id); n > 2 && id[n-2] == '-' { // the letter of siblings
		id = id[:n-2]
	}
	f.ID = p.askName(Field{Key: "name", Label: "new file", Value: free(id+"-a", j.names()), From: "letters, digits, _ and, not first, -", More: true}, j.names())
	f.Tag = p.askTag(Field{Key: "tag", Label: "new tag", From: "on its glass, at most six columns", More: true}, f.ID, j.names())
	ending := p.choose(Field{Key: "ending", Label: "new ending", Value: undecided,
		Words: []string{undecided, string(ferment.Still), string(ferment.BottleConditioned), string(ferment.Sweetened)}})
	if ending != undecided {
		f.Endings = []ferment.Ending{ferment.Ending(ending)}
	}
	return f
}
