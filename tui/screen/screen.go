// Package screen says what the program asks of a screen, so that it never asks
// which screen it is.
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

// Frame is what a screen is shown in: everything that is not the screen's own.
// It is handed in anew with every call; a screen keeps only its cursor, its scroll
// and what is half typed.
type Frame struct {
	Theme         theme.Theme
	Width, Height int
	Snapshot      app.Snapshot // without the tasks that are put off
	Sheet         words.Sheet  // the same in words
	Files         Files
	Footer        string                     // the last row: keys, a message, the grammar of a line
	Below         []string                   // what a screen that is Lined draws in place of its lower part
	KeyName       func(intent.Action) string // a key as it stands on the keyboard
}

// Files is what is wrong in the files, and what looks unlikely there.
type Files struct {
	Read              bool // they have been looked at
	Problems, Remarks []ferment.Problem
	Err               error
}

// Fits reports whether there is room to draw a screen at all.
func (f Frame) Fits() bool { return layout.Fits(f.Width, f.Height) }

// Page returns where text may stand.
func (f Frame) Page() layout.Page { return layout.PageOf(f.Width) }

// Draw returns the whole frame: rows and footer, or that there is no room for them.
func (f Frame) Draw(rows func() []string) string {
	if !f.Fits() {
		return widget.Fill(widget.TooSmall(f.Theme, f.Width, f.Height), "", f.Width, f.Height)
	}
	return widget.Fill(rows(), strings.Repeat(" ", f.Page().Margin)+layout.Cut(f.Footer, f.Page().Width), f.Width, f.Height)
}

// Screen fills the terminal. Its methods give a changed copy and what is asked for, nil for nothing.
type Screen interface {
	// Show is the screen in a frame that is another than the last: a later snapshot,
	// another size, other colours. The cursor stays by what is selected.
	Show(Frame) Screen
	// Do is what a key of the table does here. What it does not know it asks back
	// for as an intent.Act: the program does what the key does everywhere.
	Do(Frame, intent.Action) (Screen, intent.Intent)
	// View draws the screen in exactly the size of its frame.
	View(Frame) string
	// Subject is the ferment or the culture that is selected; empty for none.
	Subject() string
	// Word is what a key does here, in a word for the footer; empty where the table's
	// own word will do, Unnamed where the footer does not name it now.
	Word(intent.Action) string
}

// Unnamed is the word of a key that the footer does not name now.
const Unnamed = "-"

// Plain is what a screen embeds that has no subject and no words of its own.
type Plain struct{}

// Subject returns nobody.
func (Plain) Subject() string { return "" }

// Word returns the table's own.
func (Plain) Word(intent.Action) string { return "" }

// Typed is a screen that can be typed on.
type Typed interface {
	Screen
	// Typing reports whether letters are letters now: keys then come as strokes, but for
	// those that leave the program or go to the shell.
	Typing() bool
	// Press types.
	Press(Frame, intent.Stroke) (Screen, intent.Intent)
}

// FilledIn is a screen that a person fills in, and that closes when it is kept.
type FilledIn interface {
	Typed
	// Draft is what would be lost if the screen were closed now.
	Draft() intent.Draft
	// Resume is the screen with the text of an earlier draft.
	Resume(f Frame, text string) Screen
	// Kept is what the screen shows after it was written; false where it closes.
	Kept(Frame) (Screen, bool)
	// Fail says why it could not be kept; everything typed stays.
	Fail(error) Screen
}

// Lined is a screen that draws Frame.Below itself; any other gives it the lower rows.
type Lined interface{ Lined() }

// Tasked is a screen on which a task is selected.
type Tasked interface {
	// Task is the selected one; not ok where there is none.
	Task(Frame) (words.Line, bool)
}

// Led is a screen on which the selection can be put on a vessel, or on a task of it.
type Led interface {
	// Lead is the screen with a task selected; without a step, or where the task has no
	// row, with its vessel.
	Lead(f Frame, to intent.Task) Screen
}

// Named is a screen whose footer names other keys than the table's, for now.
type Named interface {
	// Names lists the keys that the footer names; nil for those of the table.
	Names(Frame) []intent.Action
}

// Sought is a screen in which a text can be looked for.
type Sought interface {
	// Seek is the screen at the place where a text stands, from where it is on, or
	// at the next one after it.
	Seek(f Frame, text string, again bool) (s Screen, found bool)
}

// Filed is a screen of what stands in a file of the cellar.
type Filed interface {
	// File is what the editor opens, and at which line; empty for none.
	File(Frame) (file string, line int)
}
