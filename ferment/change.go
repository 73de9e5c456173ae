package ferment

// Change is everything that one act writes: new ferments, new lots and cultures,
// honey used elsewhere, entries, and what closes. It is written in this order.
type Change struct {
	Ferments []Ferment // new ones, a file each, by ID
	Lots     []Lot     // appended to honey.yaml
	Uses     []LotUse  // appended to the lot's used list
	Cultures []Culture // appended to cultures.yaml
	Entries  []Logged
	Closes   []string // ferments whose files move to past
}

// LotUse is honey of one lot that went elsewhere than into a ferment.
type LotUse struct {
	Lot string // its id
	Use Use
}

// Logged are entries for the log of one ferment or culture.
type Logged struct {
	Subject string
	Entries []Entry
}
