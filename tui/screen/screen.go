// Package screen has the interface that every screen meets, and those for what only some can do, so that the program
// never asks which screen it is.
package screen

import (
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
	"cellar/jugkeeper/tui/widget"
)

// Frame is what a screen is drawn with, handed in with every call. A screen itself keeps only its cursor, its scroll
// and what is being typed.
type Frame struct {
	Theme         theme.Theme
	Width, Height int
	Snapshot      app.Snapshot // without postponed tasks
	Sheet         words.Sheet  // the snapshot in words
	Files         Files
	Footer        string                     // the last row: keys, a message, the grammar of a line
	Below         []string                   // drawn by a screen that is DrawsBelow instead of its lower part
	KeyName       func(intent.Action) string // a key as named on the keyboard
}

// Files is the problems and unlikely values in the files.
type Files struct {
	Read              bool // they were checked
	Problems, Remarks []ferment.Problem
	Err               error
}

// Fits reports whether a screen can be drawn at all.
func (f Frame) Fits() bool { return layout.Fits(f.Width, f.Height) }

// Page returns the part of the screen for text.
func (f Frame) Page() layout.Page { return layout.PageOf(f.Width) }

// Draw returns the whole frame: rows and footer, or that there is no room.
func (f Frame) Draw(rows func() []string) string {
	if !f.Fits() {
		return widget.Fill(widget.TooSmall(f.Theme, f.Width, f.Height), "", f.Width, f.Height)
	}
	return widget.Fill(rows(), strings.Repeat(" ", f.Page().Margin)+layout.Cut(f.Footer, f.Page().Width), f.Width, f.Height)
}

// Screen fills the terminal. Its methods return a changed copy and an intent, nil for none.
type Screen interface {
	// Show returns the screen for a later snapshot or another size; the cursor stays on what is selected.
	Show(Frame) Screen
	// Do performs the action of a key; one that the screen does not know it returns as an intent.Act.
	Do(Frame, intent.Action) (Screen, intent.Intent)
	// View draws the screen in exactly the size of its frame.
	View(Frame) string
	// Subject returns the ferment or the culture that is selected; empty for none.
	Subject() string
	// Word returns the footer's word for an action; empty for the usual word, Unnamed for none.
	Word(intent.Action) string
}

// Unnamed is the word of a key that the footer leaves out; WhereFrom names the screen that it goes back to.
const (
	Unnamed   = "-"
	WhereFrom = "<"
)

// Named is a screen that has another name than its place.
type Named interface{ Name() string }

// Plain is embedded by screens without a subject and words of their own.
type Plain struct{}

// Subject returns none.
func (Plain) Subject() string { return "" }

// Word returns the usual word.
func (Plain) Word(intent.Action) string { return "" }

// Typable is a screen that can be typed on.
type Typable interface {
	Screen
	// Typing reports whether letters are text now, not keys.
	Typing() bool
	// Press types one stroke.
	Press(Frame, intent.Stroke) (Screen, intent.Intent)
}

// Fillable is a screen that a person fills in, and that closes once it is written.
type Fillable interface {
	Typable
	// Draft returns what would be lost if the screen were closed now.
	Draft() intent.Draft
	// Resume returns the screen with the text of an earlier draft.
	Resume(f Frame, text string) Screen
	// Kept returns the screen after it was written; false if it closes.
	Kept(Frame) (Screen, bool)
	// Fail shows why it could not be written; everything typed stays.
	Fail(error) Screen
}

// DrawsBelow is a screen that draws Frame.Below itself. On others it covers the lower rows.
type DrawsBelow interface{ DrawsBelow() }

// HasTask is a screen on which a task can be selected.
type HasTask interface {
	// Task returns the selected task; not ok if there is none.
	Task(Frame) (words.Line, bool)
}

// Selectable is a screen whose selection can be set.
type Selectable interface {
	// Lead returns the screen with a task selected; with its vessel, if there is no step or no row of the task.
	Lead(f Frame, to intent.Task) Screen
}

// NamesKeys is a screen that chooses the keys of the footer itself.
type NamesKeys interface {
	// Names returns the keys of the footer; nil for the usual ones.
	Names(Frame) []intent.Action
}

// Scrolls is a screen that scrolls as a whole.
type Scrolls interface {
	// AtEnd reports whether its last row is in sight.
	AtEnd(Frame) bool
}

// Searchable is a screen that can be searched.
type Searchable interface {
	// Seek returns the screen at the next place of a text, including the present one unless again.
	Seek(f Frame, text string, again bool) (s Screen, found bool)
}

// HasFile is a screen about something in a file of the cellar.
type HasFile interface {
	// File returns the file to edit and its line; empty for none.
	File(Frame) (file string, line int)
}
