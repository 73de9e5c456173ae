package ferment

import (
	"cmp"
	"fmt"
	"slices"
)

// Problem is something in a file that could not be read, or a remark on what
// looks unlikely. Its place is exact: line and column count from 1, a column
// of 0 means the whole line, a line of 0 the whole file.
type Problem struct {
	File    string // path in the cellar, with slashes
	Line    int
	Column  int
	Message string // what stands there, and a right example
	Text    string // the line's text, made harmless
	Near    bool   // the line is a guess of the YAML reader
}

func (p Problem) String() string {
	switch {
	case p.Line == 0:
		return fmt.Sprintf("%s: %s", p.File, p.Message)
	case p.Near:
		return fmt.Sprintf("%s: near line %d: %s", p.File, p.Line, p.Message)
	case p.Column == 0:
		return fmt.Sprintf("%s:%d: %s", p.File, p.Line, p.Message)
	}
	return fmt.Sprintf("%s:%d:%d: %s", p.File, p.Line, p.Column, p.Message)
}

// SortProblems puts problems in the order of their places.
func SortProblems(ps []Problem) {
	slices.SortStableFunc(ps, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
}
