// Package guard keeps plain commands from waiting for a terminal. Importing bubbletea asks it for its
// background before main begins, for five seconds where it is silent; this package answers first, as its
// import path sorts before. The board may still ask, with Background.
package guard

import (
	"io"

	"github.com/charmbracelet/lipgloss"
)

func init() { lipgloss.SetHasDarkBackground(true) }

// TooMuch replaces a flood of text: a paste of one substitute character (ECMA-48 SUB).
const TooMuch = "\x1a"

// File is an open terminal with its descriptor.
type File interface {
	io.ReadWriteCloser
	Fd() uintptr
	Name() string
}
