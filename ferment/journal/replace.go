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
	"syscall"
	"time"
)

// tempNumber makes the names of temporary files unique within a run.
var tempNumber atomic.Uint64

// The prefix and suffix of temporary files. Leftover ones are removed after a day.
const (
	tempPrefix = ".jugkeeper-"
	tempSuffix = ".tmp"
)

// replace puts a new text in place of one that was read, completely or not at all, even in a crash. A symbolic link
// stays one. A text that somebody saved since is never overwritten.
func (s *Store) replace(path string, was, text []byte) error {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	} else if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	mode := fs.FileMode(0o666)
	if info, err := os.Stat(path); err == nil {
		mode = info.Mode().Perm()
	}
	dir := filepath.Dir(path)
	temp, err := writeTemp(dir, text, mode, path)
	if err != nil {
		return err
	}
	if err := takePlace(exchange, temp, path, was, text); err != nil {
		os.Remove(temp)
		return err
	}
	if s.held != nil {
		s.held.wrote(text)
	}
	_ = syncDir(dir) // the text is in its file: an error would cause it to be written twice
	return nil
}

// takePlace replaces a file that was read by a new one. The two are exchanged, and the old one is compared once more:
// if it was saved in that moment, or is open for writing, it goes back, and a copy of it stays, since an editor that
// read the new text meanwhile may save over it. Where files cannot be exchanged the new one is renamed, and that moment
// is a risk.
func takePlace(exchange func(a, b string) error, temp, path string, was, text []byte) error {
	if err := still(path, was); err != nil {
		return err
	}
	err := exchange(temp, path)
	if errors.Is(err, errors.ErrUnsupported) {
		return os.Rename(temp, path)
	}
	if err != nil {
		return err
	}
	err = still(temp, was)
	if err == nil {
		os.Remove(temp) // if it cannot be removed it is left over
		return nil
	}
	saved, readErr := os.ReadFile(temp)
	if backErr := exchange(temp, path); backErr != nil {
		return backErr
	}
	if still(temp, text) != nil {
		_ = exchange(temp, path) // somebody saved once more: that text stays, and the one before becomes a copy
		keepCopy(temp, path)
	}
	if readErr == nil && !bytes.Equal(saved, was) {
		if copied, writeErr := writeTemp(filepath.Dir(path), saved, 0o666, path); writeErr == nil {
			keepCopy(copied, path)
		}
	}
	return err
}

// keepCopy renames a temporary file to a copy beside path, which the next reading of the cellar names.
func keepCopy(temp, path string) {
	_ = os.Rename(temp, strings.TrimSuffix(path, ".yaml")+"~"+filepath.Base(temp)[len(tempPrefix):]+".yaml")
}

// exchange swaps two files' names, or returns errors.ErrUnsupported.
func exchange(a, b string) error {
	err := swap(a, b)
	switch {
	case errors.Is(err, syscall.EINVAL), errors.Is(err, errors.ErrUnsupported):
		return errors.ErrUnsupported
	case err != nil:
		return &os.LinkError{Op: "exchange", Old: a, New: b, Err: err}
	}
	return nil
}

// still returns errEdited if a file changed or is open for writing.
func still(path string, was []byte) error {
	if openForWriting(path) {
		return errEdited
	}
	now, err := os.ReadFile(path)
	if err == nil && !bytes.Equal(now, was) {
		return errEdited
	}
	return err
}

// writeNew writes a file that must not exist yet, completely or not at all.
func writeNew(path string, text []byte) error {
	dir := filepath.Dir(path)
	temp, err := writeTemp(dir, text, 0o666, path)
	if err != nil {
		return err
	}
	defer os.Remove(temp)
	err = os.Link(temp, path) // unlike a rename it fails if the name is taken
	if errors.Is(err, errors.ErrUnsupported) || errors.Is(err, fs.ErrPermission) {
		err = claim(temp, path)
	}
	_ = syncDir(dir)
	return err
}

// claim does the same on a file system without links.
func claim(temp, path string) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
	if err != nil {
		return err
	}
	f.Close()
	return os.Rename(temp, path)
}

// writeTemp writes and syncs a new temporary file in a folder.
func writeTemp(dir string, text []byte, mode fs.FileMode, like string) (name string, err error) {
	name = filepath.Join(dir, fmt.Sprintf("%s%d-%d%s", tempPrefix, os.Getpid(), tempNumber.Add(1), tempSuffix))
	f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, mode)
	if err != nil {
		return "", err
	}
	_, err = f.Write(text)
	if info, statErr := os.Stat(like); err == nil && statErr == nil {
		if err = f.Chmod(mode); errors.Is(err, fs.ErrPermission) || errors.Is(err, errors.ErrUnsupported) {
			err = nil // the disk has no modes
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

// syncDir makes a rename in a folder durable.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	return d.Sync()
}

// clean removes temporary files of crashes over a day ago; under the lock none is in use.
func (s *Store) clean(now time.Time) {
	if s.cleaned || now.IsZero() {
		return
	}
	s.cleaned = true
	var left []string
	for _, dir := range []string{s.dir, s.path("ferments")} {
		entries, _ := os.ReadDir(dir)
		for _, e := range entries {
			if !strings.HasPrefix(e.Name(), tempPrefix) || !strings.HasSuffix(e.Name(), tempSuffix) {
				continue
			}
			if info, err := e.Info(); err == nil && now.Sub(info.ModTime()) > 24*time.Hour {
				left = append(left, filepath.Join(dir, e.Name()))
			}
		}
	}
	if len(left) == 0 {
		return
	}
	if unlock, err := s.lock(); err == nil { // otherwise nothing can be removed here
		defer unlock()
		for _, temp := range left {
			os.Remove(temp)
		}
	}
}
