package journal

import (
	"bufio"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"cellar/jugkeeper/ferment"
)

// note is one line of the record of entries, which is kept outside the cellar:
// an entry that was given, or one that was taken back or passed over since.
type note struct {
	ID      string `json:"id"`
	Subject string `json:"subject,omitempty"`
	File    string `json:"file,omitempty"`
	Entry   string `json:"entry,omitempty"` // in flow form
	Struck  bool   `json:"struck,omitempty"`
}

// recordPath is the record of this cellar.
func (s *Store) recordPath() string {
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

// note puts entries into the record before they are written, and makes them
// last. Without a folder for the record there are none; the entries then go to
// their file alone.
func (s *Store) note(subject, file string, entries []ferment.Entry) []string {
	var notes []note
	var ids []string
	for _, e := range entries {
		id := newID()
		ids = append(ids, id)
		notes = append(notes, note{ID: id, Subject: subject, File: file, Entry: flowEntry(e)})
	}
	if err := s.writeNotes(notes); err != nil {
		return nil
	}
	return ids
}

// strike marks entries of the record as taken back or not wanted.
func (s *Store) strike(ids []string) {
	var notes []note
	for _, id := range ids {
		notes = append(notes, note{ID: id, Struck: true})
	}
	_ = s.writeNotes(notes) // the files are in order; at worst the entry is offered once more
}

func (s *Store) writeNotes(notes []note) error {
	if s.state == "" || len(notes) == 0 {
		return nil
	}
	path := s.recordPath()
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return err
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o666)
	if err != nil {
		return err
	}
	var lines []byte
	for _, n := range notes {
		line, err := json.Marshal(n)
		if err != nil {
			f.Close()
			return err
		}
		lines = append(append(lines, line...), '\n')
	}
	_, err = f.Write(lines)
	if err == nil {
		err = f.Sync()
	}
	if closeErr := f.Close(); err == nil {
		err = closeErr
	}
	return err
}

func newID() string {
	var b [8]byte
	_, _ = rand.Read(b[:]) // never fails
	return hex.EncodeToString(b[:])
}

// readNotes gives the entries of the record that were not struck.
func (s *Store) readNotes() ([]note, error) {
	f, err := os.Open(s.recordPath())
	if os.IsNotExist(err) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var notes []note
	struck := map[string]bool{}
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, largest)
	for lines.Scan() {
		var n note
		if json.Unmarshal(lines.Bytes(), &n) != nil {
			continue // a line that a crash cut off
		}
		struck[n.ID] = struck[n.ID] || n.Struck
		if n.Entry != "" {
			notes = append(notes, n)
		}
	}
	var kept []note
	for _, n := range notes {
		if !struck[n.ID] {
			kept = append(kept, n)
		}
	}
	return kept, lines.Err()
}

// Lost is an entry that was given to the program and stands in no file.
type Lost struct {
	Subject string
	File    string
	Entry   ferment.Entry
	id      string
}

// Lost lists entries that an edit from outside lost, or that could not be
// written while a file was broken. Only open ferments and cultures are looked
// at.
func (s *Store) Lost(c ferment.Cellar) ([]Lost, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.state == "" {
		return nil, nil
	}
	notes, err := s.readNotes()
	if err != nil {
		return nil, err
	}
	var lost []Lost
	for _, n := range notes {
		log, open := logOf(c, n.Subject)
		if !open {
			continue
		}
		e, ok := entryOfFlow(n.Entry, s.zone)
		if ok && !present(log, e) {
			lost = append(lost, Lost{n.Subject, n.File, e, n.ID})
		}
	}
	return lost, nil
}

func logOf(c ferment.Cellar, subject string) ([]ferment.Entry, bool) {
	for _, f := range c.Ferments {
		if f.ID == subject {
			return f.Log, !f.Incomplete
		}
	}
	for _, k := range c.Cultures {
		if k.ID == subject {
			return k.Log, !k.Incomplete
		}
	}
	return nil, false
}

// present tells whether a log has an entry of the same time with the same act
// or the same measurements, whatever their values.
func present(log []ferment.Entry, e ferment.Entry) bool {
	for _, have := range log {
		if have.At.Time.Equal(e.At.Time) && have.Did == e.Did && have.Skipped == e.Skipped && sameMeasurements(have, e) {
			return true
		}
	}
	return false
}

func sameMeasurements(a, b ferment.Entry) bool {
	for _, do := range []string{ferment.DoGravity, ferment.DoPH, ferment.DoTemperature, ferment.DoVolume} {
		if a.Measured(do) != b.Measured(do) {
			return false
		}
	}
	return true
}

// Restore puts a lost entry back.
func (s *Store) Restore(l Lost) (ferment.Receipt, error) {
	s.mu.Lock()
	s.strike([]string{l.id})
	s.mu.Unlock()
	return s.Append(l.Subject, []ferment.Entry{l.Entry})
}

// Dismiss never offers a lost entry again.
func (s *Store) Dismiss(l Lost) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.strike([]string{l.id})
}

// entryOfFlow reads an entry of the record.
func entryOfFlow(text string, zone *time.Location) (ferment.Entry, bool) {
	r := ReadFerment("", []byte("format: 1\nlog:\n  - "+text+"\n"), zone)
	if len(r.Value.Log) != 1 {
		return ferment.Entry{}, false
	}
	return r.Value.Log[0], true
}
