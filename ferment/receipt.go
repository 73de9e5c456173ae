package ferment

// Receipt says which bytes a write put into a file, so that they can be taken
// out again while they still stand there.
type Receipt struct {
	Subject string // the ferment or culture written to
	File    string // path in the cellar
	Line    int    // of the first entry written
	Offset  int64  // of the first byte put in
	Text    string // the bytes put in
	Removed string // the bytes that stood there before and were replaced
	Entries []Entry
	Notes   []string // the ids of the entries in the record outside the cellar
}
