// Package guard keeps plain commands from waiting for a terminal. Importing bubbletea asks the terminal for its
// background before main begins; if it never answers, every command waits five seconds. This package sets the
// background first: packages are initialised in the order of their import paths, and its path comes before bubbletea's.
//
// The board can still ask, with Background and a time limit.
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
