package ferment

import (
	"slices"
	"strings"
	"time"
)

// Endings lists every ending.
func Endings() []Ending { return []Ending{Still, BottleConditioned, Sweetened} }

// ParseEndings reads what an entry chose: "still", "still, bottle-conditioned",
// or "undecided", which is none. It is not ok for anything else.
func ParseEndings(of string) (endings []Ending, ok bool) {
	words := strings.FieldsFunc(strings.ToLower(of), func(r rune) bool { return r == ',' || r == ' ' })
	if len(words) == 1 && words[0] == "undecided" {
		return nil, true
	}
	for _, w := range words {
		switch e := Ending(w); {
		case w == "and":
		case !slices.Contains(Endings(), e):
			return nil, false
		case !slices.Contains(endings, e):
			endings = append(endings, e)
		}
	}
	return endings, len(endings) > 0
}

// Decided is the ferment with the ending that its log has chosen by then; the
// one that its file gives stands until an entry says otherwise. What a parent
// chose before the parting does not go before the part's own file.
func (f Ferment) Decided(now time.Time) Ferment {
	var last Moment
	endings, own := f.Endings, len(f.Endings) > 0
	for _, e := range f.Log {
		if e.Did != Choose || e.At.Time.After(now) || e.At.Time.Before(last.Time) || own && f.inherited(e) {
			continue
		}
		if chosen, ok := ParseEndings(e.Of); ok {
			endings, last = chosen, e.At
		}
	}
	f.Endings = endings
	return f
}

// inherited tells whether an entry is from before the parting.
func (f Ferment) inherited(e Entry) bool {
	return f.From.Ferment != "" && !e.At.Earliest().After(f.From.At.Latest())
}
