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

// The choices of the bottling form.
const (
	toBottle = "bottle"
	toClose  = "close"
	toDump   = "dump"
)

// Bottle returns the form for the end of a mead in its vessel: bottled still or conditioned, closed, or dumped. given
// has values for fields.
func Bottle(s app.Snapshot, v app.Vessel, given Values) Form {
	j := jug{record{s}, v}
	return j.form(Form{Name: "bottle", Title: "bottle " + v.Label(), Subject: v.ID()}, given, func(p *asking) func(*Outcome) {
		switch p.choose(Field{Key: "what", Label: "what", Value: toBottle, Words: []string{toBottle, toClose, toDump}}) {
		case toClose:
			return j.closing(p)
		case toDump:
			return j.dumping(p)
		}
		return j.bottling(p)
	})
}

func (j jug) bottling(p *asking) func(*Outcome) {
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

func (f filling) outcome(o *Outcome) {
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
	f.counts(o)
	f.doses(o)
	if b.Near != "" {
		o.say(words.Warn, "near its limit: "+b.Near)
	}
	if b.Still != nil {
		o.warn(schedule.Caution{Loud: b.Still.Loud, Text: "still: " + b.Still.Text})
	}
	entries = f.entries(o, entries)
	f.write(o, f.values, entries...)
	f.ledger(o, f.v.ID())
	f.label(o)
	if f.left.Known() {
		o.say(words.Note, "the rest in the vessel goes on with its plan")
	} else {
		o.say(words.Note, "close the ferment when no bottles for tests or tasting are left")
	}
}

// bottles returns what is filled, as the gates ask it.
func (f filling) bottles() []schedule.Filled {
	var out []schedule.Filled
	for i, r := range f.rows {
		b := schedule.Filled{Bottle: r.bottle, Test: r.kept(shelf.Test) > 0}
		if r.fizzes() {
			b.Fizz, b.Brings = f.priming.reached(i, r), f.priming.dose.Strength-f.priming.alcohol
		}
		out = append(out, b)
	}
	return out
}

// counts answers how many bottles there will be, and why some are reserved.
func (f filling) counts(o *Outcome) {
	filled := ferment.Map(f.rows, func(r row) string { return fmt.Sprintf("%d × %s", r.count, measure.AsTyped(r.size, f.units())) })
	var kept []string
	for _, purpose := range []string{shelf.Test, shelf.Tasting, shelf.Keep, shelf.Drink} {
		n := 0
		for _, r := range f.rows {
			n += r.kept(purpose)
		}
		if n > 0 {
			kept = append(kept, fmt.Sprintf("%d %s", n, purpose))
		}
	}
	rest := f.litres(max(f.holds-f.filled(), 0)) + " left over"
	if f.left.Known() {
		rest = f.left.Text + " stay in the vessel"
	}
	o.answer(strings.Join(filled, " and ") + "; " + rest)
	o.say("", strings.Join(kept, ", ")+": "+budgetWords(f.rows))
}

type filling struct {
	jug
	volume  measure.Given[measure.Volume] // typed, if it was
	holds   measure.Volume
	rows    []row
	left    measure.Given[measure.Volume] // left in the vessel, whose plan goes on
	priming *priming                      // nil without fizz
	at      ferment.Moment
	note    string
	values  Values
}

// toFill asks for the volume, proposed as measured since the last racking, else as recorded.
func (j jug) toFill(p *asking) (typed measure.Given[measure.Volume], holds measure.Volume) {
	f := Field{Key: "volume", Label: "in the vessel", From: p.fill("measure it, e.g. {3.2 L}")}
	c := j.v.Course
	if c.Volume.IsKnown() {
		f.From = j.litres(c.Volume.Value) + " by the record, not measured since"
		if j.measuredSinceRacking() {
			f.Value, f.From = j.litres(c.Volume.Value), "measured since it was racked"
		}
	}
	typed = may(p, f, measure.ParseVolume)
	switch {
	case typed.Known() && typed.Value <= 0:
		p.fail("volume", typed.Text+p.fill(" fill no bottle: measure what is in the vessel, e.g. {3.2 L}"))
	case typed.Text == f.Value && typed.Known():
		return measure.Given[measure.Volume]{}, c.Volume.Value
	case !typed.Known() && c.Volume.IsKnown():
		return typed, c.Volume.Value
	case !typed.Known():
		p.fail("volume", p.fill("measure what is in the vessel, e.g. {3.2 L}"))
	}
	return typed, typed.Value
}

// measuredSinceRacking reports whether the volume was measured at or after the last racking.
func (j jug) measuredSinceRacking() bool {
	for _, e := range slices.Backward(j.v.Course.Entries) {
		if e.Volume.Known() && !e.Did.ApartFromCourse() {
			return true
		}
		if e.Did == ferment.Rack {
			return false
		}
	}
	return false
}

// filled returns the volume of all rows.
func (f filling) filled() (sum measure.Volume) {
	for _, r := range f.rows {
		sum += r.volume()
	}
	return sum
}

const nothing = "nothing"

// leaves asks what stays in the vessel. A measured volume may be 5 % too small (common practice, no source).
func (f filling) leaves(p *asking) measure.Given[measure.Volume] {
	rest := max(f.holds-f.filled(), 0)
	field := Field{Key: "left", Label: "left", Value: nothing, From: "what stays in the vessel, if you bottle only a part", More: true}
	if slices.ContainsFunc(f.rows, func(r row) bool { return rest >= r.size.Value }) {
		field.Value = f.litres(rest)
	}
	left := may(p, field, func(text string) (measure.Given[measure.Volume], error) {
		if strings.EqualFold(text, nothing) {
			return measure.Given[measure.Volume]{}, nil
		}
		return measure.ParseVolume(text)
	})
	if n := len(f.rows); n > 0 && f.holds > 0 && f.filled()+left.Value > f.holds*1.05 {
		p.fail(fmt.Sprintf("count-%d", n), fmt.Sprintf("%s in bottles and vessel is more than the %s that is there: fill fewer",
			f.litres(f.filled()+left.Value), f.litres(f.holds)))
	}
	if left.Value <= 0 {
		return measure.Given[measure.Volume]{}
	}
	return left
}

// course returns the course after the priming, and after what was measured for the bottling.
func (f filling) course(measured []ferment.Entry) *course.Course {
	c := *f.v.Course
	if len(measured) > 0 {
		c = *f.afterEntries(measured).Course
	}
	if f.priming != nil {
		c.Alcohol = course.Known(f.priming.alcohol)
	}
	return &c
}

// entries returns the entries of a bottling: measurements, ending, priming sugar, bottles.
func (f filling) entries(o *Outcome, entries []ferment.Entry) []ferment.Entry {
	if of := f.chooses(); of != "" {
		entries = append(entries, f.settled(o, f.afterEntries(entries), app.Wish{Step: string(ferment.Choose), Entry: ferment.Entry{At: before(f.at, 2), Of: of}})...)
	}
	w := app.Wish{Step: string(ferment.Bottle), Entry: ferment.Entry{At: f.at, Note: f.note, Left: f.left}}
	for i, r := range f.rows {
		w.Entry.Bottles = append(w.Entry.Bottles, r.filled(f.priming.each(i))...)
	}
	if f.priming != nil {
		prime, batch := f.priming.wish(before(f.at, 1))
		if batch {
			entries = append(entries, f.settled(o, f.afterEntries(entries), prime)...)
		} else if f.priming.isHoney() {
			w.Entry.Lot, w.Entry.Water = f.priming.from.lot, f.priming.from.water
		} else {
			w.Entry.Note = strings.TrimPrefix(w.Entry.Note+"; "+f.priming.words(f.rows), "; ")
		}
	}
	return append(entries, f.settled(o, f.afterEntries(entries), w)...)
}

// chooses returns the ending of the bottles, if the record does not have it.
func (f filling) chooses() string {
	have := f.v.Ferment.Endings
	all := slices.Clone(have)
	still := func(e ferment.Ending) bool { return e == ferment.Still || e == ferment.Sweetened }
	if slices.ContainsFunc(f.rows, func(r row) bool { return !r.fizzes() }) && !slices.ContainsFunc(have, still) {
		all = append(all, ferment.Still)
	}
	if slices.ContainsFunc(f.rows, row.fizzes) && !slices.Contains(have, ferment.BottleConditioned) {
		all = append(all, ferment.BottleConditioned)
	}
	if len(all) == len(have) {
		return ""
	}
	return strings.Join(ferment.Texts(all), ", ")
}

// label adds the text of the label.
func (f filling) label(o *Outcome) {
	says := []string{f.v.Label(), f.at.Time.Format("2 Jan 2006")}
	if name := f.v.Ferment.Name; name != "" {
		says = append(says[:1], name, says[1])
	}
	if c := f.course(nil); c.Alcohol.IsKnown() {
		a := c.Alcohol.Value
		if f.priming != nil {
			a = f.priming.dose.Strength
		}
		says = append(says, "about "+a.String())
	}
	if what := ferment.Allergens(f.v.Ferment, f.v.Course.Entries); len(what) > 0 {
		says = append(says, "contains "+strings.Join(what, ", "))
	}
	if f.priming != nil {
		says = append(says, "under pressure, keep it cool")
	}
	o.say(words.Note, "on the label: "+strings.Join(append(says, "not for infants"), "; "))
}
