package journal

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// WithWait replaces the wait for an editor that is writing.
func WithWait(wait func(time.Duration)) Option { return func(s *Store) { s.wait = wait } }

func InsertCulture(text []byte, id string, entries ...ferment.Entry) (Insertion, error) {
	return insert(text, cultureLog(id), ferment.Map(entries, entryItem))
}

func InsertLots(text []byte, lots ...ferment.Lot) (Insertion, error) {
	return insert(text, honeyLots, ferment.Map(lots, lotItem))
}

func InsertUses(text []byte, lot string, uses ...ferment.Use) (Insertion, error) {
	return insert(text, usesOf(lot), ferment.Map(uses, useItem))
}

func InsertCultures(text []byte, cultures ...ferment.Culture) (Insertion, error) {
	return insert(text, yeastStrains, ferment.Map(cultures, cultureItem))
}

// insert puts items at the end of a list; see record.put.
func insert(text []byte, at spot, items []item) (Insertion, error) {
	old, err := recordOf(text, at)
	if err != nil {
		return Insertion{}, err
	}
	return old.put(items)
}
