package intent

import "cellar/jugkeeper/ferment"

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

// Seek asks for the place where a text stands: from the selection on, or the
// next one after it.
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

// Fill asks for a form, of a ferment, a lot or a culture, with values that
// stand in it already.
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

// Attend asks for what settles a task: a form, a line, or that it is written as
// done at once.
type Attend struct{ Task Task }

// Carry asks to write what an act wants written.
type Carry struct{ Deed ferment.Deed }

// Type asks for the entry line of a ferment or a culture, with a text in it.
type Type struct{ Subject, Text string }

// Amend asks for the editor at what the screen in sight is of.
type Amend struct{}

// Say asks for a message in the last row.
type Say struct{ Text string }

func (Fill) isIntent()   {}
func (Taste) isIntent()  {}
func (Visit) isIntent()  {}
func (Carry) isIntent()  {}
func (Say) isIntent()    {}
func (Type) isIntent()   {}
func (Attend) isIntent() {}
func (Amend) isIntent()  {}
