// Package intent has what a screen or a line can ask of the program: an action of a key, an entry to write, a form to
// open.
package intent

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// Intent is what a screen or a line asks of the program: one of the types below.
type Intent any

// Task identifies a task of a snapshot.
type Task struct {
	Subject    string // a ferment's id
	Step       string
	Occurrence int
}

// Log asks to write an entry line into the logs of the subjects.
type Log struct {
	Subjects []string
	Line     string // in the grammar of the entry line
}

// Settle asks to write a task as done, with what was typed after it.
type Settle struct {
	Tasks   []Task
	Line    string // amount, time, note
	Because string // the reason for doing it in spite of a refusal
}

// SkipTask asks to write a task as skipped.
type SkipTask struct {
	Task    Task
	Because string
}

// Seek asks to find a text from the selection on, or the next place after it.
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

// Close asks to close the line; what was typed is kept for next time.
type Close struct{}

// Fill asks for a form of a ferment, a lot or a culture, with values in it.
type Fill struct {
	Form    string // rack, bottle, new, …
	Subject string // empty for none
	Given   map[string]string
}

// Taste asks for the tasting of one ferment, or of two next to each other.
type Taste struct {
	Subjects []string
	Step     string // the task that it settles; empty for none
	Blind    bool
}

// OpenPage asks for the page of a ferment or a culture.
type OpenPage struct{ Subject string }

// StartTask asks to start a task: by its form, by a line, or at once.
type StartTask struct{ Task Task }

// Apply asks to write a change.
type Apply struct{ Change ferment.Change }

// Type asks to open the entry line of a ferment or a culture, with a text in it.
type Type struct{ Subject, Text string }

// OpenEditor asks to open the editor for what the screen shows.
type OpenEditor struct{}

// Strike asks to take an entry out of its log; without a reason it is asked for.
type Strike struct {
	Subject string
	Entry   ferment.Entry
	Because string
}

// Correct asks to put what an entry should have said in its place; without a line it is asked for.
type Correct struct {
	Subject       string
	Entry         ferment.Entry
	Line, Because string // Because may be empty
}

// Say asks for a message in the last row.
type Say struct{ Text string }

// Explain asks to show below the line why it cannot be kept yet.
type Explain struct{ Text string }

// Action is what a key stands for, by the name that the settings use.
type Action string

// The actions.
const (
	Up       Action = "up"
	Down     Action = "down"
	PageUp   Action = "page-up"
	PageDown Action = "page-down"
	Top      Action = "top"
	Bottom   Action = "bottom"
	Side     Action = "side"  // between the tasks and the vessels
	Empty    Action = "empty" // clear a form
	Open     Action = "open"
	Back     Action = "back"
	Board    Action = "board"
	Shelf    Action = "shelf"
	Honey    Action = "honey-room"
	Past     Action = "past"
	Bench    Action = "bench"
	Guide    Action = "guide"
	Problems Action = "problems" // problems in the files
	Mark     Action = "mark"
	Numbers  Action = "numbers" // the curve as a table
	Yours    Action = "yours"   // what the ferments of this cellar did
	Compare  Action = "compare" // the marked ferments side by side
	Next     Action = "next"    // another set of keys of a figure
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
	Abort   Action = "abort" // leave from anywhere
	Suspend Action = "suspend"

	Keep    Action = "keep"    // what was typed in a line
	Guess   Action = "guess"   // replace an unlikely value by the guess
	Instead Action = "instead" // take what is offered instead of what was refused
)

// TakeUp asks to open the line that an earlier run left.
type TakeUp struct{ Draft Draft }

// Drop asks to discard the line that an earlier run left.
type Drop struct{ Draft Draft }

// Draft is what was typed into a line or a form and not kept.
type Draft struct {
	Kind    string // "reading", "note", "form rack", …
	Subject string
	Step    string
	Text    string    // empty if nothing would be lost
	Cellar  string    // its folder
	Typed   time.Time // when
}

// Postponed is the kind of a draft that stores until which morning a task is postponed.
const Postponed = "put-off"

// Same reports whether two drafts are of the same line or form.
func (d Draft) Same(other Draft) bool {
	return d.Kind == other.Kind && d.Subject == other.Subject && d.Step == other.Step && d.Cellar == other.Cellar
}

// Stroke is one key press, or one pasted text.
type Stroke struct {
	Name   string // "g", "enter", "ctrl+u", "space"; empty for a paste
	Text   string // the text of the key; empty for a key that types nothing
	Pasted bool
}
