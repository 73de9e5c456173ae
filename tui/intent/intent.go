// Package intent says what a person can ask of the program: the actions that
// keys stand for, the strokes themselves, and what a screen or a line asks to
// be written. A screen returns intents and does nothing itself.
package intent

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// Intent is what a screen or a line asks of the program.
type Intent interface{ isIntent() }

// Task names a task among those of a snapshot.
type Task struct {
	Subject    string // a ferment's id
	Step       string
	Occurrence int
}

// Log asks to write what was typed into the logs of the subjects.
type Log struct {
	Subjects []string
	Line     string // in the grammar of the entry line
}

// Settle asks to write a task as done, with what was typed after it.
type Settle struct {
	Tasks   []Task
	Line    string // amount, time, note
	Because string // the reason for passing a refusal
}

// Pass asks to write a task as skipped.
type Pass struct {
	Task    Task
	Because string
}

// Seek asks for the place of a text: from the selection on, or the next one after it.
type Seek struct {
	Text  string
	Again bool
}

// PutBack asks to write a lost entry into its file again.
type PutBack struct{ Lost ferment.Lost }

// LeaveOut asks never to offer a lost entry again.
type LeaveOut struct{ Lost ferment.Lost }

// Act asks for what an action does on every screen.
type Act struct{ Action Action }

// Close asks to close the line; what was typed is kept for the next time.
type Close struct{}

func (Log) isIntent()    {}
func (Settle) isIntent() {}
func (Pass) isIntent()   {}
func (Seek) isIntent()   {}
func (Close) isIntent()  {}
func (Act) isIntent()    {}

func (PutBack) isIntent()  {}
func (LeaveOut) isIntent() {}

// Fill asks for a form, of a ferment, a lot or a culture, with values in it already.
type Fill struct {
	Form    string // rack, bottle, new, …
	Subject string // empty for none
	Given   map[string]string
}

// Taste asks for the tasting of one ferment, or of two beside each other.
type Taste struct {
	Subjects []string
	Step     string // the task that it settles; empty for none
	Blind    bool
}

// Visit asks for the page of a ferment or a culture.
type Visit struct{ Subject string }

// Attend asks for what settles a task: a form, a line, or nothing more.
type Attend struct{ Task Task }

// Apply asks to write what an act wants written.
type Apply struct{ Change ferment.Change }

// Type asks for the entry line of a ferment or a culture, with a text in it.
type Type struct{ Subject, Text string }

// Amend asks for the editor at what the screen in sight is of.
type Amend struct{}

// Say asks for a message in the last row.
type Say struct{ Text string }

// Lack asks to say under the line why it cannot be kept yet.
type Lack struct{ Text string }

func (Lack) isIntent()   {}
func (Fill) isIntent()   {}
func (Taste) isIntent()  {}
func (Visit) isIntent()  {}
func (Apply) isIntent()  {}
func (Say) isIntent()    {}
func (Type) isIntent()   {}
func (Attend) isIntent() {}
func (Amend) isIntent()  {}

// Action is what a key stands for, by its name in the settings.
type Action string

// The actions.
const (
	Up       Action = "up"
	Down     Action = "down"
	PageUp   Action = "page-up"
	PageDown Action = "page-down"
	Top      Action = "top"
	Bottom   Action = "bottom"
	Side     Action = "side"  // from what to do to the vessels and back
	Empty    Action = "empty" // what was typed into a form is gone
	Open     Action = "open"
	Back     Action = "back"
	Board    Action = "board"
	Shelf    Action = "shelf"
	Honey    Action = "honey-room"
	Bench    Action = "bench"
	Guide    Action = "guide"
	Problems Action = "mend" // what is wrong in the files
	Mark     Action = "mark"
	Numbers  Action = "numbers" // the course as a table
	Compare  Action = "beside"  // the marked ones side by side
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
	Guess   Action = "guess"   // of what was asked about, a value that was perhaps meant
	Instead Action = "instead" // of what was refused, what is offered
)

// TakeUp asks for the line that an earlier run left.
type TakeUp struct{ Draft Draft }

// Drop asks to forget the line that an earlier run left.
type Drop struct{ Draft Draft }

func (TakeUp) isIntent() {}
func (Drop) isIntent()   {}

// Draft is what was typed into a line or a form and not kept.
type Draft struct {
	Kind    string // "reading", "note", "form rack", …
	Subject string
	Step    string
	Text    string    // empty where nothing would be lost
	Cellar  string    // its folder
	Typed   time.Time // when
}

// Same reports whether two drafts are of the same line or form.
func (d Draft) Same(other Draft) bool {
	return d.Kind == other.Kind && d.Subject == other.Subject && d.Step == other.Step && d.Cellar == other.Cellar
}

// Stroke is one key as it was pressed, or one piece of text as it was pasted.
type Stroke struct {
	Name   string // "g", "enter", "ctrl+u", "space"; empty for a paste
	Text   string // what it puts into a line; empty for a key that types nothing
	Pasted bool
}
