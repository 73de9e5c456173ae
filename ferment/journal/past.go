package journal

import (
	"path"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
)

// pastFerments reads every closed ferment.
func (s *Store) pastFerments(zone *time.Location) (fs []ferment.Ferment, problems, remarks []ferment.Problem) {
	files, remarks, err := s.yamlFiles("ferments/past")
	if err != nil {
		return nil, []ferment.Problem{{File: "ferments/past", Message: err.Error()}}, nil
	}
	for _, file := range files {
		r, _, exists := recall(s, file, zone, readFerment)
		if !exists {
			continue
		}
		if r.Readable {
			fs = append(fs, r.Value)
		}
		problems, remarks = append(problems, r.Problems...), append(remarks, r.Remarks...)
	}
	return fs, problems, remarks
}

// LoadPast reads one closed ferment by the name of its file.
func (s *Store) LoadPast(name string) (ferment.Ferment, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.seen == nil {
		if _, err := s.load(time.Time{}, named); err != nil {
			return ferment.Ferment{}, err
		}
	}
	files, _, err := s.yamlFiles("ferments/past")
	if err != nil {
		return ferment.Ferment{}, err
	}
	for _, file := range files {
		if strings.EqualFold(strings.TrimSuffix(path.Base(file), ".yaml"), name) {
			r, _, _ := recall(s, file, s.zone, readFerment)
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

// tagProblems are tags that do not tell which ferment is meant.
func (s *Store) tagProblems(c ferment.Cellar) []ferment.Problem {
	var out []ferment.Problem
	for _, f := range c.Ferments {
		place := s.memory[f.File].places["tag"]
		place.File = f.File
		for _, other := range c.Ferments {
			switch {
			case other.ID == f.ID || f.Tag == "":
			case strings.EqualFold(f.Tag, other.Tag):
				place.Message = "the tag " + quote(f.Tag) + " stands on " + other.ID + " too (give each its own, e.g. " + f.Tag[:min(4, len(f.Tag))] + "-2)"
				out = append(out, place)
			case strings.EqualFold(f.Tag, other.ID):
				place.Message = "the tag " + quote(f.Tag) + " is the name of another ferment (give it a tag of its own)"
				out = append(out, place)
			}
		}
	}
	return out
}
