package form

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/shelf"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// What a bottling form does.
const (
	toBottle = "bottle"
	toClose  = "close"
	toDump   = "dump"
)

// Bottle is the form for the end of a mead in its vessel: filled into bottles,
// still or to be conditioned in them, closed, or poured away. What is given
// stands in the fields before a word is typed.
func Bottle(s app.Snapshot, v app.Vessel, given Values) Form {
	j := jug{s, v}
	return laid(Form{Name: "bottle", Title: "bottle " + v.Label(), Subject: v.ID()}, given, func(p *page) func() Outcome {
		switch p.choose(Field{Key: "what", Label: "what", Value: toBottle, Words: []string{toBottle, toClose, toDump}}) {
		case toClose:
			return j.closing(p)
		case toDump:
			return j.dumping(p)
		}
		return j.bottling(p)
	})
}

func (j jug) bottling(p *page) func() Outcome {
	f := filling{jug: j, values: p.values}
	f.volume, f.holds = j.toFill(p)
	f.rows = f.ask(p)
	f.left = f.leaves(p)
	if slices.ContainsFunc(f.rows, row.fizzes) {
		f.priming = f.prime(p)
	}
	f.at, f.note = p.when(j.s.At), p.note()
	return f.outcome
}

func (f filling) outcome() Outcome {
	var o Outcome
	var entries []ferment.Entry
	if f.volume.Known() {
		entries = append(entries, ferment.Entry{At: before(f.at, 3), Volume: f.volume})
	}
	b := schedule.BottlingOf(f.course(entries), f.bottles())
	if b.Stop != nil {
		o.refuse(b.Stop)
	}
	for _, g := range b.Gates {
		o.gate(g)
	}
	f.counts(&o)
	f.doses(&o)
	if b.Near != "" {
		o.say(words.Warn, "near its limit: "+b.Near)
	}
	if b.Still != nil {
		o.warn(schedule.Caution{Loud: b.Still.Loud, Text: "still: " + b.Still.Text})
	}
	entries = f.entries(&o, entries)
	f.write(&o, f.values, entries...)
	f.ledger(&o, f.v.ID())
	f.label(&o)
	o.say(words.Note, f.goesOn())
	return o
}

// bottles are the rows as the gates look at them.
func (f filling) bottles() []schedule.Filled {
	var out []schedule.Filled
	for i, r := range f.rows {
		b := schedule.Filled{Bottle: r.bottle, Test: r.kept(shelf.Test) > 0}
		if r.fizzes() {
			b.Fizz, b.Brings = f.priming.reached(i, r), f.priming.dose.Alcohol
		}
		out = append(out, b)
	}
	return out
}

// counts answers how many bottles there will be, and why so many are reserved.
func (f filling) counts(o *Outcome) {
	var filled, kept []string
	for _, r := range f.rows {
		filled = append(filled, fmt.Sprintf("%d × %s", r.count, r.size.Text))
	}
	for _, purpose := range []string{shelf.Test, shelf.Tasting, shelf.Keep, shelf.Drink} {
		n := 0
		for _, r := range f.rows {
			n += r.kept(purpose)
		}
		if n > 0 {
			kept = append(kept, fmt.Sprintf("%d %s", n, purpose))
		}
	}
	rest := f.litres(max(f.holds-f.filled(), 0)) + " over"
	if f.left.Known() {
		rest = f.left.Text + " stay in the vessel"
	}
	o.answer(strings.Join(filled, " and ") + "; " + rest)
	o.say("", strings.Join(kept, ", ")+": "+budgetWords(f.rows))
}
