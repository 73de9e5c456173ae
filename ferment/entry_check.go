package ferment

import (
	"reflect"

	"cellar/jugkeeper/ferment/measure"
)

// EntryError is something in an entry that cannot be.
type EntryError struct {
	Key     string // the entry's key, as in the file
	Message string // what is wrong, and a right example
}

func (e *EntryError) Error() string { return e.Message }

// Check is nil for an entry whose parts go together, else an *EntryError for
// the first that does not.
func (e Entry) Check() error {
	switch {
	case e.Did != "" && e.Skipped != "":
		return &EntryError{"skipped", "an entry either does a thing or passes it over: make two entries"}
	case e.Overrode != "" && e.Because == "":
		return &EntryError{"overrode", "passing a gate wants its reason, e.g. because=\"spilled half of the first\""}
	case e.Stock.Known() && e.Amount.Known() && e.Amount.Dimension() != measure.OfVolume:
		return &EntryError{"stock", "a stock solution is given by its volume, e.g. amount: 14 mL beside stock: 10 %"}
	case e.Stock.Known() && !e.Amount.Given():
		return &EntryError{"stock", "a stock solution wants its amount, e.g. amount: 14 mL"}
	}
	return nil
}

// Empty tells whether the entry has nothing but its time.
func (e Entry) Empty() bool {
	e.At, e.Order, e.Line = Moment{}, 0, 0
	return reflect.ValueOf(e).IsZero()
}
