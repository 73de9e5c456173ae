package journal

import (
	"errors"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
)

// Lost lists entries that an edit from outside lost, or that could not be
// written while a file was broken. Files that cannot be read whole are left
// out: there an entry may only be hidden.
func (s *Store) Lost(c ferment.Cellar) ([]ferment.Lost, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	notes, err := s.readNotes()
	if err != nil {
		return nil, errors.New(reason(err))
	}
	var lost []ferment.Lost
	offer := func(l ferment.Lost) {
		log, whole := logOf(c, l.Subject)
		if whole && !present(log, l.Entry) && !slices.ContainsFunc(lost, func(other ferment.Lost) bool { return sameLoss(l, other) }) {
			l.File, _ = s.fileOf(l.Subject)
			lost = append(lost, l)
		}
	}
	for _, n := range notes {
		if e, ok := entryOfFlow(n.Entry, c.Settings.Zone); ok {
			offer(ferment.Lost{Subject: n.Subject, Entry: e, Text: told(n.Entry)})
		}
	}
	beside := s.asideEntries(culturesFile, c.Settings.Zone)
	for _, f := range c.Ferments {
		beside = append(beside, s.asideEntries(f.File, c.Settings.Zone)...)
	}
	for _, l := range beside {
		offer(l)
	}
	return lost, nil
}

// told is the text of an entry or a line as it is shown.
func told(text string) string { return ferment.Harmless(short(text, longestText)) }

func sameLoss(l, other ferment.Lost) bool {
	return l.Subject == other.Subject && sameAct(l.Entry, other.Entry)
}

// Restore puts a lost entry back.
func (s *Store) Restore(l ferment.Lost) (ferment.Receipt, error) {
	receipt, err := s.Append(l.Subject, []ferment.Entry{l.Entry})
	if err != nil {
		return receipt, err
	}
	return receipt, s.Dismiss(l)
}

// Dismiss never offers a lost entry again.
func (s *Store) Dismiss(l ferment.Lost) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.strike(s.notesOf(l)); err != nil {
		return err
	}
	unlock, err := lock(s.path(".lock"))
	if err != nil {
		return err
	}
	defer unlock()
	return s.dropAside(l)
}

// notesOf are the ids under which an entry stands in the record: more than one
// where it was tried again.
func (s *Store) notesOf(l ferment.Lost) (ids []string) {
	notes, _ := s.readNotes() // a record that cannot be read offers nothing
	for _, n := range notes {
		e, ok := entryOfFlow(n.Entry, l.Entry.At.Time.Location())
		if ok && sameLoss(ferment.Lost{Subject: n.Subject, Entry: e}, l) {
			ids = append(ids, n.ID)
		}
	}
	return ids
}

// logOf is the log of an open ferment or a culture, if it was read whole.
func logOf(c ferment.Cellar, subject string) (log []ferment.Entry, whole bool) {
	for _, f := range c.Ferments {
		if f.ID == subject {
			return f.Log, !f.Incomplete
		}
	}
	for _, k := range c.Cultures {
		if k.ID == subject {
			return k.Log, !k.Incomplete
		}
	}
	return nil, false
}

// present tells whether a log has an entry of the same time with the same act
// or the same measurements, whatever their values.
func present(log []ferment.Entry, e ferment.Entry) bool {
	return slices.ContainsFunc(log, func(have ferment.Entry) bool { return sameAct(have, e) })
}

func sameAct(a, b ferment.Entry) bool {
	return a.At.Time.Equal(b.At.Time) && a.Did == b.Did && a.Skipped == b.Skipped &&
		slices.Equal(measuredKeys(a), measuredKeys(b))
}

// measuredKeys are the keys of what an entry measured or saw.
func measuredKeys(e ferment.Entry) []string {
	var names []string
	keys := ferment.Keys()
	for i := range keys {
		if k := &keys[i]; k.In == "" && (k.Kind == ferment.Measured || k.Kind == ferment.Seen) && k.Has(&e) {
			names = append(names, k.Name)
		}
	}
	return names
}

// entryOfFlow reads an entry as the record keeps it.
func entryOfFlow(text string, zone *time.Location) (ferment.Entry, bool) {
	r := ReadFerment("", []byte("log:\n  - "+text+"\n"), zone)
	if len(r.Value.Log) != 1 {
		return ferment.Entry{}, false
	}
	return r.Value.Log[0], true
}
