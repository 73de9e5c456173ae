package journal

import (
	"path"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
)

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
		c.Problems, c.Remarks = append(c.Problems, r.Problems...), append(c.Remarks, r.Remarks...)
	}
}

// PastNames are the closed ferments by the names of their files.
func (s *Store) PastNames() ([]string, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	files, err := s.pastFiles()
	names := make([]string, len(files))
	for i, file := range files {
		names[i] = strings.TrimSuffix(path.Base(file), ".yaml")
	}
	return names, err
}

func (s *Store) pastFiles() ([]string, error) {
	if s.seen == nil {
		if _, err := s.load(time.Time{}, named); err != nil {
			return nil, err
		}
	}
	files, _, err := s.yamlFiles("ferments/past")
	return files, err
}

// LoadPast reads one closed ferment by the name of its file.
func (s *Store) LoadPast(name string) (ferment.Ferment, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	files, err := s.pastFiles()
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
