package journal

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"cellar/jugkeeper/ferment"
)

// Undo takes back what a write did: bytes put in are taken out, a file made is
// removed, a file moved goes back, each only if it is still as it was left.
func (s *Store) Undo(r ferment.Receipt) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	unlock, err := s.lock()
	if err != nil {
		return &WriteError{File: r.File, Err: err}
	}
	defer unlock()
	return s.undo(r)
}

// undo is Undo under the lock.
func (s *Store) undo(r ferment.Receipt) (err error) {
	switch {
	case r.Stood:
		return nil
	case r.Moved != "":
		err = s.moveBack(r)
	case r.Made:
		err = s.unmake(r)
	default:
		err = s.takeOut(r)
	}
	if err != nil {
		return err
	}
	_ = s.strike(r.Notes) // the file is in order; at worst the entry is offered once more
	return nil
}

// takeOut takes bytes out again that were put in.
func (s *Store) takeOut(r ferment.Receipt) error {
	one := spotOf(r).words().one
	data, err := s.leftAs(r.File)
	if err != nil {
		return err
	}
	at, ok := standsAt(data, r)
	if !ok {
		return fmt.Errorf("%s: the %s does not stand there as it was written, so it is left alone (change it in the editor)", r.File, one)
	}
	whole := slices.Concat(data[:at], []byte(r.Removed), data[at+len(r.Text):])
	if !undoes(whole, data, r) {
		return fmt.Errorf("%s: something was added to the %s since, so it is left alone (change it in the editor)", r.File, one)
	}
	if err := s.replace(s.path(r.File), data, whole); err != nil {
		return &WriteError{File: r.File, Err: err}
	}
	return nil
}

// leftAs reads a file that was written before.
func (s *Store) leftAs(file string) ([]byte, error) {
	data, err := ReadSmall(s.path(file))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: the file is not there any more, so nothing is taken back in it", file)
	}
	if err != nil {
		return nil, &WriteError{File: file, Err: err}
	}
	return data, nil
}

// unmake removes a file that was made, if nobody has changed it since.
func (s *Store) unmake(r ferment.Receipt) error {
	data, err := s.leftAs(r.File)
	if err != nil {
		return err
	}
	if string(data) != r.Text {
		return fmt.Errorf("%s: the file is another than was written, so it is left alone (remove it yourself if it is not wanted)", r.File)
	}
	if err := os.Remove(s.path(r.File)); err != nil {
		return &WriteError{File: r.File, Err: err}
	}
	_ = syncDir(filepath.Dir(s.path(r.File)))
	return nil
}

// undoes tells whether a text is the record as it is now without what a receipt
// put in, and with everything else: a line added by hand under that entry would
// become part of the one above it.
func undoes(whole, now []byte, r ferment.Receipt) bool {
	old, err := recordOf(whole, spotOf(r))
	if err != nil {
		return false
	}
	_, err = prove(old, now, itemsOf(r))
	return err == nil
}

// standsAt is where the bytes of a receipt are now: where they were put, or in
// the only place that has them.
func standsAt(data []byte, r ferment.Receipt) (int, bool) {
	text := []byte(r.Text)
	if at := int(r.Offset); at+len(text) <= len(data) && bytes.Equal(data[at:at+len(text)], text) {
		return at, true
	}
	if bytes.Count(data, text) == 1 {
		return bytes.Index(data, text), true
	}
	return 0, false
}
