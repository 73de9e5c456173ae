// Package ferment holds the nouns of the cellar as plain data: ferments and
// their entries, must, yeast, honey lots, cultures, protocols, settings. It
// reads no file and no clock.
package ferment

import (
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

// Ferment is one must on one yeast in a vessel, from pitching to the last
// bottle.
type Ferment struct {
	ID       string // file name without .yaml; what commands call it
	Name     string // free text
	Tag      string // the short code on the glass
	Vessel   Vessel
	Trial    Trial
	From     Origin // the ferment that it was racked off, if it went its own way
	Protocol string
	Endings  []Ending // empty while undecided
	Must     Must
	Yeast    Yeast
	Nutrient NutrientPlan
	Log      []Entry // in the file's order
	Note     string

	File       string         // path in the cellar
	Incomplete bool           // an entry of the file could not be read and was left out
	Past       bool           // closed, in ferments/past
	Stamp      uint64         // differs whenever the text of the file does
	Lines      map[string]int // of some of its keys in the file, from 1
}

// Vessel is the container.
type Vessel struct {
	Kind     string
	Brimful  measure.Given[measure.Volume]
	Declared bool // whether the file says anything of it
}

// Trial names the ferments that came from one must, and what differs.
type Trial struct{ Name, Differs string }

// Origin is the ferment that another was parted from, when, and how much of it.
type Origin struct {
	Ferment string
	At      Moment
	Volume  measure.Given[measure.Volume]
}

// Ending is how a ferment is to end.
type Ending string

// The endings. A ferment without one is undecided.
const (
	Still             Ending = "still"
	BottleConditioned Ending = "bottle-conditioned"
	Sweetened         Ending = "sweetened"
)

// Undecided tells whether no ending has been chosen yet.
func (f Ferment) Undecided() bool { return len(f.Endings) == 0 }

// EndsAs tells whether the ferment is to end in the given way, alone or among
// others.
func (f Ferment) EndsAs(e Ending) bool {
	for _, have := range f.Endings {
		if have == e {
			return true
		}
	}
	return false
}

// Label is what the glass is called by: the tag, else the name of the file.
func (f Ferment) Label() string {
	if f.Tag != "" {
		return f.Tag
	}
	return f.ID
}

// Called tells whether a name typed by a person means this ferment, compared
// without case. A closed ferment answers to its file name only.
func (f Ferment) Called(name string) bool {
	return strings.EqualFold(f.ID, name) || !f.Past && f.Tag != "" && strings.EqualFold(f.Tag, name)
}
