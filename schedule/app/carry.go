package app

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
)

// UnknownID says that a deed names a lot or a culture that is nowhere.
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

// Carry writes everything of one act, which one Undo takes back. A time that
// was left out is now. Names, ids and places are looked at before anything is
// written; if the disk then takes only a part, the error says which, and what is
// kept is that part.
func (d *App) Carry(now time.Time, deed ferment.Deed) (Kept, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	s, err := d.open(now)
	if err != nil {
		return Kept{}, err
	}
	deed = gathered(deed)
	if err := unknownIDs(deed, s.Cellar); err != nil {
		return Kept{}, err
	}
	deed, notices, err := s.filled(deed)
	if err != nil {
		return Kept{}, err
	}
	receipts, err := d.store.Carry(deed)
	if len(receipts) == 0 {
		return Kept{}, err
	}
	d.remember(receipts)
	for _, r := range receipts {
		v, _ := s.Find(r.Subject)
		notices = append(notices, ofReceipt(v, r)...)
	}
	return Kept{receipts, notices}, err
}

// Past gives every closed ferment, with what is wrong in their files. The board
// never asks for them.
func (d *App) Past(now time.Time) ([]ferment.Ferment, []ferment.Problem, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if _, err := d.store.Load(now); err != nil {
		return nil, nil, err
	}
	return d.store.Past(now)
}

// gathered is a deed with the entries for what it makes itself in their logs.
func gathered(deed ferment.Deed) ferment.Deed {
	deed.Ferments, deed.Cultures = slices.Clone(deed.Ferments), slices.Clone(deed.Cultures)
	logs := map[string]*[]ferment.Entry{}
	for i := range deed.Cultures {
		logs[deed.Cultures[i].ID] = &deed.Cultures[i].Log
	}
	for i := range deed.Ferments {
		logs[deed.Ferments[i].ID] = &deed.Ferments[i].Log
	}
	var others []ferment.Logged
	for _, l := range deed.Entries {
		if log, isNew := logs[l.Subject]; isNew {
			*log = slices.Concat(*log, l.Entries)
		} else {
			others = append(others, l)
		}
	}
	deed.Entries = others
	return deed
}

// unknownIDs refuses a deed that names a lot or a culture which neither stands
// in the cellar nor comes with it.
func unknownIDs(deed ferment.Deed, c ferment.Cellar) error {
	var lots, cultures []string
	for _, l := range slices.Concat(c.Lots, deed.Lots) {
		lots = append(lots, l.ID)
	}
	for _, k := range slices.Concat(c.Cultures, deed.Cultures) {
		cultures = append(cultures, k.ID)
	}
	var err error
	want := func(noun, id string, known []string) {
		if err == nil && id != "" && !slices.Contains(known, id) {
			err = &UnknownID{noun, id, known}
		}
	}
	for _, f := range deed.Ferments {
		for _, h := range f.Must.Honey {
			want("lot", h.Lot, lots)
		}
		want("culture", f.Yeast.Culture, cultures)
	}
	for _, u := range deed.Uses {
		want("lot", u.Lot, lots)
	}
	for _, k := range deed.Cultures {
		want("culture", k.From, cultures)
	}
	return err
}

// filled is a deed with what its entries leave to the vessel, and what a person
// should know of it.
func (s Snapshot) filled(deed ferment.Deed) (ferment.Deed, []string, error) {
	var notices []string
	fill := func(v Vessel, log []ferment.Entry) ([]ferment.Entry, error) {
		entries, says, err := stated(v, log, s.At)
		notices = append(notices, says...)
		return entries, err
	}
	var err error
	for i, f := range deed.Ferments {
		if deed.Ferments[i].Log, err = fill(s.planned(f), f.Log); err != nil {
			return deed, nil, err
		}
	}
	for i, k := range deed.Cultures {
		if deed.Cultures[i].Log, err = fill(PlanCulture(k, s.Cellar, s.At), k.Log); err != nil {
			return deed, nil, err
		}
	}
	deed.Uses = slices.Clone(deed.Uses)
	for i := range deed.Uses {
		deed.Uses[i].Use.At = orNow(deed.Uses[i].Use.At, s.At)
	}
	deed.Entries = slices.Clone(deed.Entries)
	for i, l := range deed.Entries {
		vs, err := s.FindAll([]string{l.Subject})
		if err != nil {
			return deed, nil, err
		}
		deed.Entries[i].Subject = vs[0].ID()
		if deed.Entries[i].Entries, err = fill(vs[0], l.Entries); err != nil {
			return deed, nil, err
		}
	}
	deed.Closes, err = s.toClose(deed.Closes)
	return deed, notices, err
}

// planned is a new ferment as it would be planned without its log.
func (s Snapshot) planned(f ferment.Ferment) Vessel {
	f.Log = nil
	return Plan(f, s.Cellar, s.At)
}

// toClose are the ids of the ferments to close, each once.
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
