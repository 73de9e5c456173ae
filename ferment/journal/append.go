package journal

import (
	"bytes"
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

// Append puts entries into the log of a ferment or a culture, in one write.
// The file is read again under the lock, so that what another program or an
// editor wrote meanwhile stays. An entry that finds no certain place is kept
// beside the file.
func (s *Store) Append(subject string, entries []ferment.Entry) (ferment.Receipt, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	file, culture := s.fileOf(subject)
	unlock, err := lock(s.path(".lock"))
	if err != nil {
		return ferment.Receipt{}, &WriteError{File: file, Err: err}
	}
	defer unlock()
	data, err := os.ReadFile(s.path(file))
	if err != nil {
		return ferment.Receipt{}, &WriteError{File: file, Err: err}
	}
	entries = inZone(entries, s.ownZone())
	ids := s.note(subject, file, entries)
	made, err := insert(data, culture, entries)
	if err != nil {
		return ferment.Receipt{}, &WriteError{File: file, Err: err, Kept: s.putAside(file, culture, entries)}
	}
	if err := replace(s.path(file), made.Text); err != nil {
		return ferment.Receipt{}, &WriteError{File: file, Err: err}
	}
	return ferment.Receipt{Subject: subject, File: file, Line: made.Line, Offset: int64(made.Offset),
		Text: made.Added, Removed: made.Removed, Entries: entries, Notes: ids}, nil
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

const culturesFile = "cultures.yaml"

// fileOf is the file that holds a subject's log: a ferment's own, else that of
// the cultures.
func (s *Store) fileOf(subject string) (file, culture string) {
	file = path.Join("ferments", subject+".yaml")
	if !legalName.MatchString(subject) {
		return culturesFile, subject
	}
	if _, err := os.Stat(s.path(file)); errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Stat(s.path(culturesFile)); err == nil {
			return culturesFile, subject
		}
	}
	return file, ""
}

// Undo takes out what a write put in, as long as those bytes stand as they
// were written.
func (s *Store) Undo(r ferment.Receipt) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	unlock, err := lock(s.path(".lock"))
	if err != nil {
		return &WriteError{File: r.File, Err: err}
	}
	defer unlock()
	data, err := os.ReadFile(s.path(r.File))
	if err != nil {
		return &WriteError{File: r.File, Err: err}
	}
	at, ok := standsAt(data, r)
	if !ok {
		return fmt.Errorf("%s: the entry does not stand there as it was written, so it is left alone (change it in the editor)", r.File)
	}
	whole := slices.Concat(data[:at], []byte(r.Removed), data[at+len(r.Text):])
	if !undoes(whole, data, r) {
		return fmt.Errorf("%s: something was added to the entry since, so it is left alone (change it in the editor)", r.File)
	}
	if err := replace(s.path(r.File), whole); err != nil {
		return &WriteError{File: r.File, Err: err}
	}
	_ = s.strike(r.Notes) // the file is in order; at worst the entry is offered once more
	return nil
}

// undoes tells whether a text is the record as it is now, less the entries of a
// receipt and nothing else: a line put under an entry by hand would fall to
// the one above it.
func undoes(whole, now []byte, r ferment.Receipt) bool {
	culture := ""
	if r.File == culturesFile {
		culture = r.Subject
	}
	old, err := recordOf(whole, culture)
	if err != nil {
		return false
	}
	_, err = prove(old, now, r.Entries)
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

// Scalar is a text as it stands in a file, quoted where it must be.
func Scalar(text string) string { return block.scalar(text) }
