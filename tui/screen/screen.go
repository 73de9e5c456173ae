// Package screen says what the program asks of a screen, so that it never asks
// which screen it is.
package screen

import (
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/theme"
)

// Screen fills the terminal. Its methods give a changed copy, and what is asked
// for; a nil intent asks for nothing. It writes nothing and reads no clock.
type Screen interface {
	// SetSize is the screen on a terminal of that size.
	SetSize(width, height int) Screen
	// SetTheme is the screen in other colours.
	SetTheme(theme.Theme) Screen
	// Show is the screen with a later snapshot; cursor and scroll stay where they
	// were, by what is selected.
	Show(app.Snapshot, words.Sheet) Screen
	// Do is what a key of the table does here; an action that means nothing here
	// changes nothing.
	Do(intent.Action) (Screen, intent.Intent)
	// Typing tells whether letters are letters: keys then come as strokes, save
	// those that keep, go back or leave.
	Typing() bool
	// Press types.
	Press(intent.Stroke) (Screen, intent.Intent)
	// Subject is the ferment or the culture that is selected; empty for none.
	Subject() string
	// Word is what a key does here, in a word for the foot; empty where the table's
	// own word will do, "-" where the foot does not name it now.
	Word(intent.Action) string
	// View draws the screen in exactly its size, with that last row.
	View(foot string) string
}

// FilledIn is a screen that a person fills in, and that closes when it is kept.
type FilledIn interface {
	Screen
	// Draft is what would be lost if the screen were closed now.
	Draft() intent.Draft
	// Resume is the screen with the text of an earlier draft.
	Resume(text string) Screen
	// Kept is what the screen shows after it was written; false where it closes.
	Kept() (Screen, bool)
	// Fail says why it could not be kept; everything typed stays.
	Fail(error) Screen
}

// Sought is a screen in which a text can be looked for.
type Sought interface {
	// Seek is the screen at the place where a text stands, from where it is on, or
	// at the next one after it.
	Seek(text string, again bool) (s Screen, found bool)
}

// Filed is a screen of what stands in a file of the cellar.
type Filed interface {
	// File is what the editor opens, and at which line; empty for none.
	File() (file string, line int)
}
