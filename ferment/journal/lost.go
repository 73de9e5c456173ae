package journal

import (
	"errors"
	"fmt"
	"os"
	"path"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
)

// Lost returns entries that an outside edit removed, or that could not be written. Files that were not read completely
// are skipped, because an entry may only be unreadable there. Candidates are compared again under the lock, with the
// record and files at the same moment.
func (s *Store) Lost(c ferment.Cellar) ([]ferment.Lost, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	lost, err := s.lost(c)
	if err != nil || len(lost) == 0 {
		return lost, err
	}
	unlock, err := s.lock()
	if err != nil {
		return nil, nil // somebody is writing: the next call will tell
	}
	defer unlock()
	defer s.unseen()()
	now, err := s.load(time.Time{}, named)
	if err != nil {
		return nil, nil // the cellar is away, which is reported elsewhere
	}
	return s.lost(now)
}

// lost compares the record, and the unsaved entries, with a cellar.
func (s *Store) lost(c ferment.Cellar) ([]ferment.Lost, error) {
	all, err := s.recorded(c.Settings.Zone, func(note) bool { return true })
	if err != nil {
		return nil, errors.New(reason(err))
	}
	files := append([]string{culturesFile}, ferment.Map(c.Ferments, func(f ferment.Ferment) string { return f.File })...)
	for _, file := range files {
		all = append(all, ferment.Map(s.asideEntries(file, c.Settings.Zone), func(l ferment.Lost) noted { return noted{Lost: l} })...)
	}
	bySubject := map[string][]noted{}
	var subjects []string
	for _, g := range all {
		subject := g.Lost.Subject
		if bySubject[subject] == nil {
			subjects = append(subjects, subject)
		}
		bySubject[subject] = append(bySubject[subject], g)
	}
	var lost []ferment.Lost
	for _, subject := range subjects {
		log, whole := logOf(c, subject)
		if !whole {
			continue
		}
		for _, l := range missing(log, givenTo(log, bySubject[subject])) {
			l.File, _ = s.fileOf(subject)
			lost = append(lost, l)
		}
	}
	return lost, nil
}

// givenTo returns the entries, without repeats, that were given to this log, and not to an earlier log of the same
// name: one of whose entries none is here.
func givenTo(log []ferment.Entry, all []noted) (lost []ferment.Lost) {
	here := map[string]bool{"": true} // logs by the time of their first entry
	for _, g := range all {
		first, _ := ferment.ParseMoment(g.First, time.UTC)
		here[g.First] = here[g.First] || len(log) == 0 || slices.ContainsFunc(log, func(e ferment.Entry) bool {
			return e.At.Time.Sub(first.Time).Abs() <= corrected || sameEntry(e, g.Lost.Entry)
		})
	}
	for _, g := range all {
		if here[g.First] && !slices.ContainsFunc(lost, func(l ferment.Lost) bool { return sameEntry(l.Entry, g.Lost.Entry) }) {
			lost = append(lost, g.Lost)
		}
	}
	return lost
}

// missing returns the entries that a log lacks, compared first as given, then as a person may have corrected them. Each
// entry of the log matches only one, so that two notes of one day are two.
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

func told(text string) string { return ferment.Harmless(short(text, longestText)) }

// Restore writes a lost entry again. It stays in the record, because it may be lost again.
func (s *Store) Restore(l ferment.Lost) (ferment.Receipt, error) {
	receipt, err := s.Append(l.Subject, []ferment.Entry{l.Entry})
	if err != nil {
		return receipt, err
	}
	return receipt, s.settle(l, receipt.Notes)
}

// Dismiss never offers a lost entry again.
func (s *Store) Dismiss(l ferment.Lost) error { return s.settle(l, nil) }

// settle removes an entry from the record, except for some notes, and from the file of unsaved entries.
func (s *Store) settle(l ferment.Lost, but []string) error {
	return s.Locked(l.File, func() error {
		zone, ofSubject := l.Entry.At.Time.Location(), func(n note) bool { return n.Subject == l.Subject }
		notes, _ := s.recorded(zone, ofSubject) // without a record there are none
		var ids []string                        // several if it was tried again
		for _, g := range notes {
			if sameEntry(g.Lost.Entry, l.Entry) && !slices.Contains(but, g.ID) {
				ids = append(ids, g.ID)
			}
		}
		if err := s.strike(ids); err != nil {
			return err
		}
		return s.dropAside(l)
	})
}

// logOf returns the log of an open ferment or a culture, if it was read completely.
func logOf(c ferment.Cellar, subject string) (log []ferment.Entry, whole bool) {
	if f, is := ferment.FirstWhere(c.Ferments, func(f ferment.Ferment) bool { return f.ID == subject }); is {
		return f.Log, !f.Incomplete
	}
	k, is := ferment.FirstWhere(c.Cultures, func(k ferment.Culture) bool { return k.ID == subject })
	return k.Log, is && !k.Incomplete
}

// sameEntry reports whether two entries are identical, in any zone.
func sameEntry(a, b ferment.Entry) bool {
	return a.At.Time.Equal(b.At.Time) && a.At.DayOnly == b.At.DayOnly && withoutTime(a) == withoutTime(b)
}

func withoutTime(e ferment.Entry) string {
	e.At = ferment.Moment{}
	return entryTable.braces(&e, compared)
}

// sameAct reports whether two entries of one time have the same act or measurements, with any values, so that one is a
// correction of the other.
func sameAct(a, b ferment.Entry) bool {
	return a.At.Time.Equal(b.At.Time) && a.Did == b.Did && a.Skipped == b.Skipped &&
		slices.Equal(measuredKeys(a), measuredKeys(b))
}

// corrected is how far a correction may change the time of an entry.
const corrected = 36 * time.Hour

// sameButWhen reports whether two entries differ only in time or amount, so that one is a correction of the other.
func sameButWhen(a, b ferment.Entry) bool {
	a.Amount, b.Amount = ferment.Entry{}.Amount, ferment.Entry{}.Amount
	return a.At.Time.Sub(b.At.Time).Abs() <= corrected && withoutTime(a) == withoutTime(b)
}

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

// entryOfFlow reads an entry that was written between braces.
func entryOfFlow(text string, zone *time.Location) (ferment.Entry, bool) {
	r := ReadFerment("", []byte("log:\n  - "+text+"\n"), zone)
	if len(r.Value.Log) != 1 {
		return ferment.Entry{}, false
	}
	return r.Value.Log[0], true
}

// asideOf returns the file next to another for unsaved entries: those without a certain place in it.
func asideOf(file string) string { return strings.TrimSuffix(file, ".yaml") + ".unsaved" }

// ofCulture separates an unsaved entry from the id of its culture.
const ofCulture = " # of "

// putAside keeps unsaved entries in the file next to theirs, those of a culture with its id. It returns that file, or
// "" if it failed.
func (s *Store) putAside(file, culture string, entries []ferment.Entry) string {
	aside := asideOf(file)
	if info, err := os.Lstat(s.path(aside)); err == nil && !info.Mode().IsRegular() {
		return ""
	}
	var lines strings.Builder
	for _, e := range entries {
		lines.WriteString("- " + flowEntry(e))
		if culture != "" {
			lines.WriteString(ofCulture + culture)
		}
		lines.WriteString("\n")
	}
	if appendTo(s.path(aside), []byte(lines.String())) != nil {
		return ""
	}
	return aside
}

// asideLines returns the lines of the file for unsaved entries next to another.
func (s *Store) asideLines(file string) []string {
	data, err := ReadSmall(s.path(asideOf(file)))
	if err != nil {
		return nil
	}
	return strings.FieldsFunc(string(data), func(r rune) bool { return r == '\n' || r == '\r' })
}

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

// subjectOf returns what an unsaved entry is about: a culture, or the ferment of the file.
func subjectOf(file, line string) string {
	if at := strings.LastIndex(line, ofCulture); at >= 0 && file == culturesFile {
		return line[at+len(ofCulture):]
	}
	return strings.TrimSuffix(path.Base(file), ".yaml")
}

// checkAside reports unsaved entries whose file is missing or broken. Others are offered.
func (s *Store) checkAside(c *ferment.Cellar) {
	files := []string{culturesFile}
	entries, _ := os.ReadDir(s.path("ferments")) // errors are reported by the reading of the folder
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

// dropAside removes an unsaved entry; with the last one the file goes too. Other lines are a person's and stay.
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
	was, err := ReadSmall(aside)
	if err != nil {
		return err
	}
	return s.replace(aside, was, []byte(strings.Join(kept, "\n")+"\n"))
}
