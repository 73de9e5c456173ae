// Package journal is the cellar's files: it reads them strictly, adds to them
// by inserting text, and keeps them whole. Every byte that it did not add
// stays as the person left it.
//
// A file is walked as a tree of YAML nodes by tables of fields, one table a
// noun. What cannot be read becomes a ferment.Problem with its place, never an
// error that hides the rest.
package journal

import "cellar/jugkeeper/ferment"

// Newest is the newest format of the files that this program reads.
const Newest = 1

// Reading is what a file says.
type Reading[T any] struct {
	Value    T
	Readable bool // false where a problem costs the whole file
	Problems []ferment.Problem
	Remarks  []ferment.Problem
}
