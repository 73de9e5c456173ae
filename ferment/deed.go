package ferment

// Deed is everything that one act writes: new ferments, lots and cultures,
// honey used elsewhere, entries, and what closes. It is written in this order.
type Deed struct {
	Ferments []Ferment // new ones, a file each, by their ID
	Lots     []Lot     // put into honey.yaml
	Uses     []LotUse  // put into a lot's list of uses
	Cultures []Culture // put into cultures.yaml
	Entries  []Logged
	Closes   []string // ferments whose files move to past
}

// LotUse is honey of a lot that went elsewhere than into a ferment.
type LotUse struct {
	Lot string
	Use Use
}

// Logged are entries for the log of a ferment or a culture.
type Logged struct {
	Subject string
	Entries []Entry
}

// Empty tells whether a deed writes nothing.
func (d Deed) Empty() bool {
	return len(d.Ferments)+len(d.Lots)+len(d.Uses)+len(d.Cultures)+len(d.Entries)+len(d.Closes) == 0
}
