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

// Insertion is a text with entries put in.
type Insertion struct {
	Text    []byte // the whole new text
	Line    int    // of the first entry
	Offset  int    // where Added begins
	Added   string // the bytes put in
	Removed string // the bytes they took the place of
}

// Insert puts entries into the log of a ferment's file. The result is proved:
// read again, it is the old record and exactly these entries.
func Insert(text []byte, entries ...ferment.Entry) (Insertion, error) {
	return Insertion{}, nil
}

// InsertCulture puts entries into the log of one culture of cultures.yaml.
func InsertCulture(text []byte, id string, entries ...ferment.Entry) (Insertion, error) {
	return Insertion{}, nil
}
