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

// How long another program is waited for that writes into the cellar, and how
// often it is looked whether it is done.
const (
	patience = 2 * time.Second
	lookLock = 10 * time.Millisecond
)

var (
	errHeld    = errors.New("the cellar is locked")
	errNoLocks = errors.New("the folder takes no locks")
)

// HeldError says that another program has been writing into the cellar for
// longer than anybody waits.
type HeldError struct{ By, Since string }

func (e *HeldError) Error() string {
	who := "another program"
	if e.By != "" {
		who += " (" + e.By + ")"
	}
	if e.Since != "" {
		who += " since " + e.Since
	}
	return who + " is writing into the cellar and does not come to an end (try again; if it hangs, end it)"
}

// A holding is the lock while this program has it. Its file says who has it,
// and by their stamps which texts a program of this kind wrote last: those are
// whole, and nobody needs to wait whether they still grow.
type holding struct {
	file   *os.File
	stamps []string
}

// mostStamps is how many texts that were written last are known by their stamps.
const mostStamps = 16

// lock waits until no other program writes into the cellar, for two seconds at
// most after one has last shown that it is at work. The lock is on a file of its own: a data file is replaced by each write.
// A folder without locks gets a file that only one program can make.
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
			take, drop = func() error { return makeOnly(only) }, func() { os.Remove(only) }
		case !errors.Is(err, errHeld):
			f.Close()
			return nil, err
		case s.passedOn(f, &since):
			waited = 0 // somebody else has it now: they take turns
		case waited >= patience:
			defer f.Close()
			return nil, s.heldBy(f, path)
		default:
			s.wait(lookLock)
		}
	}
}

// passedOn tells whether the lock has been taken or written under since it was
// looked at last.
func (s *Store) passedOn(f *os.File, since *time.Time) bool {
	info, err := f.Stat()
	if err != nil || info.ModTime().Equal(*since) {
		return false
	}
	*since = info.ModTime()
	return true
}

// write says in the lock's file who has it. A disk that is full or goes away
// costs nothing but that.
func (h *holding) write() {
	text := fmt.Sprintf("%-60s\n%s\n", holder(), strings.Join(h.stamps, "\n"))
	_, _ = h.file.WriteAt([]byte(text), 0)
}

// wrote remembers a text as one that was written whole.
func (h *holding) wrote(text []byte) {
	h.stamps = append(h.stamps, stampText(text))
	h.stamps = h.stamps[max(0, len(h.stamps)-mostStamps):]
	h.write()
}

func stampText(text []byte) string { return fmt.Sprintf("%016x", stampOf(text)) }

// stampsIn are the stamps of a lock's file.
func stampsIn(f *os.File) []string {
	text := make([]byte, 61+17*mostStamps)
	n, _ := f.ReadAt(text, 0)
	_, stamps, _ := strings.Cut(string(text[:n]), "\n")
	return strings.Fields(stamps)
}

// holder is this program, in words.
func holder() string {
	host, _ := os.Hostname()
	return strings.TrimSpace(fmt.Sprintf("pid %d %s", os.Getpid(), host))
}

// heldBy says who has the lock, as far as its file tells.
func (s *Store) heldBy(f *os.File, path string) error {
	held := &HeldError{}
	if s.lockless {
		path += ".held"
	}
	if text, err := readSmall(path); err == nil {
		first, _, _ := strings.Cut(string(text), "\n")
		held.By = ferment.Harmless(short(strings.TrimSpace(first), 60))
	}
	if info, err := os.Stat(path); err == nil {
		held.Since = info.ModTime().In(s.zone).Format(time.TimeOnly)
	}
	return held
}

// makeOnly makes a file that only one program can make. One that is left of a
// program of this machine which is not there any more is taken away.
func makeOnly(path string) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
	if err == nil {
		_, err = f.WriteString(holder() + "\n")
		return errors.Join(err, f.Close())
	}
	if !errors.Is(err, fs.ErrExist) {
		return err
	}
	text, _ := readSmall(path)
	words, host := strings.Fields(string(text)), strings.Fields(holder())
	if len(words) >= 2 && slices.Equal(words[2:], host[2:]) {
		if pid, err := strconv.Atoi(words[1]); err == nil && !runs(pid) {
			os.Remove(path)
		}
	}
	return errHeld
}
