package journal

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
)

// WriteError says that entries could not be written, and where they are kept
// instead.
type WriteError struct {
	File string
	Err  error
	Kept string // the file that holds the entries now; empty for none

	noPlace bool // the file has no certain place for the entries
}

func (e *WriteError) Error() string {
	msg := fmt.Sprintf("%s: nothing was written: %s", e.File, reason(e.Err))
	if e.Kept != "" {
		msg += fmt.Sprintf("; the entry is kept in %s", e.Kept)
	}
	return msg
}

func (e *WriteError) Unwrap() error { return e.Err }

// Again tells that the same may be tried again: the files are as they were.
func (e *WriteError) Again() bool { return true }

// Append puts entries into the log of a ferment or a culture, in one write.
// The file is read again under the lock, so that what another program or an
// editor wrote meanwhile stays. An entry that is in the file already, to the
// second and the letter, was tried before and is not doubled. One that has no
// certain place is kept beside the file.
func (s *Store) Append(subject string, entries []ferment.Entry) (ferment.Receipt, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	file, at := s.fileOf(subject)
	unlock, err := s.lock()
	if err != nil {
		return ferment.Receipt{}, &WriteError{File: file, Err: err}
	}
	defer unlock()
	done, err := s.write(ferment.Change{Entries: []ferment.Logged{{Subject: subject, Entries: entries}}})
	if err == nil {
		return done[0], nil
	}
	var refused *WriteError
	if errors.As(err, &refused) && refused.noPlace {
		entries = inZone(entries, s.ownZone())
		s.note(subject, file, entries)
		refused.Kept = s.putAside(file, at.id, entries)
	}
	return ferment.Receipt{}, err
}

// ownZone is the cellar's zone as it was read last, else the system's.
func (s *Store) ownZone() *time.Location {
	if r, known := s.memory[settingsFile].reading.(Reading[ferment.Settings]); known && r.Readable {
		return r.Value.Zone
	}
	return s.zone
}

// inZone are entries with their times as they are written.
func inZone(entries []ferment.Entry, zone *time.Location) []ferment.Entry {
	entries = slices.Clone(entries)
	for i := range entries {
		for _, m := range []*ferment.Moment{&entries[i].At, &entries[i].Remind} {
			if !m.DayOnly && !m.IsZero() {
				m.Time = m.Time.In(zone)
			}
		}
	}
	return entries
}

// fileOf is the file that holds a subject's log, and where: a ferment's own,
// else that of the cultures.
func (s *Store) fileOf(subject string) (file string, at spot) {
	file = openFile(subject)
	if !ferment.LegalName(subject) {
		return culturesFile, cultureLog(subject)
	}
	if _, err := os.Stat(s.path(file)); errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Stat(s.path(culturesFile)); err == nil {
			return culturesFile, cultureLog(subject)
		}
	}
	return file, fermentLog
}

// openFile and pastFile are where an open and a closed ferment stand.
func openFile(name string) string { return path.Join("ferments", name+".yaml") }
func pastFile(name string) string { return path.Join("ferments", "past", name+".yaml") }

// NameError says that a ferment cannot have a name.
type NameError struct{ Name, Why string }

func (e *NameError) Error() string { return fmt.Sprintf("%q %s", e.Name, e.Why) }

// ferments works out the files of new ferments. It never writes over one.
func (p *transaction) ferments(fs []ferment.Ferment) error {
	if len(fs) == 0 {
		return nil
	}
	end := p.store.unseen() // what Changed tells of is left to Load
	c, err := p.store.load(time.Time{}, all)
	end()
	if err != nil {
		return err
	}
	for _, f := range fs {
		f.File, f.Log = openFile(f.ID), inZone(f.Log, c.Settings.Zone)
		if err := p.nameable(f, c); err != nil {
			return err
		}
		text, err := NewFerment(f)
		if err != nil {
			return err
		}
		c.Ferments = append(c.Ferments, f)
		p.add(step{ferment.Receipt{Subject: f.ID, File: f.File, Made: true, Line: 1, Text: string(text), Entries: f.Log}, nil, text})
	}
	return nil
}

// nameable tells whether a new ferment can have its name and its tag, among
// the others and those of the same change.
func (p *transaction) nameable(f ferment.Ferment, c ferment.Cellar) error {
	if !ferment.LegalName(f.ID) {
		return &NameError{f.ID, "is no name for a ferment: at most 64 letters, digits, - and _, e.g. bh-a"}
	}
	if taken := p.store.fileNamed(f.ID); taken != "" {
		return &NameError{f.ID, "has a file already: " + taken}
	}
	for _, k := range c.Cultures {
		if strings.EqualFold(k.ID, f.ID) {
			return &NameError{f.ID, "is the name of a culture"}
		}
	}
	says := []string{wideTag(f), unknownPlan(f, c.Protocols), p.store.unknownParent(f, c)}
	for _, other := range c.Ferments {
		if strings.EqualFold(f.ID, other.ID) {
			return &NameError{f.ID, "stands twice among the new ones"}
		}
		says = append(says, sharedTag(f, other), sharedTag(other, f))
	}
	for _, message := range says {
		if message != "" {
			return &ProblemError{[]ferment.Problem{{File: f.File, Message: message}}}
		}
	}
	return nil
}

// fileNamed is the file of an open or a closed ferment that answers to a name.
func (s *Store) fileNamed(name string) string {
	if open := s.named(name, "ferments"); open != "" {
		return open
	}
	return s.named(name, "ferments/past")
}

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
			return &NameError{name, "cannot be closed: " + aside + " holds entries that are in no file (put them back, or remove it)"}
		}
		p.steps = append(p.steps, step{receipt: ferment.Receipt{Subject: name, File: file, Moved: past, Text: string(text)}})
	}
	return nil
}

// move gives a file another place. It is at one of the two at every moment; a
// link moves, and leads where it led.
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
	_ = syncDir(filepath.Dir(place)) // the file stands: to call that a failure would have it moved twice
	_ = syncDir(filepath.Dir(old))
	return nil
}

// moveLink makes a link anew that leads from another folder to the same file.
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

// moveBack gives a closed ferment its old place, if nobody has changed it since
// and the place is free.
func (s *Store) moveBack(r ferment.Receipt) error {
	data, err := s.leftAs(r.Moved)
	if err != nil {
		return err
	}
	if string(data) != r.Text {
		return fmt.Errorf("%s: the file was changed since it was closed, so it is left there (move it back yourself)", r.Moved)
	}
	if taken := s.named(r.Subject, "ferments"); taken != "" {
		return fmt.Errorf("%s: %s is there already, so it is left there (rename one of the two)", r.Moved, taken)
	}
	if err := s.move(r.Moved, r.File); err != nil {
		return &WriteError{File: r.Moved, Err: err}
	}
	return nil
}

// named is the file of a folder that answers to a name, compared without case.
func (s *Store) named(name, folder string) string {
	entries, _ := os.ReadDir(s.path(folder)) // a folder that cannot be read is told of by the write
	for _, e := range entries {
		if strings.EqualFold(e.Name(), name+".yaml") {
			return folder + "/" + e.Name()
		}
	}
	return ""
}
