package larder

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment/honey"
)

// Press is how much a lot presses to be used.
type Press int

// How much a lot presses, the most first.
const (
	Wash       Press = iota // cappings wash: within a day or two
	AtOnce                  // it ferments by itself
	First                   // it likely does
	ThisYear                // it may
	Unmeasured              // nobody knows
	CanWait
	Asked // of a treated hive: only once that is answered
	Gone
)

// washKeeps is how long cappings wash may stand (common practice, no source).
const washKeeps = 48 * time.Hour

// CappingsWash is the state of a lot that was washed off its cappings.
const CappingsWash = "cappings-wash"

// IsWash tells whether the lot is thin already, and ferments by itself.
func (a Account) IsWash() bool { return a.Lot.State == CappingsWash }

// WashOver tells whether cappings wash has stood for longer than it may.
func (a Account) WashOver() bool { return a.IsWash() && a.Age > washKeeps }

// Treated tells whether the hive was treated, as far as the lot says.
func (a Account) Treated() bool {
	t := strings.TrimSpace(a.Lot.Treated)
	return t != "" && !strings.EqualFold(t, "none")
}

// Presses is how much the lot presses.
func (a Account) Presses() Press {
	switch {
	case a.Left.Gone():
		return Gone
	case a.Treated():
		return Asked
	case a.IsWash():
		return Wash
	case !a.Water.Known():
		return Unmeasured
	}
	switch honey.KeepingOf(a.Water.Share) {
	case honey.AtOnce:
		return AtOnce
	case honey.First:
		return First
	case honey.ThisYear:
		return ThisYear
	}
	return CanWait
}

// ByPress puts accounts in the order in which the lots are to be used: what
// presses most, of those the oldest; what is used up last.
func ByPress(as []Account) []Account {
	out := slices.Clone(as)
	slices.SortStableFunc(out, func(a, b Account) int {
		return cmp.Or(cmp.Compare(a.Presses(), b.Presses()), cmp.Compare(b.Age, a.Age))
	})
	return out
}
