package ferment

import (
	"fmt"
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
func (e *Entry) Check() error {
	scales := e.scales()
	switch {
	case e.Did != "" && e.Skipped != "":
		return &EntryError{"skipped", "an entry either does a thing or passes it over: make two entries"}
	case len(scales) > 1:
		return &EntryError{scales[1], "a density is given in one scale, " + scales[0] + " or " + scales[1] + ": make two entries"}
	case e.Overrode != "" && e.Because == "":
		return &EntryError{"overrode", `passing a gate wants its reason, e.g. because="spilled half of the first"`}
	case e.Did == Choose && e.Of != "" && !chooses(e.Of):
		return &EntryError{"of", fmt.Sprintf("of %q is no ending: still, bottle-conditioned, sweetened or undecided, e.g. of=still", e.Of)}
	case e.Did == Accept && e.Because == "":
		return &EntryError{"because", `taking a finish as it is wants its reason, e.g. because="sweet enough, and the test stopped there"`}
	case e.Stock.Known() && !e.Amount.Given():
		return &EntryError{"stock", "a stock solution wants its amount, e.g. 14 mL"}
	case e.Stock.Known() && e.Amount.Known() && e.Amount.Dimension() != measure.OfVolume:
		return &EntryError{"stock", "a stock solution is given by its volume, e.g. 14 mL of one of 10 %"}
	}
	return nil
}

func chooses(of string) bool {
	_, ok := ParseEndings(of)
	return ok
}

// scales are the keys that the liquid's density is given under. A
// refractometer is an instrument of its own and may stand beside them.
func (e *Entry) scales() []string {
	var keys []string
	for _, s := range []struct {
		key   string
		known bool
	}{{"gravity", e.Gravity.Known()}, {"brix", e.Brix.Known()}, {"plato", e.Plato.Known()}, {"oechsle", e.Oechsle.Known()}} {
		if s.known {
			keys = append(keys, s.key)
		}
	}
	return keys
}

// Empty tells whether the entry has nothing but its time.
func (e *Entry) Empty() bool {
	rest := *e
	rest.At, rest.Order, rest.Line = Moment{}, 0, 0
	return reflect.ValueOf(rest).IsZero()
}
