// Package app is what a person can do at the cellar: look at the day, log,
// settle a task, skip one, take one back. The board and the commands both go
// through it, so that a key and a command do the same.
package app

import (
	"errors"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/schedule"
)

// Store is where the records are. Everything it returns is the caller's own.
type Store interface {
	// Load reads what has changed since the last time and gives the whole.
	Load(now time.Time) (ferment.Cellar, error)
	// Changed tells cheaply whether Load would give something else.
	Changed() bool
	// Append writes entries into the log of an open ferment or a culture, all or
	// none, durably.
	Append(subject string, entries []ferment.Entry) (ferment.Receipt, error)
	// Apply writes a change, after everything in it was looked at. An error with
	// receipts says what of it was written.
	Apply(ferment.Change) ([]ferment.Receipt, error)
	// Undo takes back what a write did, as long as it stands as written.
	Undo(ferment.Receipt) error
	// Past reads the closed ferments, which Load never does.
	Past(now time.Time) ([]ferment.Ferment, []ferment.Problem, error)
	// Protocols reads every protocol, also those that nothing names.
	Protocols() ferment.Plans
}

// Snapshot is everything that can be shown at one moment. Nobody changes it.
type Snapshot struct {
	At       time.Time
	Cellar   ferment.Cellar
	Vessels  []Vessel // the open ferments, in the order of their file names, the ferments of a trial together
	Cultures []Vessel // the cultures, planned the same way
}

// Vessel is one subject with what its log says and what it needs.
type Vessel struct {
	Ferment ferment.Ferment
	Culture *ferment.Culture // nil for a ferment
	Plan    ferment.Protocol // its protocol and its endings in one
	Course  course.Course
	Day     schedule.Day
	Trouble string // why there is no plan; empty where there is one
}

// ID is what the subject is called in its file.
func (v Vessel) ID() string { return v.Ferment.ID }

// Label is what the glass is called by.
func (v Vessel) Label() string { return v.Ferment.Label() }

// Find gives the ferment or the culture with an id.
func (s Snapshot) Find(id string) (Vessel, bool) {
	for _, vs := range [][]Vessel{s.Vessels, s.Cultures} {
		for _, v := range vs {
			if v.ID() == id {
				return v, true
			}
		}
	}
	return Vessel{}, false
}

// FindAll gives the subjects that names or tags mean, compared without case. A
// culture is meant where no ferment is.
func (s Snapshot) FindAll(names []string) ([]Vessel, error) {
	var out []Vessel
	for _, name := range names {
		f, err := s.Cellar.Find(name)
		id := f.ID
		if err != nil {
			k, is := s.culture(name)
			if !is {
				return nil, s.orCulture(err)
			}
			id = k
		}
		v, _ := s.Find(id)
		out = append(out, v)
	}
	return out, nil
}

// orCulture lets an unknown name be a culture's, mistyped.
func (s Snapshot) orCulture(err error) error {
	var unknown *ferment.UnknownFerment
	if errors.As(err, &unknown) {
		for _, v := range s.Cultures {
			unknown.Also = append(unknown.Also, v.ID())
		}
	}
	return err
}

func (s Snapshot) culture(name string) (id string, ok bool) {
	for _, v := range s.Cultures {
		if strings.EqualFold(v.ID(), name) {
			return v.ID(), true
		}
	}
	return "", false
}
