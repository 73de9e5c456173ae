package journal

import (
	"bytes"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
)

// note is one line of the record of entries outside the cellar: an entry that was given, one that was undone or
// dismissed, or a new file, after which older notes are about another ferment of that name.
type note struct {
	ID      string `json:"id"`
	Subject string `json:"subject,omitempty"`
	File    string `json:"file,omitempty"`
	Entry   string `json:"entry,omitempty"` // in flow form
	First   string `json:"first,omitempty"` // time of the first entry of its log
	Made    bool   `json:"made,omitempty"`
	Struck  bool   `json:"struck,omitempty"`
	Because string `json:"because,omitempty"` // why a person struck it
}

func (s *Store) recordPath() string {
	if s.state == "" {
		return "entries.jsonl"
	}
	dir, err := filepath.Abs(s.dir)
	if err != nil {
		dir = s.dir
	}
	if real, err := filepath.EvalSymlinks(dir); err == nil {
		dir = real
	}
	sum := sha256.Sum256([]byte(dir))
	return filepath.Join(s.state, fmt.Sprintf("%s-%s", filepath.Base(dir), hex.EncodeToString(sum[:6])), "entries.jsonl")
}

// StateDir returns the folder outside the cellar for its record; empty for none.
func (s *Store) StateDir() string {
	if s.state == "" || !s.records {
		return ""
	}
	return filepath.Dir(s.recordPath())
}

// note adds a receipt's entries to the record before they are written, and syncs it. first is the time of the first
// entry of the log. If that fails, the entries are only in their file, which is reported.
func (s *Store) note(r *ferment.Receipt, first string) {
	if first == "" && len(r.Entries) > 0 {
		first = momentText(r.Entries[0].At, compared)
	}
	var notes []note
	if r.Made && r.File == openFile(r.Subject) {
		notes = append(notes, note{ID: newID(), Subject: r.Subject, Made: true})
	}
	r.Notes = nil
	for _, e := range r.Entries {
		n := note{ID: newID(), Subject: r.Subject, File: r.File, Entry: flowEntry(e), First: first}
		notes, r.Notes = append(notes, n), append(r.Notes, n.ID)
	}
	if s.unrecorded = s.writeNotes(notes); s.unrecorded != nil {
		r.Notes, r.Alone = nil, reason(s.unrecorded)
	}
}

// strike marks entries of the record as undone or dismissed.
func (s *Store) strike(ids []string) error {
	return s.writeNotes(ferment.Map(ids, func(id string) note { return note{ID: id, Struck: true} }))
}

func (s *Store) writeNotes(notes []note) error {
	switch {
	case !s.records || len(notes) == 0:
		return nil
	case s.state == "":
		return ErrNowhere
	}
	var lines bytes.Buffer
	out := json.NewEncoder(&lines)
	for _, n := range notes {
		if err := out.Encode(n); err != nil {
			return err
		}
	}
	path := s.recordPath()
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return err
	}
	return appendTo(path, lines.Bytes())
}

// appendTo adds lines to a plain file and syncs it; a line cut off by a crash is ended first.
func appendTo(path string, lines []byte) error {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return errors.New("the record is no plain file")
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_APPEND|os.O_RDWR, 0o666)
	if err != nil {
		return err
	}
	last := make([]byte, 1)
	if size, err := f.Seek(0, io.SeekEnd); err == nil && size > 0 {
		if _, err := f.ReadAt(last, size-1); err == nil && last[0] != '\n' {
			lines = append([]byte("\n"), lines...)
		}
	}
	_, err = f.Write(lines)
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

func newID() string {
	var b [8]byte
	_, _ = rand.Read(b[:]) // never fails
	return hex.EncodeToString(b[:])
}

type noted struct {
	ferment.Lost
	note
}

// recorded returns the notes of the record that a test accepts.
func (s *Store) recorded(zone *time.Location, of func(note) bool) ([]noted, error) {
	if s.state == "" {
		return nil, nil
	}
	path := s.recordPath()
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return nil, errors.New("the record is no plain file")
	}
	data, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	var notes []note
	struck := map[string]bool{}
	for line := range bytes.Lines(data) {
		var n note
		switch err := json.Unmarshal(line, &n); {
		case err != nil: // a line cut off by a crash
		case n.Struck:
			struck[n.ID] = true
		case n.Made:
			notes = slices.DeleteFunc(notes, func(old note) bool { return old.Subject == n.Subject })
		default:
			notes = append(notes, n)
		}
	}
	var all []noted
	for _, n := range notes {
		if struck[n.ID] || !of(n) {
			continue
		}
		if e, ok := entryOfFlow(n.Entry, zone); ok {
			all = append(all, noted{ferment.Lost{Subject: n.Subject, Entry: e, Text: told(n.Entry)}, n})
		}
	}
	return all, nil
}
