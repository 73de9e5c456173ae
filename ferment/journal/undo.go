package journal

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"time"

	"cellar/jugkeeper/ferment"
)

// Undo takes back what a write did: bytes put in are taken out, a file made is
// removed, a file moved goes back, each only while it stands as it was left.
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

// leftAs is what a file says that was written before.
func (s *Store) leftAs(file string) ([]byte, error) {
	data, err := readSmall(s.path(file))
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

// undoes tells whether a text is the record as it is now, less what a receipt
// put in and nothing else: a line put under an entry by hand would fall to the
// one above it.
func undoes(whole, now []byte, r ferment.Receipt) bool {
	old, err := recordOf(whole, spotOf(r))
	if err != nil {
		return false
	}
	_, err = prove(old, now, itemsOf(r))
	return err == nil
}

// standsAt is where the bytes of a receipt stand now: where they were put, or
// in the one place that has them.
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

// tempNumber makes the names of temporary files differ within one run.
var tempNumber atomic.Uint64

// The name of a temporary file begins and ends like this; one that is left
// over after a day is removed.
const (
	tempPrefix = ".jugkeeper-"
	tempSuffix = ".tmp"
)

// replace puts a whole new text in the place of one that was read, or leaves the
// file: a crash at any point leaves one of the two. A symbolic link stays a
// link. The file is read once more just before: another text than was read is
// somebody else's save, and is never written over.
func (s *Store) replace(path string, was, text []byte) error {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	} else if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	dir := filepath.Dir(path)
	mode := fs.FileMode(0o666)
	if info, err := os.Stat(path); err == nil {
		mode = info.Mode().Perm()
	}
	temp, err := writeTemp(dir, text, mode, path)
	if err != nil {
		return err
	}
	now, err := os.ReadFile(path)
	if err == nil && !bytes.Equal(now, was) {
		err = errEdited
	}
	if err == nil {
		err = os.Rename(temp, path)
	}
	if err != nil {
		os.Remove(temp)
		return err
	}
	if s.held != nil {
		s.held.wrote(text)
	}
	_ = syncDir(dir) // the text stands in its file: to call that a failure would have it written twice
	return nil
}

// writeNew writes a file that must not be there yet, whole or not at all.
func writeNew(path string, text []byte) error {
	dir := filepath.Dir(path)
	temp, err := writeTemp(dir, text, 0o666, path)
	if err != nil {
		return err
	}
	defer os.Remove(temp)
	err = os.Link(temp, path) // unlike a rename it fails where the name is taken
	if errors.Is(err, errors.ErrUnsupported) || errors.Is(err, fs.ErrPermission) {
		err = claim(temp, path)
	}
	_ = syncDir(dir)
	return err
}

// claim is writeNew where the file system has no links.
func claim(temp, path string) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
	if err != nil {
		return err
	}
	f.Close()
	return os.Rename(temp, path)
}

// writeTemp writes a text durably into a new file of a folder.
func writeTemp(dir string, text []byte, mode fs.FileMode, like string) (name string, err error) {
	name = filepath.Join(dir, fmt.Sprintf("%s%d-%d%s", tempPrefix, os.Getpid(), tempNumber.Add(1), tempSuffix))
	f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, mode)
	if err != nil {
		return "", err
	}
	_, err = f.Write(text)
	if info, statErr := os.Stat(like); err == nil && statErr == nil {
		if err = f.Chmod(mode); errors.Is(err, fs.ErrPermission) || errors.Is(err, errors.ErrUnsupported) {
			err = nil // a disk without modes has none to keep
		}
		keepOwner(f, info)
	}
	if err == nil {
		err = f.Sync()
	}
	if closeErr := f.Close(); err == nil {
		err = closeErr
	}
	if err != nil {
		os.Remove(name)
		return "", err
	}
	return name, nil
}

// syncDir makes a rename in a folder last.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	return d.Sync()
}

// clean removes temporary files that a crash left more than a day ago. Under
// the lock none is in use.
func (s *Store) clean(now time.Time) {
	if s.cleaned || now.IsZero() {
		return
	}
	s.cleaned = true
	left := append(s.leftOver(s.dir, now), s.leftOver(s.path("ferments"), now)...)
	if len(left) == 0 {
		return
	}
	unlock, err := s.lock()
	if err != nil {
		return // nothing can be removed here either
	}
	defer unlock()
	for _, temp := range left {
		os.Remove(temp)
	}
}

func (s *Store) leftOver(dir string, now time.Time) (temps []string) {
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), tempPrefix) || !strings.HasSuffix(e.Name(), tempSuffix) {
			continue
		}
		if info, err := e.Info(); err == nil && now.Sub(info.ModTime()) > 24*time.Hour {
			temps = append(temps, filepath.Join(dir, e.Name()))
		}
	}
	return temps
}
