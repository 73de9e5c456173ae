package journal

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
)

// How long to wait for the lock while its holder is inactive, and how often to try.
const (
	patience = 2 * time.Second
	lookLock = 10 * time.Millisecond
)

var (
	errHeld    = errors.New("the cellar is locked")
	errNoLocks = errors.New("the file system has no locks")
)

// holding is the lock while this program has it. Its file has the holder's name and the stamps of the last texts
// written; those are complete, so nobody waits to see whether they still grow.
type holding struct {
	file   *os.File
	stamps []string
}

// mostStamps is how many stamps are kept.
const mostStamps = 16

// lock waits for the lock, at most two seconds after its holder was last active. The lock is a file of its own, because
// a write replaces a data file; where the system has no locks, it is a file that only one program can create.
func (s *Store) lock() (unlock func(), err error) {
	path := s.path(".lock")
	if info, err := os.Lstat(path); err == nil && !info.Mode().IsRegular() {
		return nil, errors.New(".lock is no plain file (remove it: the program makes its own)")
	}
	f, err := openLock(path)
	if err != nil {
		return nil, err
	}
	var since time.Time
	anew := func() bool { // it was taken or used since the last look
		info, err := f.Stat()
		if err != nil || info.ModTime().Equal(since) {
			return false
		}
		since = info.ModTime()
		return true
	}
	take, drop := func() error { return flock(f) }, func() {}
	for waited := time.Duration(0); ; waited += lookLock {
		switch err = take(); {
		case err == nil:
			s.held = &holding{f, stampsIn(f)}
			s.held.write()
			return func() { s.held = nil; drop(); f.Close() }, nil
		case errors.Is(err, errNoLocks):
			s.lockless = true
			only := path + ".held"
			take, drop = func() error { return createOnly(only) }, func() { os.Remove(only) }
		case !errors.Is(err, errHeld):
			f.Close()
			return nil, err
		case anew():
			waited = 0 // programs take turns
		case waited >= patience:
			defer f.Close()
			return nil, s.heldBy(path)
		default:
			s.wait(lookLock)
		}
	}
}

// Hold locks a file that is there for that alone, and reports whether no other program holds it. It is removed when it
// is released.
func Hold(path string) (release func(), free bool) {
	f, err := openLock(path)
	if err != nil {
		return func() {}, true
	}
	if errors.Is(flock(f), errHeld) {
		f.Close()
		return func() {}, false
	}
	return func() { f.Close(); _ = os.Remove(path) }, true
}

// Locked calls do while no other program of this kind writes into the folder. If the lock cannot be taken the error
// names file.
func (s *Store) Locked(file string, do func() error) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	unlock, err := s.lock()
	if err != nil {
		return &WriteError{File: file, Err: err}
	}
	defer unlock()
	return do()
}

// write stores the holder in the lock's file. On a full disk it is left out.
func (h *holding) write() {
	text := fmt.Sprintf("%-60s\n%s\n", holder(), strings.Join(h.stamps, "\n"))
	_, _ = h.file.WriteAt([]byte(text), 0)
}

// wrote adds the stamp of a text that was written, so that the record knows it.
func (h *holding) wrote(text []byte) {
	h.stamps = append(h.stamps, stampText(text))
	h.stamps = h.stamps[max(0, len(h.stamps)-mostStamps):]
	h.write()
}

func stampText(text []byte) string { return fmt.Sprintf("%016x", stampOf(text)) }

// stampsIn returns the stamps in a lock file, oldest first.
func stampsIn(f *os.File) []string {
	text := make([]byte, 61+17*mostStamps)
	n, _ := f.ReadAt(text, 0)
	_, stamps, _ := strings.Cut(string(text[:n]), "\n")
	return strings.Fields(stamps)
}

// holder says who holds the lock.
func holder() string {
	host, _ := os.Hostname()
	return strings.TrimSpace(fmt.Sprintf("pid %d %s", os.Getpid(), host))
}

// heldBy returns the error for a lock held too long, with the holder if known.
func (s *Store) heldBy(path string) error {
	if s.lockless {
		path += ".held"
	}
	who := "another program"
	if text, err := ReadSmall(path); err == nil {
		first, _, _ := strings.Cut(string(text), "\n")
		if first = ferment.Harmless(short(strings.TrimSpace(first), 60)); first != "" {
			who += " (" + first + ")"
		}
	}
	if info, err := os.Stat(path); err == nil {
		who += " since " + info.ModTime().In(s.zone).Format(time.TimeOnly)
	}
	return errors.New(who + " is writing into the cellar and does not finish (try again; if it hangs, end it)")
}

// createOnly creates a file that only one program can create. One left by a program on this machine that has ended is
// removed.
func createOnly(path string) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
	if err == nil {
		_, err = f.WriteString(holder() + "\n")
		return errors.Join(err, f.Close())
	}
	if !errors.Is(err, fs.ErrExist) {
		return err
	}
	text, _ := ReadSmall(path)
	words, mine := strings.Fields(string(text)), strings.Fields(holder())
	if len(words) >= 2 && slices.Equal(words[2:], mine[2:]) {
		if pid, err := strconv.Atoi(words[1]); err == nil && !runs(pid) {
			os.Remove(path)
		}
	}
	return errHeld
}
