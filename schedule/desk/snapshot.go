// Package desk is what a person can do at the cellar: look at the day, log,
// settle a task, skip one, take one back. The board and the commands both go
// through it, so that a key and a command do the same.
package desk

import (
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
	// Undo takes written entries out again, as long as they stand as written.
	Undo(ferment.Receipt) error
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

// Find gives the vessel of a ferment by its id.
func (s Snapshot) Find(id string) (Vessel, bool) {
	for _, v := range s.Vessels {
		if v.Ferment.ID == id {
			return v, true
		}
	}
	return Vessel{}, false
}
