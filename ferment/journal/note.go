package journal

import (
	"bufio"
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
	"strings"
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

// StateDir is the folder outside the cellar for what is kept of this one; empty
// where there is to be none.
func (s *Store) StateDir() string {
	if s.state == "" || !s.records {
		return ""
	}
	return filepath.Dir(s.recordPath())
}

// note puts entries into the record before they are written, and makes them
// last. Without a folder for the record there are none: the entries then go to
// their file alone, which the cellar remarks on.
func (s *Store) note(subject, file string, entries []ferment.Entry) []string {
	notes := make([]note, len(entries))
	ids := make([]string, len(entries))
	for i, e := range entries {
		ids[i] = newID()
		notes[i] = note{ID: ids[i], Subject: subject, File: file, Entry: flowEntry(e)}
	}
	if s.unrecorded = s.writeNotes(notes); s.unrecorded != nil {
		return nil
	}
	return ids
}

// alone is why the last entries are in their file alone.
func (s *Store) alone() string {
	if s.unrecorded == nil {
		return ""
	}
	return reason(s.unrecorded)
}

// remarkUnrecorded says that the record could not be kept.
func (s *Store) remarkUnrecorded(c *ferment.Cellar) {
	if s.unrecorded == nil {
		return
	}
	c.Remarks = append(c.Remarks, ferment.Problem{File: ferment.Harmless(s.recordPath()),
		Message: "entries go to their files alone, as the record of them cannot be kept: " + s.alone()})
}

// strike marks entries of the record as taken back or not wanted.
func (s *Store) strike(ids []string) error {
	notes := make([]note, len(ids))
	for i, id := range ids {
		notes[i] = note{ID: id, Struck: true}
	}
	return s.writeNotes(notes)
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
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return errors.New("the record is no plain file")
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_APPEND|os.O_RDWR, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write(append(lineEndFor(f), lines.Bytes()...))
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// lineEndFor ends a line that a crash cut off, so that the next one does not
// run into it.
func lineEndFor(f *os.File) []byte {
	last := make([]byte, 1)
	if size, err := f.Seek(0, io.SeekEnd); err == nil && size > 0 {
		if _, err := f.ReadAt(last, size-1); err == nil && last[0] != '\n' {
			return []byte("\n")
		}
	}
	return nil
}

func newID() string {
	var b [8]byte
	_, _ = rand.Read(b[:]) // never fails
	return hex.EncodeToString(b[:])
}

// readNotes gives the entries of the record that were not struck.
func (s *Store) readNotes() ([]note, error) {
	if s.state == "" {
		return nil, nil
	}
	if info, err := os.Stat(s.recordPath()); err == nil && !info.Mode().IsRegular() {
		return nil, errors.New("the record is no plain file")
	}
	f, err := os.Open(s.recordPath())
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var notes []note
	struck := map[string]bool{}
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, 8*largest) // an entry of the largest file, with every letter escaped
	for lines.Scan() {
		var n note
		if json.Unmarshal(lines.Bytes(), &n) != nil {
			continue // a line that a crash cut off
		}
		if n.Struck {
			struck[n.ID] = true
		} else {
			notes = append(notes, n)
		}
	}
	kept := notes[:0]
	for _, n := range notes {
		if !struck[n.ID] {
			kept = append(kept, n)
		}
	}
	return kept, lines.Err()
}

// NewFerment is the file of a new ferment, which reads back as it is: what is
// known stands there, the rest as a comment to fill in.
func NewFerment(f ferment.Ferment) ([]byte, error) {
	d := draft{Ferment: f}
	var p page
	p.line("# yaml-language-server: $schema=../"+schemaFile("ferment"), "")
	p.line("format: "+fmt.Sprint(Newest), "")
	for _, key := range fermentTable.fields[1:] {
		switch key.key {
		case "must":
			writeGroup(&p, "must", mustTable, &d.Must, map[string][]item{
				"honey": itemsFrom(d.Must.Honey, lineItem(honeyTable)),
				"fruit": itemsFrom(d.Must.Fruit, lineItem(fruitTable)),
			})
		case "yeast":
			writeGroup(&p, "yeast", yeastTable, &d.Yeast, nil)
		case "log":
			p.line("log:", "")
			p.block(itemsFrom(d.Log, entryItem), "  ")
		default:
			writeField(&p, "", key, &d)
		}
	}
	text := []byte(p.text.String())
	return text, provesNew(d, text)
}

// provesNew reads a new file again: it must be what was to be written.
func provesNew(d draft, text []byte) error {
	again := ReadFerment(openFile(d.ID), text, time.UTC)
	if len(again.Problems) > 0 {
		return &ProblemError{again.Problems}
	}
	got := draft{Ferment: again.Value}
	if got, want := fermentTable.braces(&got, compared), fermentTable.braces(&d, compared); got != want {
		return fmt.Errorf("%s would be read as %s instead of %s", openFile(d.ID), short(got, 400), short(want, 400))
	}
	return nil
}

// A page is a new file, a line after another.
type page struct{ text strings.Builder }

// line adds a line, with what a person is told beside it.
func (p *page) line(text, aside string) {
	if aside != "" {
		text = fmt.Sprintf("%-39s # %s", text, aside)
	}
	p.text.WriteString(text + "\n")
}

func (p *page) block(items []item, margin string) {
	for _, it := range items {
		for i, line := range it.lines {
			before := margin + "  "
			if i == 0 {
				before = margin + "- "
			}
			p.line(before+line, "")
		}
	}
}

// writeField writes one key, as a comment where it has no value.
func writeField[T any](p *page, margin string, f field[T], from *T) {
	writeKey(p, margin, f.key, f.example, f.write(from, block), f.aside())
}

// aside is what a person is told beside a key.
func (f field[T]) aside() string {
	if f.shape.form == Word {
		return f.does + " (" + or(f.shape.words) + ")"
	}
	return f.does
}

func writeKey(p *page, margin, key, example, value, aside string) {
	if value == "" {
		p.line(margin+"# "+key+": "+example, aside)
		return
	}
	p.line(margin+key+": "+value, aside)
}

// writeGroup writes a noun with a key a line, and its lists an item a line. One
// of which nothing is known is a comment as a whole.
func writeGroup[T any](p *page, key string, t *table[T], from *T, lists map[string][]item) {
	opens := key + ":"
	if t.braces(from, flow) == "" {
		opens = "# " + opens
	}
	p.line(opens, "")
	for _, f := range t.fields {
		if items := lists[f.key]; len(items) > 0 {
			p.line("  "+f.key+":", "")
			p.block(items, "    ")
			continue
		}
		writeKey(p, "  ", f.key, f.example, f.write(from, block), f.aside())
	}
}
