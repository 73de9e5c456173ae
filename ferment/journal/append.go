package journal

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
)

// WriteError is the error for entries that could not be written; it says where they are kept.
type WriteError struct {
	File string
	Err  error
	Kept string // the file that has the entries now; empty for none

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

// Again says that the same may be tried again: the files are unchanged.
func (e *WriteError) Again() bool { return true }

// Append adds entries to the log of a ferment or a culture, in one write; the file is read again under the lock. An
// identical entry is not written twice. Entries without a certain place in the file are kept in a file next to it.
func (s *Store) Append(subject string, entries []ferment.Entry) (r ferment.Receipt, err error) {
	file, at := s.fileOf(subject)
	err = s.Locked(file, func() error {
		done, err := s.write(ferment.Change{Entries: []ferment.Logged{{Subject: subject, Entries: entries}}})
		if err == nil {
			r = done[0]
		}
		var refused *WriteError
		if errors.As(err, &refused) && refused.noPlace {
			entries = inZone(entries, s.ownZone())
			s.note(&ferment.Receipt{Subject: subject, File: file, Entries: entries}, "")
			refused.Kept = s.putAside(file, at.id, entries)
		}
		return err
	})
	return r, err
}

func (s *Store) ownZone() *time.Location {
	if r, known := s.memory[settingsFile].reading.(Reading[ferment.Settings]); known && r.Readable {
		return r.Value.Zone
	}
	return s.zone
}

// inZone returns entries with their times in the zone of the files.
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

// fileOf returns the file and the place of a subject's log: a ferment's own file, else that of the cultures.
func (s *Store) fileOf(subject string) (file string, at spot) {
	file = openFile(subject)
	if !ferment.LegalName(subject) {
		return culturesFile, cultureLog(subject)
	}
	if _, err := os.Stat(s.path(file)); errors.Is(err, fs.ErrNotExist) {
		if past := s.named(subject, "ferments/past"); past != "" {
			return past, fermentLog
		}
		if _, err := os.Stat(s.path(culturesFile)); err == nil {
			return culturesFile, cultureLog(subject)
		}
	}
	return file, fermentLog
}

func openFile(name string) string { return path.Join("ferments", name+".yaml") }
func pastFile(name string) string { return path.Join("ferments", "past", name+".yaml") }

// NameError is the error for a name that a ferment cannot have.
type NameError struct{ Name, Why string }

func (e *NameError) Error() string { return fmt.Sprintf("%q %s", e.Name, e.Why) }

// ferments prepares the files of new ferments. It never overwrites one.
func (p *transaction) ferments(fs []ferment.Ferment) error {
	if len(fs) == 0 {
		return nil
	}
	end := p.store.unseen() // Changed must still report this to Load
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
		p.add(step{receipt: ferment.Receipt{Subject: f.ID, File: f.File, Made: true, Line: 1, Text: string(text), Entries: f.Log}, text: text})
	}
	return nil
}

// nameable reports whether a new ferment can have its name and tag besides all others.
func (p *transaction) nameable(f ferment.Ferment, c ferment.Cellar) error {
	if !ferment.LegalName(f.ID) {
		return &NameError{f.ID, "is no name for a ferment: at most 64 letters, digits, _ and, not first, -, e.g. bh-a"}
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
			return &NameError{f.ID, "is twice among the new ones"}
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

// fileNamed returns the file of the open or closed ferment with a name.
func (s *Store) fileNamed(name string) string {
	return cmp.Or(s.named(name, "ferments"), s.named(name, "ferments/past"))
}

// named returns the file in a folder that has a name, ignoring case.
func (s *Store) named(name, folder string) string {
	entries, _ := os.ReadDir(s.path(folder)) // an error is reported by the write
	for _, e := range entries {
		if strings.EqualFold(e.Name(), name+".yaml") {
			return folder + "/" + e.Name()
		}
	}
	return ""
}
