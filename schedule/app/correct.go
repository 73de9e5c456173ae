package app

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/schedule"
)

// Strike takes an entry out of the log of a ferment or a culture, for a reason.
func (d *App) Strike(now time.Time, subject string, e ferment.Entry, because string) (Kept, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	r, err := d.store.Strike(subject, e, because)
	if err == nil {
		d.remember(now, []ferment.Receipt{r})
	}
	return Kept{Receipts: []ferment.Receipt{r}}, err
}

// Correct puts what an entry should have said, typed on a line, in its place.
func (d *App) Correct(now time.Time, subject string, was ferment.Entry, typed, because string) (Kept, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	s, err := d.openWith(now, []string{subject})
	if err != nil {
		return Kept{}, err
	}
	vessels, err := s.FindAll([]string{subject})
	if err != nil {
		return Kept{}, err
	}
	l, err := Instead(s.Cellar.Settings, now, was, typed)
	if err == nil {
		l.Entry.Amount, err = ownAmount(l.Entry.Amount, vessels[0])
	}
	if err != nil {
		return Kept{}, err
	}
	r, err := d.store.Strike(subject, was, because, l.Entry)
	if err != nil {
		return Kept{}, err
	}
	kept := Kept{Receipts: []ferment.Receipt{r}, Notices: ofReceipt(vessels[0], r)}
	d.remember(now, kept.Receipts)
	return kept, nil
}

// Retyped writes an entry as it would be typed; not ok for one that a line cannot say.
func Retyped(s ferment.Settings, now time.Time, e ferment.Entry) (text string, ok bool) {
	text, ok = line.Write(e, line.Context{Now: now, Zone: s.Zone, Units: s.Units, Noted: true})
	if !ok {
		return "", false
	}
	l, err := Instead(s, now, e, text)
	return text, err == nil && line.SameEntry(l.Entry, e)
}

// Instead reads what an entry should have said. What a line cannot say stays, as does the time if none is typed.
func Instead(s ferment.Settings, now time.Time, was ferment.Entry, typed string) (line.Line, error) {
	l, err := Typed{Line: typed}.Read(s, now)
	if err != nil {
		return l, err
	}
	e := &l.Entry
	if !l.Timed || e.At.Time.Equal(was.At.Time) && e.At.DayOnly == was.At.DayOnly {
		e.At = was.At
	}
	if e.Did == was.Did {
		e.Bottles, e.Triangle = was.Bottles, was.Triangle
	}
	e.Order, e.Line = was.Order, was.Line
	if (e.Did == ferment.Close) != (was.Did == ferment.Close) {
		return l, errors.New("closing moves the file of a ferment: it is done by its form, or taken back by undo")
	}
	return l, nil
}

// MeaningInstead calculates what a correction would change. What the entry had settled, or had taken from another
// vessel, is asked about.
func MeaningInstead(s Snapshot, v Vessel, was, e ferment.Entry) Preview {
	without := withLog(s, v, slices.DeleteFunc(slices.Clone(v.Ferment.Log), func(o ferment.Entry) bool { return o.Line == was.Line && line.SameEntry(o, was) }))
	p := Meaning(s, without, e)
	after := withEntry(s, without, e).Day
	p.Effects = effects(v.Day, after)
	over := func(t schedule.Task) bool { return t.State == schedule.Done || t.State == schedule.Skipped }
	for _, t := range v.Day.Tasks {
		still := slices.ContainsFunc(after.Tasks, func(o schedule.Task) bool { return o.Step == t.Step && o.Occurrence == t.Occurrence && over(o) })
		if over(t) && !still {
			p.Unlikely = append(p.Unlikely, Ask{Says: fmt.Sprintf("%s was %s by it, and would be open again: another act, another time?", cmp.Or(schedule.StepTitle(t.Step), t.Step), t.State)})
		}
	}
	for _, loss := range v.Ferment.Losses([]ferment.Entry{was, e}, s.Cellar.Ferments) {
		other, _ := s.Find(loss.Subject)
		p.Unlikely = append(p.Unlikely, Ask{Says: "the log of " + other.Label() + " says what went out of it: correct that entry too"})
		break
	}
	return p
}
