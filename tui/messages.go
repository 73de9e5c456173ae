package tui

import (
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
)

// opened is the answer to a request to read the cellar.
type opened struct {
	request  request
	snapshot app.Snapshot
	err      error
	asked    bool           // by a key; it is told
	lost     []ferment.Lost // entries that an edit from outside has lost
}

// written is the answer to a request to write. The cellar has been read again
// since.
type written struct {
	kept   app.Kept
	err    error
	reopen opened
}

// takenBack is the answer to a request to undo.
type takenBack struct {
	receipts []ferment.Receipt
	more     int // that can still be taken back
	err      error
	reopen   opened
}

// checked is the answer to a request to read every file for what is wrong.
type checked struct {
	problems, remarks []ferment.Problem
	err               error
}

// ticked comes once a second.
type ticked struct {
	now     time.Time
	changed bool // a file is another than it was
}

// edited says that the editor is closed.
type edited struct{ err error }

// failed says that something went wrong inside a command.
type failed struct {
	what  any
	stack string
	file  string // where the stack is
}

// told says that the program is to stop.
type told struct{}
