package form

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

type jug struct {
	record
	v app.Vessel
}

// typed returns an amount as typed, converted in a US cellar.
func (j jug) typed(q measure.Quantity, text string) string {
	if j.units() == measure.US {
		return q.In(measure.US)
	}
	return measure.Spelled(text)
}

// shown writes a figure for a field; empty if unknown.
func shown[T any](f course.Figure[T], as func(T) string) string {
	if !f.IsKnown() {
		return ""
	}
	return as(f.Value)
}

func percent(s measure.Strength) string { return measure.Decimal(float64(s), 1) + " %" }

func (j jug) volume(p *asking) measure.Given[measure.Volume] {
	f := Field{Key: "volume", Label: "in the vessel", Value: shown(j.v.Course.Volume, j.litres), From: "by the record"}
	if f.Value == "" {
		f.From = p.fill("measure it, e.g. {3.2 L}")
	}
	return want(p, f, measure.ParseVolume, p.fill("measure what is in the vessel, e.g. {3.2 L}"))
}

func (j jug) alcohol(p *asking) measure.Given[measure.Strength] {
	f := Field{Key: "alcohol", Label: "alcohol", Value: shown(j.v.Course.Alcohol, percent), From: "by its gravities", More: true}
	if f.Value == "" {
		f.More, f.From = false, j.v.Course.Alcohol.Unknown
	}
	a := want(p, f, measure.ParseStrength, "give its alcohol, e.g. 12 %, or read gravity: it follows from that and the original")
	if f.Value != "" && a.Text == f.Value {
		a.Value = j.v.Course.Alcohol.Value // the plan's, with more digits than shown
	}
	return a
}

// comesTo answers with what is in the vessel after the change, and returns its volume.
func (j jug) comesTo(o *Outcome) measure.Volume {
	is, ok := j.afterChange(o.Change, j.v.ID())
	c := is.Course
	switch {
	case !ok:
	case !c.Volume.IsKnown() || !c.Alcohol.IsKnown():
		o.say(words.Note, "the result is not known: "+cmp.Or(c.Volume.Unknown, c.Alcohol.Unknown))
	default:
		o.answer(fmt.Sprintf("then %s at %s with %s", j.litres(c.Volume.Value), words.Exact(c.Present.Value, j.s.Cellar.Settings), c.Alcohol.Value))
	}
	return c.Volume.Value
}

// settle returns the entries of an act, or refuses the outcome.
func (j jug) settle(o *Outcome, w app.Wish) []ferment.Entry {
	_, _, err := app.Settling(j.v, w, j.s.At)
	var refused *app.Refused
	if errors.As(err, &refused) {
		o.refuse(&refused.No)
	}
	return j.settled(o, j.v, w)
}

// settled returns the entries that settle a task as it was filled in.
func (r record) settled(o *Outcome, v app.Vessel, w app.Wish) []ferment.Entry {
	entries, err := app.Settled(v, w, r.s.At)
	if err != nil {
		o.Wrong = append(o.Wrong, Wrong{"what", measure.ErrorIn(err, r.units())})
	}
	return entries
}

// write adds entries of the jug to the change, with the reason on the last.
func (j jug) write(o *Outcome, values Values, entries ...ferment.Entry) {
	if n := len(entries); n > 0 && o.Closed != "" {
		entries[n-1].Overrode, entries[n-1].Because = o.Closed, strings.TrimSpace(values[Because])
	}
	o.Change.Entries = append(o.Change.Entries, ferment.Logged{Subject: j.v.ID(), Entries: entries})
}

// afterChange returns a ferment as it will be after a change; not ok if the change does not have it.
func (j jug) afterChange(d ferment.Change, id string) (app.Vessel, bool) {
	fs := append(slices.Clone(j.s.Cellar.Ferments), d.Ferments...)
	for i := range fs {
		for _, l := range d.Entries {
			if l.Subject == fs[i].ID {
				fs[i].Log = append(slices.Clone(fs[i].Log), l.Entries...)
			}
		}
	}
	fs = j.s.Cellar.Joined(ferment.Parted(fs, j.s.Cellar.Parents...))
	i := slices.IndexFunc(fs, func(f ferment.Ferment) bool { return f.ID == id })
	if i < 0 {
		return app.Vessel{}, false
	}
	return app.Plan(fs[i], j.s.Cellar, j.s.At), true
}

func (j jug) afterEntries(entries []ferment.Entry) app.Vessel {
	if v, ok := j.afterChange(ferment.Change{Entries: []ferment.Logged{{Subject: j.v.ID(), Entries: entries}}}, j.v.ID()); ok {
		return v
	}
	return j.v
}

// ledger says what a vessel had before a change, what was added and removed, and what it has then.
func (j jug) ledger(o *Outcome, id string) {
	is, ok := j.afterChange(o.Change, id)
	if !ok {
		return
	}
	was, open := j.s.Find(id)
	var parts []string
	switch {
	case !open:
		was.Course.Ledger = is.Course.Ledger // a new one has no changes yet
	case was.Course.Volume.IsKnown():
		parts = append(parts, j.litres(was.Course.Volume.Value)+" before")
	}
	for _, m := range is.Course.Ledger[min(len(was.Course.Ledger), len(is.Course.Ledger)):] {
		switch {
		case m.Known && m.Volume > 0:
			parts = append(parts, "+"+j.litres(m.Volume)+" "+m.What)
		case m.Known && m.Volume < 0:
			parts = append(parts, "−"+j.litres(-m.Volume)+" "+m.What)
		}
	}
	now := "what is left is unknown: " + is.Course.Volume.Unknown
	switch v := is.Course.Volume; {
	case v.IsKnown() && v.Value < drop:
		now = "nothing left"
	case v.IsKnown():
		now = j.litres(v.Value) + " then"
	}
	o.say("", is.Label()+": "+strings.Join(append(parts, now), ", "))
}

// neck returns the volume of a vessel filled to its neck: bung and airlock need 3 % (common practice, no source).
func neck(brimful measure.Volume) measure.Volume { return brimful * 0.97 }

// into asks for the vessel that something goes into; suffix distinguishes the keys of a second one.
func (j jug) into(p *asking, suffix, label string, holds measure.Volume) ferment.Vessel {
	proposed := j.vessel()
	if fits, ok := j.smaller(holds, proposed.Brimful.Value); ok && holds > 0 {
		proposed = fits
	}
	return p.vessel(Field{Key: "to" + suffix, Label: label, Value: cmp.Or(proposed.Kind, "glass jug"), From: "the vessel, e.g. glass jug", More: true},
		Field{Key: "brimful" + suffix, Label: strings.Replace(label, "into", "brimful", 1), Value: proposed.Brimful.Text, More: proposed.Brimful.Known()})
}

// vessel returns what it is in now, after every racking.
func (j jug) vessel() ferment.Vessel {
	v := j.v.Ferment.Vessel
	for _, e := range j.v.Course.Entries {
		if e.To.Kind != "" || e.To.Brimful.Known() {
			v = e.To
		}
	}
	return v
}

// smaller returns the smallest vessel with enough room that is smaller than another.
func (j jug) smaller(holds, than measure.Volume) (best ferment.Vessel, ok bool) {
	for _, other := range j.s.Vessels {
		v := jug{j.record, other}.vessel()
		b := v.Brimful
		if !b.Known() || neck(b.Value) < holds || than > 0 && b.Value >= than {
			continue
		}
		if !ok || b.Value < best.Brimful.Value {
			best, ok = v, true
		}
	}
	return best, ok
}

func (j jug) vesselWords(v ferment.Vessel) string {
	words := strings.TrimSpace(cmp.Or(v.Kind, "a vessel"))
	if v.Brimful.Known() {
		words += " of " + measure.AsTyped(v.Brimful, j.units())
	}
	return words
}
