package journal

import (
	"fmt"
	"os"
	"path"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
)

func entryOfFlow(text string, zone *time.Location) (ferment.Entry, bool) {
	r := ReadFerment("", []byte("log:\n  - "+text+"\n"), zone)
	if len(r.Value.Log) != 1 {
		return ferment.Entry{}, false
	}
	return r.Value.Log[0], true
}

// asideOf returns the file beside a file of the cellar that keeps entries which
// found no certain place in it.
func asideOf(file string) string { return strings.TrimSuffix(file, ".yaml") + ".unsaved" }

// ofCulture parts an entry kept beside the cultures from the one it is of.
const ofCulture = " # of "

// putAside keeps entries that found no place beside their file, each of a
// culture with its id. It is the file that has them, or none.
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

func (s *Store) asideLines(file string) []string {
	data, err := ReadSmall(s.path(asideOf(file)))
	if err != nil {
		return nil
	}
	return strings.FieldsFunc(string(data), func(r rune) bool { return r == '\n' || r == '\r' })
}

// asideEntries returns the entries kept beside a file, with what they are of.
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
	was, err := ReadSmall(aside)
	if err != nil {
		return err
	}
	return s.replace(aside, was, []byte(strings.Join(kept, "\n")+"\n"))
}
