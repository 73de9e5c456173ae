package journal

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
)

// asideOf is the file beside a file of the cellar that keeps entries which
// found no certain place in it.
func asideOf(file string) string { return strings.TrimSuffix(file, ".yaml") + ".unsaved" }

// putAside keeps entries that found no place beside their file.
func (s *Store) putAside(file string, entries []ferment.Entry) string {
	aside := asideOf(file)
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

// asideLines are the entries kept beside a file, a line each.
func (s *Store) asideLines(file string) []string {
	data, err := os.ReadFile(s.path(asideOf(file)))
	if err != nil || len(data) > largest {
		return nil
	}
	return strings.Split(strings.TrimSpace(string(data)), "\n")
}

func (s *Store) asideEntries(file string, zone *time.Location) []ferment.Entry {
	var entries []ferment.Entry
	for _, line := range s.asideLines(file) {
		if e, ok := entryOfFlow(strings.TrimPrefix(line, "- "), zone); ok {
			entries = append(entries, e)
		}
	}
	return entries
}

// dropAside takes an entry out of the file beside its own; the last one takes
// that file with it. Lines that are no entry are a person's, and stay.
func (s *Store) dropAside(l ferment.Lost) error {
	lines := s.asideLines(l.File)
	kept := slices.DeleteFunc(slices.Clone(lines), func(line string) bool {
		e, ok := entryOfFlow(strings.TrimPrefix(line, "- "), l.Entry.At.Time.Location())
		return ok && sameAct(e, l.Entry)
	})
	aside := s.path(asideOf(l.File))
	switch {
	case len(kept) == len(lines):
		return nil
	case len(kept) == 0:
		return os.Remove(aside)
	}
	return replace(aside, []byte(strings.Join(kept, "\n")+"\n"))
}
