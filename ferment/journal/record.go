package journal

import (
	"bytes"
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

// pause is how long an editor may take to write a file that it has emptied.
const pause = 300 * time.Millisecond

// remembered is what a file said when it was read last.
type remembered struct {
	info    fs.FileInfo // nil where the last look at the file failed
	zone    *time.Location
	text    uint64 // the stamp of its text
	empty   bool
	reading any // a Reading of some noun
	places  map[string]ferment.Problem
}

// Files are read several at once: what is known of them is behind a lock of
// its own.

func (s *Store) see(path string, info fs.FileInfo) {
	s.known.Lock()
	defer s.known.Unlock()
	s.seen[path] = info
}

func (s *Store) had(file string) remembered {
	s.known.Lock()
	defer s.known.Unlock()
	return s.memory[file]
}

func (s *Store) keep(file string, now remembered) {
	s.known.Lock()
	defer s.known.Unlock()
	s.memory[file] = now
}

func (s *Store) forget(file string) {
	s.known.Lock()
	defer s.known.Unlock()
	delete(s.memory, file)
}

// look is what a file is now, nil where there is none.
func (s *Store) look(file string) (fs.FileInfo, error) {
	path := s.path(file)
	info, err := os.Stat(path)
	s.see(path, info)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		s.see(path, nil)
		if _, err := os.Lstat(path); err == nil {
			return nil, errors.New("is a link that leads to no file (fix the link, or take it out)")
		}
		return nil, nil
	case err != nil:
		return nil, errors.New("cannot be read: " + reason(err))
	case info.IsDir():
		return nil, errors.New("is a folder, where a file is wanted")
	case !info.Mode().IsRegular():
		return nil, errors.New("is no plain file")
	case info.Size() > largest:
		return nil, errors.New(tooLarge)
	}
	return info, nil
}

// data is the text of a file that was looked at.
func (s *Store) data(file string) ([]byte, error) {
	data, err := os.ReadFile(s.path(file))
	if err != nil {
		return nil, errors.New("cannot be read: " + reason(err))
	}
	return data, nil
}

// reason is what went wrong, without the paths of the machine.
func reason(err error) string {
	var at *fs.PathError
	var between *os.LinkError
	switch {
	case errors.As(err, &at):
		return at.Err.Error()
	case errors.As(err, &between):
		return between.Err.Error()
	}
	return err.Error()
}

// A noun is read from a file with the places of values that only the cellar
// can check.
type nounReader[T any] func(file string, data []byte, zone *time.Location) (Reading[T], map[string]ferment.Problem)

// recall reads a file of one noun, or remembers it where it has not changed.
// A file that was good and is not any more is looked at again after a moment:
// an editor may be writing it. If it stays broken, what it said last stays,
// with the new problems.
func recall[T any](s *Store, file string, zone *time.Location, read nounReader[T]) (reading Reading[T], places map[string]ferment.Problem, exists bool) {
	had := s.had(file)
	last, _ := had.reading.(Reading[T])
	now, exists := readChanged(s, file, zone, read)
	if last.Readable && had.info != nil && (!exists || !sameFile(had.info, now.info) && now.doubtful()) {
		s.wait(pause)
		now, exists = readChanged(s, file, zone, read)
	}
	if !exists {
		s.forget(file)
		return reading, nil, false
	}
	reading = now.reading.(Reading[T])
	if last.Readable && !reading.Readable {
		last.Problems = reading.Problems
		reading, now.reading, now.places = last, last, had.places
	}
	s.keep(file, now)
	return reading, now.places, true
}

// doubtful tells whether a file may be in the middle of being written.
func (m remembered) doubtful() bool { return m.empty || !m.reading.(readable).readable() }

// readable is a reading of whatever noun.
type readable interface{ readable() bool }

func (r Reading[T]) readable() bool { return r.Readable }

// readChanged reads a file whose look, or else whose text, is another than the
// one remembered.
func readChanged[T any](s *Store, file string, zone *time.Location, read nounReader[T]) (now remembered, exists bool) {
	had := s.had(file)
	failed := func(err error) (remembered, bool) {
		return remembered{reading: Reading[T]{Problems: []ferment.Problem{{File: file, Message: err.Error()}}}}, true
	}
	info, err := s.look(file)
	switch {
	case err != nil:
		return failed(err)
	case info == nil:
		return remembered{}, false
	case had.info != nil && sameFile(had.info, info) && had.zone == zone:
		return had, true
	}
	data, err := s.data(file)
	if err != nil {
		return failed(err)
	}
	now = remembered{info: info, zone: zone, text: stampOf(data), empty: len(bytes.TrimSpace(data)) == 0}
	if had.info != nil && had.text == now.text && had.zone == zone {
		now.reading, now.places = had.reading, had.places
		return now, true
	}
	reading, places := read(file, data, zone)
	now.reading, now.places = reading, places
	return now, true
}

// withoutPlaces is a reader of a noun whose values have no places worth
// keeping.
func withoutPlaces[T any](read func(string, []byte, *time.Location) Reading[T]) nounReader[T] {
	return func(file string, data []byte, zone *time.Location) (Reading[T], map[string]ferment.Problem) {
		return read(file, data, zone), nil
	}
}

// Lost lists entries that an edit from outside lost, or that could not be
// written while a file was broken. Files that cannot be read whole are left
// out: there an entry may only be hidden. What seems lost is looked at again
// under the lock, with record and files of one moment: another program may have
// written since the cellar was read.
func (s *Store) Lost(c ferment.Cellar) ([]ferment.Lost, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	lost, err := s.lost(c)
	if err != nil || len(lost) == 0 {
		return lost, err
	}
	unlock, err := s.lock()
	if err != nil {
		return nil, nil // somebody is writing: the next look tells
	}
	defer unlock()
	seen := s.seen
	now, err := s.load(time.Time{}, named)
	s.seen = seen
	if err != nil {
		return nil, nil // the cellar is away, which is told of where it is read
	}
	return s.lost(now)
}

// lost compares the record, and what is kept beside the files, with a cellar.
func (s *Store) lost(c ferment.Cellar) ([]ferment.Lost, error) {
	notes, err := s.readNotes()
	if err != nil {
		return nil, errors.New(reason(err))
	}
	given := map[string][]ferment.Lost{} // each entry once, by what it is of
	var subjects []string
	offer := func(l ferment.Lost) {
		if _, known := given[l.Subject]; !known {
			subjects = append(subjects, l.Subject)
		}
		if !slices.ContainsFunc(given[l.Subject], func(other ferment.Lost) bool { return sameLoss(l, other) }) {
			given[l.Subject] = append(given[l.Subject], l)
		}
	}
	for _, n := range notes {
		if e, ok := entryOfFlow(n.Entry, c.Settings.Zone); ok {
			offer(ferment.Lost{Subject: n.Subject, Entry: e, Text: told(n.Entry)})
		}
	}
	beside := s.asideEntries(culturesFile, c.Settings.Zone)
	for _, f := range c.Ferments {
		beside = append(beside, s.asideEntries(f.File, c.Settings.Zone)...)
	}
	for _, l := range beside {
		offer(l)
	}
	var lost []ferment.Lost
	for _, subject := range subjects {
		log, whole := logOf(c, subject)
		if !whole {
			continue
		}
		for _, l := range missing(log, given[subject]) {
			l.File, _ = s.fileOf(subject)
			lost = append(lost, l)
		}
	}
	return lost, nil
}

// missing are the entries that a log lacks. Each is looked for as it was given
// first, and then as a person may have changed it; an entry of the log answers
// for one entry only, so that of two notes of one day each counts.
func missing(log []ferment.Entry, given []ferment.Lost) []ferment.Lost {
	log, given = slices.Clone(log), slices.Clone(given)
	for _, same := range []func(a, b ferment.Entry) bool{sameEntry, sameAct, sameButWhen} {
		given = slices.DeleteFunc(given, func(l ferment.Lost) bool {
			at := slices.IndexFunc(log, func(have ferment.Entry) bool { return same(have, l.Entry) })
			if at < 0 {
				return false
			}
			log = slices.Delete(log, at, at+1)
			return true
		})
	}
	return given
}

// told is the text of an entry or a line as it is shown.
func told(text string) string { return ferment.Harmless(short(text, longestText)) }

func sameLoss(l, other ferment.Lost) bool {
	return l.Subject == other.Subject && sameEntry(l.Entry, other.Entry)
}

// Restore puts a lost entry back. It stays in the record, once: it may be lost
// again.
func (s *Store) Restore(l ferment.Lost) (ferment.Receipt, error) {
	receipt, err := s.Append(l.Subject, []ferment.Entry{l.Entry})
	if err != nil {
		return receipt, err
	}
	return receipt, s.settle(l, receipt.Notes)
}

// Dismiss never offers a lost entry again.
func (s *Store) Dismiss(l ferment.Lost) error { return s.settle(l, nil) }

// settle takes an entry out of the record, but for some notes of it, and out of
// the file where it waited.
func (s *Store) settle(l ferment.Lost, but []string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	ids := slices.DeleteFunc(s.notesOf(l), func(id string) bool { return slices.Contains(but, id) })
	if err := s.strike(ids); err != nil {
		return err
	}
	unlock, err := s.lock()
	if err != nil {
		return err
	}
	defer unlock()
	return s.dropAside(l)
}

// notesOf are the ids under which an entry stands in the record: more than one
// where it was tried again.
func (s *Store) notesOf(l ferment.Lost) (ids []string) {
	notes, _ := s.readNotes() // a record that cannot be read offers nothing
	for _, n := range notes {
		e, ok := entryOfFlow(n.Entry, l.Entry.At.Time.Location())
		if ok && sameLoss(ferment.Lost{Subject: n.Subject, Entry: e}, l) {
			ids = append(ids, n.ID)
		}
	}
	return ids
}

// logOf is the log of an open ferment or a culture, if it was read whole.
func logOf(c ferment.Cellar, subject string) (log []ferment.Entry, whole bool) {
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

// sameEntry tells whether two entries are one and the same, to the letter,
// whatever zone their times are written in.
func sameEntry(a, b ferment.Entry) bool {
	return a.At.Time.Equal(b.At.Time) && a.At.DayOnly == b.At.DayOnly && withoutTime(a) == withoutTime(b)
}

func withoutTime(e ferment.Entry) string {
	e.At = ferment.Moment{}
	return entryTable.braces(&e, compared)
}

// sameAct tells whether two entries are of one time, with the same act or the
// same measurements, whatever their values: one of them was corrected.
func sameAct(a, b ferment.Entry) bool {
	return a.At.Time.Equal(b.At.Time) && a.Did == b.Did && a.Skipped == b.Skipped &&
		slices.Equal(measuredKeys(a), measuredKeys(b))
}

// corrected is how far the time of an entry may be moved by a correction: an
// entry of another day is another one.
const corrected = 36 * time.Hour

// sameButWhen tells whether two entries differ in their time or their amount
// alone, so that one is the other with that corrected.
func sameButWhen(a, b ferment.Entry) bool {
	a.Amount, b.Amount = ferment.Entry{}.Amount, ferment.Entry{}.Amount
	return a.At.Time.Sub(b.At.Time).Abs() <= corrected && withoutTime(a) == withoutTime(b)
}

// measuredKeys are the keys of what an entry measured or saw.
func measuredKeys(e ferment.Entry) []string {
	var names []string
	keys := ferment.Keys()
	for i := range keys {
		if k := &keys[i]; k.In == "" && (k.Kind == ferment.Measured || k.Kind == ferment.Seen) && k.Has(&e) {
			names = append(names, k.Name)
		}
	}
	return names
}

// entryOfFlow reads an entry as the record keeps it.
func entryOfFlow(text string, zone *time.Location) (ferment.Entry, bool) {
	r := ReadFerment("", []byte("log:\n  - "+text+"\n"), zone)
	if len(r.Value.Log) != 1 {
		return ferment.Entry{}, false
	}
	return r.Value.Log[0], true
}

// asideOf is the file beside a file of the cellar that keeps entries which
// found no certain place in it.
func asideOf(file string) string { return strings.TrimSuffix(file, ".yaml") + ".unsaved" }

// ofCulture parts an entry kept beside the cultures from the one it is of.
const ofCulture = " # of "

// putAside keeps entries that found no place beside their file, each of a
// culture with its id.
func (s *Store) putAside(file, culture string, entries []ferment.Entry) string {
	aside := asideOf(file)
	if info, err := os.Lstat(s.path(aside)); err == nil && !info.Mode().IsRegular() {
		return ""
	}
	f, err := os.OpenFile(s.path(aside), os.O_CREATE|os.O_APPEND|os.O_RDWR, 0o666)
	if err != nil {
		return ""
	}
	lines := lineEndFor(f)
	for _, e := range entries {
		lines = append(lines, "- "+flowEntry(e)...)
		if culture != "" {
			lines = append(lines, ofCulture+culture...)
		}
		lines = append(lines, '\n')
	}
	if _, err = f.Write(lines); err == nil {
		err = f.Sync()
	}
	if closeErr := f.Close(); err != nil || closeErr != nil {
		return ""
	}
	return aside
}

// asideLines are the entries kept beside a file, a line each.
func (s *Store) asideLines(file string) []string {
	data, err := readSmall(s.path(asideOf(file)))
	if err != nil {
		return nil
	}
	return strings.FieldsFunc(string(data), func(r rune) bool { return r == '\n' || r == '\r' })
}

// asideEntries are the entries kept beside a file, with the ferment or the
// culture that they are of.
func (s *Store) asideEntries(file string, zone *time.Location) []ferment.Lost {
	var entries []ferment.Lost
	for _, line := range s.asideLines(file) {
		text := strings.TrimPrefix(line, "- ")
		if e, ok := entryOfFlow(text, zone); ok {
			entries = append(entries, ferment.Lost{Subject: subjectOf(file, line), File: file, Entry: e, Text: told(text)})
		}
	}
	return entries
}

// subjectOf is what a line beside a file is of.
func subjectOf(file, line string) string {
	if at := strings.LastIndex(line, ofCulture); at >= 0 && file == culturesFile {
		return line[at+len(ofCulture):]
	}
	return strings.TrimSuffix(path.Base(file), ".yaml")
}

// checkAside tells of what waits beside a file that is not there or cannot be
// read whole. The rest is offered.
func (s *Store) checkAside(c *ferment.Cellar) {
	files := []string{culturesFile}
	entries, _ := os.ReadDir(s.path("ferments")) // told of by the reading of the folder
	for _, e := range entries {
		if stem, is := strings.CutSuffix(e.Name(), ".unsaved"); is {
			files = append(files, path.Join("ferments", stem+".yaml"))
		}
	}
	for _, file := range files {
		waiting := len(s.asideLines(file))
		for _, l := range s.asideEntries(file, c.Settings.Zone) {
			if _, whole := logOf(*c, l.Subject); whole {
				waiting--
			}
		}
		if waiting > 0 {
			c.Remarks = append(c.Remarks, ferment.Problem{File: ferment.Harmless(asideOf(file)), Message: fmt.Sprintf(
				"kept here until %s is in order: %d (the board offers each of them then)", ferment.Harmless(file), waiting)})
		}
	}
}

// dropAside takes an entry out of the file beside its own; the last one takes
// that file with it. Lines that are no entry are a person's, and stay.
func (s *Store) dropAside(l ferment.Lost) error {
	lines := s.asideLines(l.File)
	kept := slices.DeleteFunc(slices.Clone(lines), func(line string) bool {
		e, ok := entryOfFlow(strings.TrimPrefix(line, "- "), l.Entry.At.Time.Location())
		return ok && sameEntry(e, l.Entry) && subjectOf(l.File, line) == l.Subject
	})
	aside := s.path(asideOf(l.File))
	switch {
	case len(kept) == len(lines):
		return nil
	case len(kept) == 0:
		return os.Remove(aside)
	}
	was, err := readSmall(aside)
	if err != nil {
		return err
	}
	return s.replace(aside, was, []byte(strings.Join(kept, "\n")+"\n"))
}
