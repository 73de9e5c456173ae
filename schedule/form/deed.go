package form

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
)

// settle is what an act writes, told of what stands against it.
func (j jug) settle(o *Outcome, w app.Wish) []ferment.Entry {
	_, err := app.Settling(j.v, w, j.s.At)
	var refused *app.Refused
	if errors.As(err, &refused) {
		o.refuse(&refused.No)
	}
	entries, err := app.Settled(j.v, w, j.s.At)
	if err != nil {
		o.Wrong = append(o.Wrong, Wrong{"what", err.Error()})
	}
	return entries
}

// write puts entries of the jug into the deed, the reason to go on all the same
// with the last of them.
func (j jug) write(o *Outcome, values Values, entries ...ferment.Entry) {
	if n := len(entries); n > 0 && o.Closed != "" {
		entries[n-1].Overrode, entries[n-1].Because = o.Closed, strings.TrimSpace(values[Because])
	}
	o.Deed.Entries = append(o.Deed.Entries, ferment.Logged{Subject: j.v.ID(), Entries: entries})
}

// after is a ferment as it will be once a deed is written.
func (j jug) after(d ferment.Deed, id string) (app.Vessel, bool) {
	fs := append(slices.Clone(j.s.Cellar.Ferments), d.Ferments...)
	for i := range fs {
		for _, l := range d.Entries {
			if l.Subject == fs[i].ID {
				fs[i].Log = append(slices.Clone(fs[i].Log), l.Entries...)
			}
		}
	}
	fs = ferment.Parted(fs, j.s.Cellar.Parents...)
	i := slices.IndexFunc(fs, func(f ferment.Ferment) bool { return f.ID == id })
	if i < 0 {
		return app.Vessel{}, false
	}
	return app.Plan(fs[i], j.s.Cellar, j.s.At), true
}

// ledger says what stood in a vessel before a deed, what came and went by it, and
// what stands there then.
func (j jug) ledger(o *Outcome, id string) {
	is, ok := j.after(o.Deed, id)
	if !ok {
		return
	}
	was, open := j.s.Find(id)
	var parts []string
	switch {
	case !open:
		was.Course.Ledger = is.Course.Ledger // a new one begins with what it has
	case was.Course.Volume.IsKnown():
		parts = append(parts, j.litres(was.Course.Volume.Value)+" before")
	}
	for _, m := range is.Course.Ledger[min(len(was.Course.Ledger), len(is.Course.Ledger)):] {
		if m.Known && m.Volume != 0 {
			parts = append(parts, fmt.Sprintf("%s %s", signed(m.Volume, j.litres), m.What))
		}
	}
	now := "then unknown: " + is.Course.Volume.Unknown
	switch v := is.Course.Volume; {
	case v.IsKnown() && v.Value < drop:
		now = "nothing then"
	case v.IsKnown():
		now = j.litres(v.Value) + " then"
	}
	o.say("", is.Label()+": "+strings.Join(append(parts, now), ", "))
}

func signed(v measure.Volume, as func(measure.Volume) string) string {
	if v < 0 {
		return "−" + as(-v)
	}
	return "+" + as(v)
}
