package remark

import (
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/shelf"
)

// codesTwice are the codes that stand on bottles of two fillings.
func codesTwice(fs []ferment.Ferment) []ferment.Problem {
	type place struct {
		file string
		line int
	}
	first := map[string]place{}
	var found []ferment.Problem
	for _, f := range fs {
		for _, e := range f.Log {
			for _, b := range e.Bottles {
				for _, code := range shelf.Codes(b.Codes) {
					key := strings.ToLower(code)
					had, taken := first[key]
					if !taken {
						first[key] = place{f.File, e.Line}
						continue
					}
					found = append(found, on(f.File, e.Line, "the bottle code %q is that of %s:%d too (give each bottle its own, e.g. codes: BH-A 1-8)", code, had.file, had.line))
					break // of one filling the first tells
				}
			}
		}
	}
	return found
}
