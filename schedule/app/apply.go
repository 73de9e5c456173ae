package app

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
)

// UnknownID is the error for a lot or a culture that does not exist.
type UnknownID struct {
	Noun, ID string
	Known    []string
}

func (e *UnknownID) Error() string {
	if len(e.Known) == 0 {
		return fmt.Sprintf("no %s is called %q: there is none yet", e.Noun, e.ID)
	}
	return fmt.Sprintf("no %s is called %q: there is %s", e.Noun, e.ID, strings.Join(e.Known, ", "))
}

// Apply writes everything of one act, so that one Undo reverts it. A missing time is now. Everything is checked before
// the first write; if a write fails, the error says what was written.
func (d *App) Apply(now time.Time, change ferment.Change) (Kept, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	change = gathered(change)
	s, err := d.openWith(now, ferment.Map(change.Entries, func(l ferment.Logged) string { return l.Subject }))
	if err != nil {
		return Kept{}, err
	}
	if err := unknownIDs(change, s.Cellar); err != nil {
		return Kept{}, err
	}
	change, notices, err := s.filled(change)
	if err != nil {
		return Kept{}, err
	}
	receipts, err := d.store.Apply(change)
	if len(receipts) == 0 {
		return Kept{}, err
	}
	d.remember(now, receipts)
	for _, r := range receipts {
		v, _ := s.Find(r.Subject)
		notices = append(notices, ofReceipt(v, r)...)
	}
	return Kept{receipts, notices}, err
}

// gathered adds the entries for new ferments and cultures to their logs.
func gathered(change ferment.Change) ferment.Change {
	change.Ferments, change.Cultures = slices.Clone(change.Ferments), slices.Clone(change.Cultures)
	logs := map[string]*[]ferment.Entry{}
	for i := range change.Cultures {
		logs[change.Cultures[i].ID] = &change.Cultures[i].Log
	}
	for i := range change.Ferments {
		logs[change.Ferments[i].ID] = &change.Ferments[i].Log
	}
	var others []ferment.Logged
	for _, l := range change.Entries {
		if log, isNew := logs[l.Subject]; isNew {
			*log = slices.Concat(*log, l.Entries)
		} else {
			others = append(others, l)
		}
	}
	change.Entries = others
	return change
}

// unknownIDs refuses lots and cultures that are neither in the cellar nor in the change.
func unknownIDs(change ferment.Change, c ferment.Cellar) error {
	lots := ferment.Map(slices.Concat(c.Lots, change.Lots), func(l ferment.Lot) string { return l.ID })
	cultures := ferment.Map(slices.Concat(c.Cultures, change.Cultures), func(k ferment.Culture) string { return k.ID })
	var err error
	want := func(noun, id string, known []string) {
		if err == nil && id != "" && !slices.Contains(known, id) {
			err = &UnknownID{noun, id, known}
		}
	}
	for _, f := range change.Ferments {
		for _, h := range f.Must.Honey {
			want("lot", h.Lot, lots)
		}
		want("culture", f.Yeast.Culture, cultures)
	}
	for _, u := range change.Uses {
		want("lot", u.Lot, lots)
	}
	for _, k := range change.Cultures {
		want("culture", k.From, cultures)
	}
	return err
}

// filled fills in what entries leave to the vessel (time, amount), and returns notices.
func (s Snapshot) filled(change ferment.Change) (ferment.Change, []string, error) {
	var notices []string
	fill := func(v Vessel, log []ferment.Entry) ([]ferment.Entry, error) {
		entries, says, err := stated(v, log, s.At)
		notices = append(notices, says...)
		return entries, err
	}
	var err error
	for i, f := range change.Ferments {
		empty := f
		empty.Log = nil
		if change.Ferments[i].Log, err = fill(Plan(empty, s.Cellar, s.At), f.Log); err != nil {
			return change, nil, err
		}
	}
	for i, k := range change.Cultures {
		if change.Cultures[i].Log, err = fill(PlanCulture(k, s.Cellar, s.At), k.Log); err != nil {
			return change, nil, err
		}
	}
	change.Uses = slices.Clone(change.Uses)
	for i := range change.Uses {
		change.Uses[i].Use.At = orNow(change.Uses[i].Use.At, s.At)
	}
	change.Entries = slices.Clone(change.Entries)
	for i, l := range change.Entries {
		vs, err := s.FindAll([]string{l.Subject})
		if err != nil {
			return change, nil, err
		}
		change.Entries[i].Subject = vs[0].ID()
		if change.Entries[i].Entries, err = fill(vs[0], l.Entries); err != nil {
			return change, nil, err
		}
	}
	change.Closes, err = s.toClose(change.Closes)
	return change, notices, err
}

// toClose returns the ids of the ferments to close, each once.
func (s Snapshot) toClose(names []string) ([]string, error) {
	var ids []string
	for _, name := range names {
		f, err := s.Cellar.Find(name)
		if err != nil {
			return nil, err
		}
		if !slices.Contains(ids, f.ID) {
			ids = append(ids, f.ID)
		}
	}
	return ids, nil
}
