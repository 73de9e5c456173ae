package journal

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"cellar/jugkeeper/ferment"
)

// closes works out which files go to past.
func (p *transaction) closes(names []string) error {
	for _, name := range names {
		file, past := openFile(name), pastFile(name)
		text, err := p.text(file)
		if err != nil {
			return &WriteError{File: file, Err: err}
		}
		if taken := p.store.named(name, "ferments/past"); taken != "" {
			return &NameError{name, "cannot be closed: " + taken + " is there already (rename one of the two, e.g. " + name + "-2.yaml)"}
		}
		if aside := asideOf(file); len(p.store.asideLines(file)) > 0 {
			return &NameError{name, "cannot be closed: " + aside + " has entries that are in no file (put them back, or remove it)"}
		}
		p.steps = append(p.steps, step{receipt: ferment.Receipt{Subject: name, File: file, Moved: past, Text: string(text)}})
	}
	return nil
}

// move moves a file: at every moment it is at one of the two places. A link
// leads where it led.
func (s *Store) move(from, to string) error {
	old, place := s.path(from), s.path(to)
	if err := os.MkdirAll(filepath.Dir(place), 0o777); err != nil {
		return err
	}
	if _, err := os.Lstat(place); err == nil {
		return fmt.Errorf("%s is there already", to)
	}
	target, err := os.Readlink(old)
	if err == nil && !filepath.IsAbs(target) {
		err = moveLink(old, place, target)
	} else {
		err = os.Rename(old, place)
	}
	if err != nil {
		return err
	}
	_ = syncDir(filepath.Dir(place)) // the file is there: to call that a failure would have it moved twice
	_ = syncDir(filepath.Dir(old))
	return nil
}

// moveLink makes a link in another folder that leads to the same file.
func moveLink(old, place, target string) error {
	is, err := os.Stat(old)
	if err != nil {
		return err
	}
	if target, err = filepath.Rel(filepath.Dir(place), filepath.Join(filepath.Dir(old), target)); err != nil {
		return err
	}
	if err := os.Symlink(target, place); err != nil {
		return err
	}
	if led, err := os.Stat(place); err != nil || !os.SameFile(is, led) {
		return errors.Join(errors.New("the link would lead elsewhere from there (make it an absolute one)"), os.Remove(place))
	}
	return os.Remove(old)
}
