// Package tasting does the parts of a blind tasting: codes for the glasses, the order of serving, and the result of all
// tests so far.
package tasting

import (
	"math/rand/v2"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/finishing"
)

// Glass is a subject under a code.
type Glass struct {
	Code    int // three digits
	Subject string
}

// Glasses gives each subject a code, in a random order. The same seed gives the same codes and order.
func Glasses(seed uint64, subjects []string) []Glass {
	r := rand.New(rand.NewPCG(seed, 0))
	codes := drawCodes(r, len(subjects))
	var out []Glass
	for i, at := range r.Perm(len(subjects)) {
		out = append(out, Glass{codes[i], subjects[at]})
	}
	return out
}

// orders are the six orders in which three glasses of two meads can be served. Source: ISO 4120, which wants them
// equally often.
var orders = [6][3]int{{0, 0, 1}, {0, 1, 0}, {1, 0, 0}, {1, 1, 0}, {1, 0, 1}, {0, 1, 1}}

// Triangle returns three glasses of two subjects and the code of the odd one. before is the number of earlier tests;
// any six successive tests of one seed have different orders.
func Triangle(seed uint64, subjects [2]string, before int) (glasses []Glass, odd int) {
	served := rand.New(rand.NewPCG(seed, 0)).Perm(len(orders))
	order := orders[served[before%len(orders)]]
	codes := drawCodes(rand.New(rand.NewPCG(seed, uint64(before)+1)), len(order))
	for i, at := range order {
		glasses = append(glasses, Glass{codes[i], subjects[at]})
	}
	for i, at := range order {
		if at != order[(i+1)%3] && at != order[(i+2)%3] {
			odd = codes[i]
		}
	}
	return glasses, odd
}

func drawCodes(r *rand.Rand, n int) []int {
	var codes []int
	for len(codes) < n {
		if c := 100 + r.IntN(900); !slices.Contains(codes, c) {
			codes = append(codes, c)
		}
	}
	return codes
}

// Result is the result of all triangle tests between two ferments.
type Result struct {
	Tests  int
	Right  int     // the odd one was found
	Needed int     // right answers that would show a difference; 0 if there are too few tests
	Chance float64 // of as many right answers by guessing
}

// Shown reports whether a difference is shown, at 5 %.
func (r Result) Shown() bool { return r.Needed > 0 && r.Right >= r.Needed }

// Between returns the result of the triangle tests in the logs of two ferments. Tests without the odd glass or the
// answer do not count. Source: finishing.Triangle.Needed.
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
		r.Needed, _ = finishing.Triangle.Needed(r.Tests) // with too few tests it stays 0
		r.Chance, _ = finishing.Triangle.Chance(r.Tests, r.Right)
	}
	return r
}

// Faults are common faults to choose from.
var Faults = []string{"vinegar", "solvent", "eggs", "mousy", "sherry", "cork", "geranium"}

// Verdict reads whether a mead is to be made again, and why: "with changes, less honey". The
// beginning of the word is enough. An empty text is no verdict.
func Verdict(text string) (again, why string, ok bool) {
	word := strings.TrimSpace(text)
	if i := strings.IndexAny(word, ",;:"); i >= 0 {
		word, why = strings.TrimSpace(word[:i]), strings.TrimSpace(word[i+1:])
	}
	for _, w := range ferment.AgainWords {
		if word != "" && strings.HasPrefix(w, strings.ToLower(word)) {
			return w, why, true
		}
	}
	return "", why, word == "" && why == ""
}

// Written reports whether the taster's words are written; a score is only asked for afterwards.
func Written(t ferment.Tasting) bool {
	return !slices.Contains([]string{t.Look, t.Nose, t.Palate, t.Body, t.Finish}, "")
}
