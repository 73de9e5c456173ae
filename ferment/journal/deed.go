package journal

import (
	"cmp"
	"fmt"
	"os"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
)

// PartError says that a deed was written in part: what of it stands in the
// files, and what does not.
type PartError struct {
	Written, Left []string // files; a closed ferment by its new place
	Err           error    // why the first that is left was not written
}

func (e *PartError) Error() string {
	return fmt.Sprintf("written: %s; not written: %s: %s", strings.Join(e.Written, ", "), strings.Join(e.Left, ", "), reason(e.Err))
}

func (e *PartError) Unwrap() error { return e.Err }

// Carry writes a deed. Under one lock everything is worked out and proved
// first: a name that is taken or a place that is not certain leaves all files
// as they were. What a full disk lets through only in part is told, and the
// receipts are of what was written.
func (s *Store) Carry(deed ferment.Deed) ([]ferment.Receipt, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := os.MkdirAll(s.path("ferments"), 0o777); err != nil {
		return nil, &WriteError{File: "ferments", Err: err}
	}
	unlock, err := lock(s.path(".lock"))
	if err != nil {
		return nil, &WriteError{File: ".lock", Err: err}
	}
	defer unlock()
	p := pen{store: s, texts: map[string][]byte{}}
	if err := p.work(deed); err != nil {
		return nil, err
	}
	return p.write()
}

// write does the steps. One that cannot be done ends it.
func (p *pen) write() ([]ferment.Receipt, error) {
	var done []ferment.Receipt
	for i, st := range p.steps {
		r, err := p.store.do(st)
		switch {
		case err == nil:
			done = append(done, r)
		case i == 0:
			return nil, &WriteError{File: r.File, Err: err}
		default:
			return done, &PartError{placesOf(p.steps[:i]), placesOf(p.steps[i:]), err}
		}
	}
	return done, nil
}

// placesOf are the files that steps write, by their new places.
func placesOf(steps []step) []string {
	var files []string
	for _, st := range steps {
		place := cmp.Or(st.receipt.Moved, st.receipt.File)
		if !slices.Contains(files, place) {
			files = append(files, place)
		}
	}
	return files
}

// do writes one step. Entries go into the record first.
func (s *Store) do(st step) (ferment.Receipt, error) {
	r := st.receipt
	if r.Stood {
		return r, nil
	}
	if len(r.Entries) > 0 {
		r.Notes = s.note(r.Subject, r.File, r.Entries)
		r.Alone = s.alone()
	}
	err := s.put(st, r)
	if err != nil {
		_ = s.strike(r.Notes) // the person is told that it is not kept, and may give it again
	}
	return r, err
}

func (s *Store) put(st step, r ferment.Receipt) error {
	switch {
	case r.Moved != "":
		return s.move(r.File, r.Moved)
	case r.Made:
		return writeNew(s.path(r.File), st.text)
	}
	return replace(s.path(r.File), st.text)
}
