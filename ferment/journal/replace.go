package journal

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"time"
)

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
