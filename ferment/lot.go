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
