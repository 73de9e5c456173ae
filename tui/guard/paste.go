//go:build unix

package guard

import (
	"bytes"
	"io"
	"time"
)

// The start and end marks of a paste (xterm's control sequences, bracketed paste mode).
var begins, ends = []byte("\x1b[200~"), []byte("\x1b[201~")

const (
	interrupt = 3 // Ctrl+C in a terminal

	mostPasted = 8 << 10                // bytes of one paste, more than any line accepts
	endsAfter  = 300 * time.Millisecond // of silence end a paste without an end mark
	pausesFor  = 50 * time.Millisecond  // of silence separate a flood from typing after it
	comesAlong = 5 * time.Millisecond   // between pieces of one flood
)

// calmed is a terminal whose pastes always end: after a silence if the end mark is missing, at a size that no line
// accepts, and at Ctrl+C. A flood of text without marks becomes one paste of TooMuch. Nothing is read ahead, so that
// waiting until the terminal is readable still works.
type calmed struct {
	File
	pasting bool
	pasted  int    // bytes of this paste
	tail    []byte // end of what was read last, for a mark in two pieces
}

// Calm returns a terminal whose pastes cannot stop the program from reading keys.
func Calm(tty File) io.Reader { return &calmed{File: tty} }

// Read reads keys and pastes; see calmed.
func (c *calmed) Read(p []byte) (int, error) {
	room := len(p) - len(ends) - 2 // room for what may be added
	if room <= 0 {
		return c.File.Read(p)
	}
	n, err := c.File.Read(p[:room])
	if err != nil || n == 0 {
		return n, err
	}
	marked := c.pasting || bytes.IndexByte(p[:n], begins[0]) >= 0
	if n == room && !marked && c.more(0) { // the buffer is full, so there may be more
		more, err := c.File.Read(p[n:])
		if n += more; err != nil {
			return n, err
		}
		marked = bytes.IndexByte(p[:n], begins[0]) >= 0
	}
	if n == len(p) && !marked && c.more(comesAlong) {
		return copy(p, string(begins)+TooMuch+string(ends)+string(c.drain(pausesFor))), nil
	}
	return c.follow(p, n), nil
}

// follow counts the bytes of the paste in p[:n], ends it if necessary, and returns the new length of p.
func (c *calmed) follow(p []byte, n int) int {
	for i, b := range p[:n] {
		if c.pasting && b == interrupt {
			c.pasting = false
			c.drain(pausesFor)
			return i + copy(p[i:], string(ends)+string(rune(interrupt)))
		}
		c.tail = append(c.tail[max(len(c.tail)-len(begins)+1, 0):], b)
		switch {
		case bytes.Equal(c.tail, begins):
			c.pasting, c.pasted = true, 0
		case bytes.Equal(c.tail, ends):
			c.pasting = false
		case c.pasting:
			c.pasted++
		}
	}
	if c.pasting && (c.pasted > mostPasted || !c.more(endsAfter)) {
		c.pasting = false
		n += copy(p[n:], ends)
		if c.pasted > mostPasted {
			n += copy(p[n:], c.drain(pausesFor))
		}
	}
	return n
}

// drain reads until there is a pause or Ctrl+C, which it returns.
func (c *calmed) drain(pause time.Duration) []byte {
	part := make([]byte, 32<<10)
	for c.more(pause) {
		n, err := c.File.Read(part)
		if err != nil || n == 0 {
			return nil
		}
		if bytes.IndexByte(part[:n], interrupt) >= 0 {
			return []byte{interrupt}
		}
	}
	return nil
}

// more reports whether there is something to read within a time.
func (c *calmed) more(wait time.Duration) bool {
	_, ready := readable(c.Fd(), max(wait, 1))
	return ready
}
