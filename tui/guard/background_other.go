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

// Background cannot ask on this system.
func Background(Terminal, time.Duration) (dark, ok bool) { return true, false }

// Calm returns the terminal unchanged: only on Unix can be asked whether there is more to read.
func Calm(tty File) io.Reader { return tty }
