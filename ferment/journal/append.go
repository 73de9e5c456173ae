package journal

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"strings"

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
	ids := s.note(subject, file, entries)
	data, err := os.ReadFile(s.path(file))
	if err != nil {
		return ferment.Receipt{}, &WriteError{File: file, Err: err}
	}
	made, err := s.insert(data, culture, entries)
	if err != nil {
		return ferment.Receipt{}, &WriteError{File: file, Err: err, Kept: s.putAside(file, entries)}
	}
	if err := replace(s.path(file), made.Text); err != nil {
		return ferment.Receipt{}, &WriteError{File: file, Err: err}
	}
	return ferment.Receipt{Subject: subject, File: file, Line: made.Line, Offset: int64(made.Offset),
		Text: made.Added, Removed: made.Removed, Entries: entries, Notes: ids}, nil
}

func (s *Store) insert(data []byte, culture string, entries []ferment.Entry) (Insertion, error) {
	if culture != "" {
		return InsertCulture(data, culture, entries...)
	}
	return Insert(data, entries...)
}

// fileOf is the file that holds a subject's log: a ferment's own, else that of
// the cultures.
func (s *Store) fileOf(subject string) (file, culture string) {
	file = path.Join("ferments", subject+".yaml")
	if !legalName.MatchString(subject) {
		return "cultures.yaml", subject
	}
	if _, err := os.Stat(s.path(file)); errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Stat(s.path("cultures.yaml")); err == nil {
			return "cultures.yaml", subject
		}
	}
	return file, ""
}

// putAside keeps entries that found no place beside their file.
func (s *Store) putAside(file string, entries []ferment.Entry) string {
	aside := strings.TrimSuffix(file, ".yaml") + ".unsaved"
	f, err := os.OpenFile(s.path(aside), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o666)
	if err != nil {
		return ""
	}
	for _, e := range entries {
		fmt.Fprintln(f, "- "+flowEntry(e))
	}
	err = f.Sync()
	if closeErr := f.Close(); err != nil || closeErr != nil {
		return ""
	}
	return aside
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
	whole := make([]byte, 0, len(data))
	whole = append(append(append(whole, data[:at]...), r.Removed...), data[at+len(r.Text):]...)
	if err := replace(s.path(r.File), whole); err != nil {
		return &WriteError{File: r.File, Err: err}
	}
	s.strike(r.Notes)
	return nil
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

// Create writes the file of a new ferment; it never writes over one.
func (s *Store) Create(name string, text []byte) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if !legalName.MatchString(name) {
		return &NameError{name, "is no name for a ferment: at most 64 letters, digits, - and _, e.g. bh-a"}
	}
	if err := os.MkdirAll(s.path("ferments"), 0o777); err != nil {
		return &WriteError{File: "ferments", Err: err}
	}
	unlock, err := lock(s.path(".lock"))
	if err != nil {
		return &WriteError{File: ".lock", Err: err}
	}
	defer unlock()
	for _, file := range []string{"ferments/" + name + ".yaml", "ferments/past/" + name + ".yaml"} {
		if _, err := os.Lstat(s.path(file)); !errors.Is(err, fs.ErrNotExist) {
			return &NameError{name, "has a file already: " + file}
		}
	}
	if err := replace(s.path("ferments/"+name+".yaml"), text); err != nil {
		return &WriteError{File: "ferments/" + name + ".yaml", Err: err}
	}
	return nil
}

// NameError says that a ferment cannot have a name.
type NameError struct{ Name, Why string }

func (e *NameError) Error() string { return fmt.Sprintf("%q %s", e.Name, e.Why) }

// Scalar is a text as it stands in a file, quoted where it must be.
func Scalar(text string) string { return block.scalar(text) }
