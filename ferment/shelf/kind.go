package shelf

import (
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/carbonation"
)

// Kinds are the bottles at hand: the person's own, else those that are known.
func Kinds(s ferment.Settings) []carbonation.Bottle {
	var own []carbonation.Bottle
	for _, b := range s.Bottles {
		own = append(own, ownKind(b))
	}
	if len(own) == 0 {
		return carbonation.BuiltIn()
	}
	return own
}

// KindOf is a bottle by its kind, compared without case: the person's own, else
// the built-in one.
func KindOf(s ferment.Settings, kind string) (carbonation.Bottle, bool) {
	for _, b := range s.Bottles {
		if strings.EqualFold(b.Kind, kind) {
			return ownKind(b), true
		}
	}
	return carbonation.BottleOf(kind)
}

// ownKind is a bottle of the settings; what the person does not say of it is
// taken from the built-in one of that kind.
func ownKind(b ferment.BottleKind) carbonation.Bottle {
	known, _ := carbonation.BottleOf(b.Kind)
	return carbonation.Bottle{Kind: b.Kind, Holds: b.Holds.Or(known.Holds), Rated: b.Stands}
}
