package journal

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
)

// PartError says that a change was written in part: what of it stands in the
// files, and what does not.
type PartError struct {
	Written, Left []string // files; a closed ferment by its new place
	Err           error    // why the first that is left was not written
}

func (e *PartError) Error() string {
	return fmt.Sprintf("written: %s; not written: %s: %s", strings.Join(e.Written, ", "), strings.Join(e.Left, ", "), reason(e.Err))
}

func (e *PartError) Unwrap() error { return e.Err }

// Apply writes a change. Under one lock everything is worked out and proved
// first: a name that is taken or a place that is not certain leaves all files
// as they were. What the disk takes only in part is taken back, or else told,
// and the receipts are of what stands.
func (s *Store) Apply(change ferment.Change) ([]ferment.Receipt, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := os.MkdirAll(s.path("ferments"), 0o777); err != nil {
		return nil, &WriteError{File: "ferments", Err: err}
	}
	unlock, err := s.lock()
	if err != nil {
		return nil, &WriteError{File: ".lock", Err: err}
	}
	defer unlock()
	var done []ferment.Receipt
	for range mostTries { // each time somebody else saves a file at that moment
		p := transaction{store: s, texts: map[string][]byte{}}
		if err = p.work(change); err == nil {
			done, err = p.write()
		}
		if !errors.Is(err, errEdited) || len(done) > 0 {
			break
		}
	}
	return done, err
}

// write does the steps. All entries go into the record first, so that a change
// cut off in the middle is offered back whole. One step that cannot be done
// takes back those before it, so that the change can be given again; where that
// cannot be done either, what stands is told.
func (p *transaction) write() ([]ferment.Receipt, error) {
	for i := range p.steps {
		p.store.noteStep(&p.steps[i].receipt)
	}
	var done []ferment.Receipt
	for i, st := range p.steps {
		err := p.store.put(st)
		if err == nil {
			done = append(done, st.receipt)
			continue
		}
		for _, left := range p.steps[i:] {
			_ = p.store.strike(left.receipt.Notes) // the person is told, and may give them again
		}
		if n := p.store.takeBack(done); n > 0 {
			return done[:n], &PartError{placesOf(p.steps[:n]), placesOf(p.steps[n:]), err}
		}
		return nil, &WriteError{File: st.receipt.File, Err: err}
	}
	return done, nil
}

// takeBack takes writes back, the last first, and tells how many stand.
func (s *Store) takeBack(done []ferment.Receipt) int {
	for i, r := range slices.Backward(done) {
		if s.undo(r) != nil {
			return i + 1
		}
	}
	return 0
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

// noteStep puts the entries of a step into the record.
func (s *Store) noteStep(r *ferment.Receipt) {
	if len(r.Entries) > 0 && !r.Stood {
		r.Notes = s.note(r.Subject, r.File, r.Entries)
		r.Alone = s.alone()
	}
}

// put writes one step.
func (s *Store) put(st step) error {
	r := st.receipt
	switch {
	case r.Stood:
		return nil
	case r.Moved != "":
		return s.move(r.File, r.Moved)
	case r.Made:
		return writeNew(s.path(r.File), st.text)
	}
	return s.replace(s.path(r.File), st.was, st.text)
}
