// Package intent says what a person can ask of the program: the actions that
// keys stand for, the strokes themselves, and what a screen or a line asks to
// be written. A screen returns intents and does nothing itself.
package intent

// Action is what a key stands for. Its text is the name that the settings use
// to give it another key.
type Action string

// The actions.
const (
	Up       Action = "up"
	Down     Action = "down"
	PageUp   Action = "page-up"
	PageDown Action = "page-down"
	Top      Action = "top"
	Bottom   Action = "bottom"
	Side     Action = "side" // from what to do to the vessels and back
	Open     Action = "open"
	Back     Action = "back"
	Board    Action = "board"
	Shelf    Action = "shelf"
	Store    Action = "honey-room"
	Bench    Action = "bench"
	Guide    Action = "guide"
	Mend     Action = "mend" // what is wrong in the files
	Mark     Action = "mark"
	Numbers  Action = "numbers" // the course as a table
	Beside   Action = "beside"  // the marked ones side by side
	Next     Action = "next"    // another way to give a figure's values
	Previous Action = "previous"

	Reading Action = "reading"
	Done    Action = "done"
	DoneAll Action = "done-all"
	Skip    Action = "skip"
	PutOff  Action = "put-off"
	Undo    Action = "undo"
	Note    Action = "note"
	Tasting Action = "taste" // the tasting of what is selected
	Edit    Action = "edit"

	New    Action = "new"
	Rack   Action = "rack"
	Bottle Action = "bottle"

	Find    Action = "find"
	Reload  Action = "reload"
	Help    Action = "help"
	Leave   Action = "leave"
	Abort   Action = "abort" // leave from wherever one is
	Suspend Action = "suspend"

	Keep    Action = "keep"    // what was typed in a line
	Instead Action = "instead" // of what was refused, what is offered
)
