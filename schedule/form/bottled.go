package form

import (
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

// entries are what is written of a bottling: what was measured, the ending that it
// chooses, the sugar in the batch, and the bottles.
func (f filling) entries(o *Outcome, entries []ferment.Entry) []ferment.Entry {
	if of := f.chooses(); of != "" {
		entries = append(entries, f.done(o, entries, app.Wish{Step: string(ferment.Choose), At: before(f.at, 2), Of: of})...)
	}
	w := app.Wish{Step: string(ferment.Bottle), At: f.at, Note: f.note, Entry: ferment.Entry{Left: f.left}}
	for i, r := range f.rows {
		w.Entry.Bottles = append(w.Entry.Bottles, r.filled(f.priming.each(i))...)
	}
	if f.priming != nil {
		prime, batch := f.priming.wish(before(f.at, 1))
		if batch {
			entries = append(entries, f.done(o, entries, prime)...)
		} else if f.priming.isHoney() {
			w.Entry.Lot, w.Entry.Water = f.priming.from.lot, f.priming.from.water
		} else {
			w.Note = strings.TrimPrefix(w.Note+"; "+f.priming.words(f.rows), "; ")
		}
	}
	return append(entries, f.done(o, entries, w)...)
}

// done is what an act writes, once others are written.
func (f filling) done(o *Outcome, so []ferment.Entry, w app.Wish) []ferment.Entry {
	v := f.v
	if with, ok := f.after(ferment.Deed{Entries: []ferment.Logged{{Subject: f.v.ID(), Entries: so}}}, f.v.ID()); ok {
		v = with
	}
	entries, err := app.Settled(v, w, f.s.At)
	if err != nil {
		o.Wrong = append(o.Wrong, Wrong{"what", err.Error()})
	}
	return entries
}

// chooses is the ending that the bottles choose where the record has none, or
// another; nothing where it agrees. What is left keeps the endings it has.
func (f filling) chooses() string {
	have := f.v.Ferment.Endings
	still := func(e ferment.Ending) bool { return e == ferment.Still || e == ferment.Sweetened }
	var want []string
	if slices.ContainsFunc(f.rows, func(r row) bool { return !r.fizzes() }) && !slices.ContainsFunc(have, still) {
		want = append(want, string(ferment.Still))
	}
	if slices.ContainsFunc(f.rows, row.fizzes) && !slices.Contains(have, ferment.BottleConditioned) {
		want = append(want, string(ferment.BottleConditioned))
	}
	if len(want) == 0 {
		return ""
	}
	var all []string
	for _, e := range have {
		all = append(all, string(e))
	}
	return strings.Join(append(all, want...), ", ")
}

// label is what is to stand on the bottles.
func (f filling) label(o *Outcome) {
	says := []string{f.v.Label(), f.at.Time.Format("2 Jan 2006")}
	if name := f.v.Ferment.Name; name != "" {
		says = append(says[:1], name, says[1])
	}
	if c := f.course(nil); c.Alcohol.IsKnown() {
		a := c.Alcohol.Value
		if f.priming != nil {
			a += f.priming.dose.Alcohol
		}
		says = append(says, "about "+a.String())
	}
	if what := ferment.Contains(f.v.Ferment, f.v.Course.Entries); len(what) > 0 {
		says = append(says, "contains "+strings.Join(what, ", "))
	}
	if f.priming != nil {
		says = append(says, "under pressure, keep it cool")
	}
	o.say(words.Note, "on the label: "+strings.Join(append(says, "not for infants"), "; "))
}

// goesOn says how long the ferment stays open.
func (f filling) goesOn() string {
	if f.left.Known() {
		return "what stays in the vessel keeps its plan"
	}
	return "it stays open as long as bottles for tests or tasting are left; then close it"
}
