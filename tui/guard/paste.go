//go:build unix

package guard

import (
	"bytes"
	"io"
	"time"
)

// The marks around a paste (xterm's control sequences, bracketed paste mode).
var begins, ends = []byte("\x1b[200~"), []byte("\x1b[201~")

const (
	interrupt = 3 // Ctrl+C in a terminal

	mostPasted = 8 << 10                // bytes of one paste; no line takes as many
	endsAfter  = 300 * time.Millisecond // of silence in a paste whose end mark does not come
	pausesFor  = 50 * time.Millisecond  // of silence between a flood and what is typed after it
	comesAlong = 5 * time.Millisecond   // between pieces of one flood
)

// calmed is a terminal whose pastes end: after some silence where the end mark is
// missing, at a size that no line takes, and at Ctrl+C. Text that floods in without
// marks becomes one paste of TooMuch. Nothing is read ahead, so that waiting for the
// terminal to be readable works as it does without.
type calmed struct {
	File
	pasting bool
	pasted  int    // bytes of this paste
	tail    []byte // of what was read last, for a mark in two pieces
}

// Calm returns a terminal whose pastes cannot stop the program from reading keys.
func Calm(tty File) io.Reader { return &calmed{File: tty} }

// Read reads keys and pastes.
func (c *calmed) Read(p []byte) (int, error) {
	room := len(p) - len(ends) - 2 // for what may be added
	if room <= 0 {
		return c.File.Read(p)
	}
	n, err := c.File.Read(p[:room])
	if err != nil || n == 0 {
		return n, err
	}
	marked := c.pasting || bytes.IndexByte(p[:n], begins[0]) >= 0
	if n == room && !marked && c.more(0) { // as much as was asked for: the reader goes by it
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

// follow keeps count of the paste in p[:n], ends it where it must, and gives p's new length.
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

// drain reads what comes until there is a pause, or Ctrl+C, which it gives.
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
