package journal

import (
	"path"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
)

// loadParents reads the closed ferments that an open one was racked off, and no
// other.
func (s *Store) loadParents(c *ferment.Cellar) {
	known := map[string]bool{}
	for _, f := range c.Ferments {
		known[f.ID] = true
	}
	for children := c.Ferments; len(children) > 0; {
		from := len(c.Parents)
		for _, f := range children {
			if name := f.From.Ferment; !known[name] && ferment.LegalName(name) {
				known[name] = true
				s.loadParent(c, pastFile(name))
			}
		}
		children = c.Parents[from:]
	}
}

func (s *Store) loadParent(c *ferment.Cellar, file string) {
	r, _, exists := recall(s, file, c.Settings.Zone, readFerment)
	if !exists {
		return
	}
	if r.Readable {
		c.Parents = append(c.Parents, r.Value)
	}
	c.Problems, c.Remarks = append(c.Problems, r.Problems...), append(c.Remarks, r.Remarks...)
}

// checkPast reads every closed ferment, with what is wrong in it.
func (s *Store) checkPast(c *ferment.Cellar) {
	files, remarks, err := s.yamlFiles("ferments/past")
	if err != nil {
		c.Problems = append(c.Problems, ferment.Problem{File: "ferments/past", Message: err.Error()})
	}
	c.Remarks = append(c.Remarks, remarks...)
	for _, file := range files {
		r, _, _ := recall(s, file, c.Settings.Zone, readFerment)
		if r.Readable {
			c.Past = append(c.Past, r.Value)
		}
		if slices.ContainsFunc(c.Parents, func(f ferment.Ferment) bool { return f.File == file }) {
			continue // its problems are told of with the open ferment that names it
		}
		c.Problems, c.Remarks = append(c.Problems, r.Problems...), append(c.Remarks, r.Remarks...)
	}
}

// PastNames are the closed ferments by the names of their files.
func (s *Store) PastNames() ([]string, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	files, err := s.pastFiles(time.Time{})
	names := make([]string, len(files))
	for i, file := range files {
		names[i] = strings.TrimSuffix(path.Base(file), ".yaml")
	}
	return names, err
}

func (s *Store) pastFiles(now time.Time) ([]string, error) {
	if s.seen == nil {
		if _, err := s.load(now, named); err != nil {
			return nil, err
		}
	}
	files, _, err := s.yamlFiles("ferments/past")
	return files, err
}

// Past reads every closed ferment, in the order of their file names, with what
// is wrong in them. It reads only what changed since the last time.
func (s *Store) Past(now time.Time) ([]ferment.Ferment, []ferment.Problem, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	files, err := s.pastFiles(now)
	if err != nil {
		return nil, nil, err
	}
	var past []ferment.Ferment
	var problems []ferment.Problem
	for _, file := range files {
		r, _, _ := recall(s, file, s.ownZone(), readFerment)
		if r.Readable {
			past = append(past, r.Value)
		}
		problems = append(problems, r.Problems...)
	}
	return past, problems, nil
}

// LoadPast reads one closed ferment by the name of its file.
func (s *Store) LoadPast(name string) (ferment.Ferment, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	files, err := s.pastFiles(time.Time{})
	if err != nil {
		return ferment.Ferment{}, err
	}
	for _, file := range files {
		if strings.EqualFold(strings.TrimSuffix(path.Base(file), ".yaml"), name) {
			r, _, _ := recall(s, file, s.ownZone(), readFerment)
			if !r.Readable {
				return r.Value, &ProblemError{r.Problems}
			}
			return r.Value, nil
		}
	}
	return ferment.Ferment{}, &ferment.UnknownFerment{Name: name}
}

// ProblemError says that a file that was asked for has problems.
type ProblemError struct{ Problems []ferment.Problem }

func (e *ProblemError) Error() string { return e.Problems[0].String() }
