package ferment

import (
	"slices"
	"strings"
	"time"
)

// FirstWhere returns the first element of xs for which wanted is true.
func FirstWhere[T any](xs []T, wanted func(T) bool) (first T, found bool) {
	if i := slices.IndexFunc(xs, wanted); i >= 0 {
		return xs[i], true
	}
	return first, false
}

// LastWhere returns the last element of xs for which wanted is true.
func LastWhere[T any](xs []T, wanted func(T) bool) (last T, found bool) {
	for _, x := range slices.Backward(xs) {
		if wanted(x) {
			return x, true
		}
	}
	return last, false
}

// Where returns the elements of xs for which wanted is true, in a new slice; nil for none.
func Where[T any](xs []T, wanted func(T) bool) (kept []T) {
	for _, x := range xs {
		if wanted(x) {
			kept = append(kept, x)
		}
	}
	return kept
}

// Map returns f of each element of xs; the result is never nil.
func Map[T, U any](xs []T, f func(T) U) []U {
	out := make([]U, len(xs))
	for i, x := range xs {
		out[i] = f(x)
	}
	return out
}

// Flat returns the results of f for all elements of xs as one list; nil for none.
func Flat[T, U any](xs []T, f func(T) []U) []U { return slices.Concat(Map(xs, f)...) }

// Texts returns words of a type as plain texts; it is never nil.
func Texts[W ~string](words []W) []string {
	return Map(words, func(w W) string { return string(w) })
}

// Later returns the later of two times.
func Later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// Spaced writes the name of a step, an act or a key as words: "forced test" for "forced-test".
func Spaced(name string) string { return strings.ReplaceAll(name, "-", " ") }

// Either joins words with commas and a last "or"; empty for none.
func Either(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}
