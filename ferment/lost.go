package ferment

// Lost is an entry that was given to the program and stands in no file any
// more, or never came into one.
type Lost struct {
	Subject string // the ferment or culture that it belongs to
	File    string
	Entry   Entry
	Text    string // the entry as the record keeps it, made harmless
}
