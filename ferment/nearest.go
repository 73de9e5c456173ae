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
	best, least, fewest := "", len(word)/3+1, 0
	for _, k := range known {
		lower := strings.ToLower(k)
		letters := distance(word, lower)
		d := letters
		if len(word) >= 3 && strings.HasPrefix(lower, word) {
			d = min(d, 1)
		}
		if d < least || d == least && best != "" && letters < fewest {
			best, least, fewest = k, d, letters
		}
	}
	return best
}

// DidYouMean asks for the known word that a mistyped one most likely means,
// " (did you mean degas?)"; nothing where none is near.
func DidYouMean(word string, known []string) string {
	if near := Nearest(word, known); near != "" {
		return " (did you mean " + near + "?)"
	}
	return ""
}

// Meant is DidYouMean; where no word is near it names what there is, or the
// first of many.
func Meant(word string, known []string) string {
	if near := DidYouMean(word, known); near != "" {
		return near
	}
	if len(known) > mostNamed {
		return fmt.Sprintf(": there is %s and %d more", strings.Join(known[:mostNamed], ", "), len(known)-mostNamed)
	}
	return ": there is " + strings.Join(known, ", ")
}

// mostNamed is how many words a message names.
const mostNamed = 12

// distance is how many letters must be changed, put in, taken out or swapped
// with the next one to make one word of another.
func distance(a, b string) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		before, last, row = last, row, before
		row[0] = i + 1
		for j := range len(b) {
			cost := last[j]
			if a[i] != b[j] {
				cost = 1 + min(last[j], last[j+1], row[j])
			}
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				cost = min(cost, before[j-1]+1)
			}
			row[j+1] = cost
		}
	}
	return row[len(b)]
}

// OneOf is nil for a word of a list, else an error that shows the list.
func OneOf(word string, known []string) error {
	if slices.Contains(known, word) {
		return nil
	}
	return &measure.Error{Text: word, Problem: "is not one of its words", Hint: fmt.Sprintf("one of %s", strings.Join(known, ", "))}
}
