package app

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule"
)

// Kept is what was written, subject by subject.
type Kept struct {
	Receipts []ferment.Receipt
	Notices  []string // what a person should know of it: "too soon: …"
}

// Log records what has happened in every one of the subjects. It is always
// kept; what a gate would have said against it comes back as a notice. An
// amount in g/L is made into each vessel's own.
func (d *App) Log(now time.Time, subjects []string, entries ...ferment.Entry) (Kept, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	s, err := d.open(now)
	if err != nil {
		return Kept{}, err
	}
	vessels, err := s.FindAll(subjects)
	if err != nil {
		return Kept{}, err
	}
	return d.write(vessels, func(v Vessel) ([]ferment.Entry, []string, error) {
		return stated(v, entries, s.At)
	})
}

// stated fills in what entries leave to the vessel: the time, the amount.
func stated(v Vessel, entries []ferment.Entry, now time.Time) ([]ferment.Entry, []string, error) {
	var out []ferment.Entry
	var notices []string
	for _, e := range entries {
		if e.At.IsZero() {
			e.At = ferment.At(now)
		}
		amount, err := ownAmount(e.Amount, v)
		if err != nil {
			return nil, nil, err
		}
		e.Amount = amount
		if no := against(v, e); no != nil && e.Overrode == "" && !judged(e, entries) {
			notices = append(notices, fmt.Sprintf("%s: %s, %s; it is kept and counted", v.Ferment.Label(), e.Did, no.Verdict))
		}
		out = append(out, e)
	}
	return out, notices, nil
}

// judged tells whether an entry belongs to a bottling that names its bottles:
// whoever wrote it has looked at the gate of those, and at no others.
func judged(e ferment.Entry, with []ferment.Entry) bool {
	named := slices.ContainsFunc(with, func(o ferment.Entry) bool { return o.Did == ferment.Bottle && len(o.Bottles) > 0 })
	return named && (e.Did == ferment.Prime || e.Did == ferment.Bottle)
}

// against is what stands against an act that an entry says was done.
func against(v Vessel, e ferment.Entry) *schedule.No {
	if e.Did == "" {
		return nil
	}
	t, ok := TaskMeant(v, string(e.Did))
	if !ok {
		return nil
	}
	return schedule.Refusal(t, v.Day, v.Course)
}

// ownAmount turns an amount per litre into the vessel's own.
func ownAmount(a ferment.Amount, v Vessel) (ferment.Amount, error) {
	if a.Unknown || a.Dimension() != measure.OfContent {
		return a, nil
	}
	volume := v.Course.Volume
	if !volume.IsKnown() {
		return a, fmt.Errorf("%s: %s needs the volume in the vessel: %s", v.Ferment.Label(), a.Text, volume.Unknown)
	}
	grams := a.Value() * float64(volume.Value)
	return ferment.Amount{Quantity: measure.Of(roundTo(grams, 2), "g")}, nil
}

// write appends to each vessel's file what entriesFor gives for it. Nothing is
// written before everything is known to be in order.
func (d *App) write(vessels []Vessel, entriesFor func(Vessel) ([]ferment.Entry, []string, error)) (Kept, error) {
	var kept Kept
	var first, refused *Refused
	perVessel := make([][]ferment.Entry, len(vessels))
	for i, v := range vessels {
		entries, notices, err := entriesFor(v)
		switch {
		case errors.As(err, &refused) && first == nil:
			first = refused
		case errors.As(err, &refused):
			first.Others = append(first.Others, refused)
		case err != nil:
			return Kept{}, err
		}
		perVessel[i], kept.Notices = entries, append(kept.Notices, notices...)
	}
	if first != nil {
		return Kept{}, first
	}
	var failed error
	for i, v := range vessels {
		receipts, err := d.put(v, perVessel[i])
		failed = errors.Join(failed, err)
		for _, r := range receipts {
			kept.Notices = append(kept.Notices, ofReceipt(v, r)...)
		}
		kept.Receipts = append(kept.Receipts, receipts...)
	}
	d.remember(kept.Receipts)
	return kept, failed
}

// put writes entries into one file. One that closes a ferment moves the file to
// the past too.
func (d *App) put(v Vessel, entries []ferment.Entry) ([]ferment.Receipt, error) {
	closes := slices.ContainsFunc(entries, func(e ferment.Entry) bool { return e.Did == ferment.Close })
	if closes && v.Culture == nil {
		return d.store.Apply(ferment.Change{Entries: []ferment.Logged{{Subject: v.ID(), Entries: entries}}, Closes: []string{v.ID()}})
	}
	receipt, err := d.store.Append(v.ID(), entries)
	if err != nil {
		return nil, err
	}
	return []ferment.Receipt{receipt}, nil
}

// ofReceipt is what a person should know of how something was written.
func ofReceipt(v Vessel, r ferment.Receipt) []string {
	switch {
	case r.Stood:
		return []string{v.Label() + ": it stood there already, so nothing was added"}
	case r.Alone != "":
		return []string{fmt.Sprintf("%s: it is in its file alone, as no second record can be kept: %s", v.Label(), r.Alone)}
	}
	return nil
}

// remember is what undo can take back: not what stood there already.
func (d *App) remember(receipts []ferment.Receipt) {
	wrote := slices.DeleteFunc(slices.Clone(receipts), func(r ferment.Receipt) bool { return r.Stood })
	if len(wrote) > 0 {
		d.wrote = append(d.wrote, wrote)
	}
}
