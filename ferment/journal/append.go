package journal

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
)

// WriteError says that entries could not be written, and where they are kept
// instead.
type WriteError struct {
	File string
	Err  error
	Kept string // the file that holds the entries now; empty for none
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
// editor wrote meanwhile stays. An entry that stands there already, to the
// second and the letter, is one that was tried before and is not doubled. One
// that finds no certain place is kept beside the file.
func (s *Store) Append(subject string, entries []ferment.Entry) (ferment.Receipt, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	file, at := s.fileOf(subject)
	unlock, err := s.lock()
	if err != nil {
		return ferment.Receipt{}, &WriteError{File: file, Err: err}
	}
	defer unlock()
	entries = inZone(entries, s.ownZone())
	var r ferment.Receipt
	for range mostTries { // each time somebody else saves the file at that moment
		if r, err = s.append(subject, file, at, entries); !errors.Is(err, errEdited) {
			break
		}
	}
	return r, err
}

// append is Append under the lock, once.
func (s *Store) append(subject, file string, at spot, entries []ferment.Entry) (ferment.Receipt, error) {
	data, err := s.settled(file)
	if err != nil {
		refused := &WriteError{File: file, Err: err}
		if errors.Is(err, errUnsaved) {
			s.note(subject, file, entries)
			refused.Kept = s.putAside(file, at.id, entries)
		}
		return ferment.Receipt{}, refused
	}
	old, err := recordOf(data, at)
	if err == nil && len(entries) > 0 {
		tried := entries
		if entries = old.lacking(tried); len(entries) == 0 {
			return ferment.Receipt{Subject: subject, File: file, Entries: tried, Stood: true}, nil
		}
	}
	ids := s.note(subject, file, entries)
	var made Insertion
	if err == nil {
		made, err = old.put(itemsFrom(entries, entryItem))
	}
	if err != nil {
		return ferment.Receipt{}, &WriteError{File: file, Err: err, Kept: s.putAside(file, at.id, entries)}
	}
	if err := s.replace(s.path(file), data, made.Text); err != nil {
		_ = s.strike(ids) // the person is told that it is not kept, and may give it again
		return ferment.Receipt{}, &WriteError{File: file, Err: err}
	}
	return made.into(ferment.Receipt{Subject: subject, File: file, Entries: entries, Notes: ids, Alone: s.alone()}), nil
}

// into is a receipt with what an insertion put in.
func (in Insertion) into(r ferment.Receipt) ferment.Receipt {
	r.Line, r.Offset, r.Text, r.Removed = in.Line, int64(in.Offset), in.Added, in.Removed
	return r
}

// ownZone is the cellar's zone as it was read last, else the system's.
func (s *Store) ownZone() *time.Location {
	if r, known := s.memory["cellar.yaml"].reading.(Reading[ferment.Settings]); known && r.Readable {
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

const (
	culturesFile = "cultures.yaml"
	honeyFile    = "honey.yaml"
)

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
