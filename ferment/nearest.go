package ferment

import (
	"fmt"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment/measure"
)

// Nearest is the known word that a mistyped one most likely means, "" where
// none is near: one that it begins, or that at most a third of its letters
// would make of it.
func Nearest(word string, known []string) string {
	word = strings.ToLower(word)
	best, least := "", len(word)/3+1
	for _, k := range known {
		d := distance(word, k)
		if len(word) >= 3 && strings.HasPrefix(k, word) {
			d = 0
		}
		if d < least {
			best, least = k, d
		}
	}
	return best
}

// distance is how many letters must be changed, put in or taken out to make
// one word of another.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := diagonal
			if a[i] != b[j] {
				cost = 1 + min(diagonal, row[j], row[j+1])
			}
			diagonal, row[j+1] = row[j+1], cost
		}
	}
	return row[len(b)]
}

// oneOf is nil for a word of a list, else an error that shows the list.
func oneOf(word string, known []string) error {
	if slices.Contains(known, word) {
		return nil
	}
	return &measure.Error{Text: word, Problem: "is not one of its words", Hint: fmt.Sprintf("one of %s", strings.Join(known, ", "))}
}
