//go:build !unix

package guard

import (
	"io"
	"time"
)

// Terminal is a terminal as a file that can be asked.
type Terminal interface {
	io.ReadWriter
	Fd() uintptr
}

// Background cannot ask here.
func Background(Terminal, time.Duration) (dark, ok bool) { return true, false }

// Calm returns the terminal as it is: only on Unix can be asked whether there is more.
func Calm(tty File) io.Reader { return tty }
