// Package guard keeps plain commands from waiting for a terminal. Importing
// bubbletea asks the terminal for the colour of its background before main
// begins; one that never answers costs every command five seconds. This
// package answers first. Packages that are ready start in the order of their
// import paths, and this one's comes before bubbletea's.
//
// The board may still ask, with Background, for as long as it likes to wait.
package guard

import (
	"io"

	"github.com/charmbracelet/lipgloss"
)

func init() { lipgloss.SetHasDarkBackground(true) }

// TooMuch is what a flood is taken as: a paste of one substitute character (ECMA-48 SUB).
const TooMuch = "\x1a"

// File is a terminal that is opened, read, and waited for by its descriptor.
type File interface {
	io.ReadWriteCloser
	Fd() uintptr
	Name() string
}
