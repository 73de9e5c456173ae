package ferment

// EntryError is something in an entry that cannot be.
type EntryError struct {
	Key     string // the entry's key, as in the file
	Message string // what is wrong, and a right example
}

func (e *EntryError) Error() string { return e.Message }

// Check is nil for an entry whose parts go together, else an *EntryError for
// the first that does not.
func (e Entry) Check() error { return nil }

// Empty tells whether the entry has nothing but its time.
func (e Entry) Empty() bool { return false }
