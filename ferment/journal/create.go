package journal

import (
	"errors"
	"fmt"
	"os"
	"path"
	"strings"
)

// NameError says that a ferment cannot have a name.
type NameError struct{ Name, Why string }

func (e *NameError) Error() string { return fmt.Sprintf("%q %s", e.Name, e.Why) }

// Create writes the file of a new ferment; it never writes over one.
func (s *Store) Create(name string, text []byte) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if !legalName.MatchString(name) {
		return &NameError{name, "is no name for a ferment: at most 64 letters, digits, - and _, e.g. bh-a"}
	}
	file := "ferments/" + name + ".yaml"
	if r := ReadFerment(file, text, s.ownZone()); !r.Readable || r.Value.Incomplete {
		return &ProblemError{r.Problems}
	}
	if err := os.MkdirAll(s.path("ferments"), 0o777); err != nil {
		return &WriteError{File: "ferments", Err: err}
	}
	unlock, err := lock(s.path(".lock"))
	if err != nil {
		return &WriteError{File: ".lock", Err: err}
	}
	defer unlock()
	if taken := s.fileNamed(name); taken != "" {
		return &NameError{name, "has a file already: " + taken}
	}
	if err := writeNew(s.path(file), text); errors.Is(err, os.ErrExist) {
		return &NameError{name, "has a file already: " + file}
	} else if err != nil {
		return &WriteError{File: file, Err: err}
	}
	return nil
}

// fileNamed is the file of an open or a closed ferment that answers to a name.
func (s *Store) fileNamed(name string) string {
	for _, folder := range []string{"ferments", "ferments/past"} {
		entries, _ := os.ReadDir(s.path(folder)) // a folder that cannot be read is told of by the write
		for _, e := range entries {
			if strings.EqualFold(e.Name(), name+".yaml") {
				return path.Join(folder, e.Name())
			}
		}
	}
	return ""
}
