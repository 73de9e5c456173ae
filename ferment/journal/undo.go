package journal

import (
	"bytes"
	"cmp"
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
	return s.Locked(r.File, func() error { return s.undo(r) })
}

func (s *Store) undo(r ferment.Receipt) error {
	if r.Stood {
		return nil
	}
	file := cmp.Or(r.Moved, r.File)
	data, err := ReadSmall(s.path(file))
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: the file is not there any more, so nothing is taken back in it", file)
	}
	if err != nil {
		return &WriteError{File: file, Err: err}
	}
	switch same := string(data) == r.Text; {
	case r.Moved != "" && !same:
		return fmt.Errorf("%s: the file was changed since it was closed, so it is left there (move it back yourself)", file)
	case r.Moved != "":
		if taken := s.named(r.Subject, "ferments"); taken != "" {
			return fmt.Errorf("%s: %s is there already, so it is left there (rename one of the two)", file, taken)
		}
		err = s.move(r.Moved, r.File)
	case r.Made && !same:
		return fmt.Errorf("%s: the file is not the one that was written, so it is left alone (remove it yourself if it is not wanted)", file)
	case r.Made:
		err = os.Remove(s.path(file))
		_ = syncDir(filepath.Dir(s.path(file)))
	default:
		var without []byte
		if without, err = takenOut(data, r); err != nil {
			return err
		}
		err = s.replace(s.path(file), data, without)
	}
	if err != nil {
		return &WriteError{File: file, Err: err}
	}
	_ = s.strike(r.Notes) // the file is in order; at worst the entry is offered once more
	return nil
}

// takenOut returns a text without the bytes that a receipt put in, if it is the same
// record without them: a line added by hand under that entry would become part
// of the one above it.
func takenOut(data []byte, r ferment.Receipt) ([]byte, error) {
	one := spotOf(r).words().one
	at, text := int(r.Offset), []byte(r.Text)
	if at > len(data) || !bytes.HasPrefix(data[at:], text) { // moved: to the only place that has them
		at = bytes.Index(data, text)
	}
	if at < 0 || at != int(r.Offset) && bytes.Count(data, text) > 1 {
		return nil, fmt.Errorf("%s: the %s is not there as it was written, so it is left alone (change it in the editor)", r.File, one)
	}
	without := slices.Concat(data[:at], []byte(r.Removed), data[at+len(r.Text):])
	old, err := recordOf(without, spotOf(r))
	if err == nil {
		_, err = prove(old, data, itemsOf(r))
	}
	if err != nil {
		return nil, fmt.Errorf("%s: something was added to the %s since, so it is left alone (change it in the editor)", r.File, one)
	}
	return without, nil
}
