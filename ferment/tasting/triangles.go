package tasting

import (
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/finishing"
)

// Result is what all the triangle tests between two ferments amount to.
type Result struct {
	Tests  int
	Right  int     // the odd one was found
	Needed int     // so many right ones would show a difference; 0 where the tests are too few for that
	Chance float64 // that guessing alone does as well
}

// Shown tells whether a difference is shown, at 5 %.
func (r Result) Shown() bool { return r.Needed > 0 && r.Right >= r.Needed }

// Between is the result of the triangle tests that stand in the logs of two
// ferments, whichever of them they were written into. A test without what was
// odd or what was said does not count. Source: finishing.TriangleNeeded.
func Between(a, b ferment.Ferment) Result {
	type test struct {
		at  time.Time
		odd int
	}
	seen := map[test]bool{}
	var r Result
	count := func(f, other ferment.Ferment) {
		for _, e := range f.Log {
			t := e.Triangle
			at := test{e.At.Time, t.Odd}
			if t.Odd == 0 || t.Said == 0 || !other.Called(t.With) || seen[at] {
				continue
			}
			seen[at] = true
			r.Tests++
			if t.Odd == t.Said {
				r.Right++
			}
		}
	}
	count(a, b)
	count(b, a)
	if r.Tests > 0 {
		r.Needed, _ = finishing.TriangleNeeded(r.Tests) // too few: none would be enough
		r.Chance, _ = finishing.TriangleChance(r.Tests, r.Right)
	}
	return r
}

// Faults are the common ones, for whom a word does not come at once.
var Faults = []string{"vinegar", "solvent", "eggs", "mousy", "sherry", "cork", "geranium"}

// Written tells whether the words are written: only then a score is asked.
func Written(t ferment.Tasting) bool {
	return !slices.Contains([]string{t.Look, t.Nose, t.Palate, t.Body, t.Finish}, "")
}
