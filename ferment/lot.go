package ferment

import "cellar/jugkeeper/ferment/measure"

// Lot is honey of one harvest.
type Lot struct {
	ID              string
	Name            string
	Taken           Moment
	Mass            measure.Given[measure.Mass] // at harvest
	Water           measure.Given[measure.Share]
	RefractiveIndex measure.Given[float64]
	ReadAt          measure.Given[measure.Temperature]
	State           string // extracted, crushed, cappings-wash, set
	Treated         string // hive treatments and dates; "none"
	Used            []Use
	Note            string
	Line            int
}

// LotStates are the states that a lot can be in.
var LotStates = []string{"extracted", "crushed", "cappings-wash", "set"}

// Use is honey of a lot that went elsewhere than into a ferment.
type Use struct {
	At   Moment
	Mass measure.Given[measure.Mass]
	For  string
}

// Left is what is left of the lot after all that the ferments and the table took
// of it. It is not ok where nobody weighed the lot; what no file gives a mass
// for is not taken off.
func (l Lot) Left(fs []Ferment) (left measure.Mass, ok bool) {
	left = l.Mass.Value
	for _, u := range l.Used {
		left -= u.Mass.Value
	}
	for _, f := range fs {
		left -= f.HoneyOf(l.ID)
	}
	return left, l.Mass.Known()
}

// HoneyOf is how much of a lot went into the must and in later, as far as
// masses were given.
func (f Ferment) HoneyOf(lot string) (mass measure.Mass) {
	for _, h := range f.Must.Honey {
		if h.Lot == lot {
			mass += h.Mass.Value
		}
	}
	for _, e := range f.Log {
		if m, ok := e.Mass(); ok && e.Lot == lot {
			mass += m
		}
	}
	return mass
}
