package ferment

// Receipt says what a write did to one file, so that it can be taken back while
// the file still stands as it was left.
type Receipt struct {
	Subject string // the ferment, culture or lot written to
	File    string // path in the cellar
	Made    bool   // the file is a new one, and Text the whole of it
	Moved   string // where the file went, Text being the whole of it; empty for one that stayed
	Line    int    // of the first entry written
	Offset  int64  // of the first byte put in
	Text    string // the bytes put in
	Removed string // the bytes that stood there before and were replaced

	// What the bytes say: entries, or else one of the others.
	Entries  []Entry
	Lots     []Lot
	Uses     []Use
	Cultures []Culture
	Notes    []string // the ids of the entries in the record outside the cellar
	Stood    bool     // the entries stood there already, to the letter: nothing was written
	Alone    string   // why no record outside the cellar was kept of them; empty where one was
}
