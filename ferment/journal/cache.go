package journal

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"time"

	"cellar/jugkeeper/ferment"
)

// pause is how long an editor may take to write a file that it has emptied.
const pause = 300 * time.Millisecond

type remembered struct {
	info    fs.FileInfo // nil if the file could not be read
	zone    *time.Location
	text    uint64 // the stamp of its text
	empty   bool
	reading any // a Reading of some noun; nil without a file
}

// had and keep lock the memory of files, several of which are read at once.

func (s *Store) had(file string) remembered {
	s.known.Lock()
	defer s.known.Unlock()
	return s.memory[file]
}

func (s *Store) keep(file string, now remembered) {
	s.known.Lock()
	defer s.known.Unlock()
	if s.memory[file] = now; now.reading == nil {
		delete(s.memory, file)
	}
}

// look returns the present state of a file, nil if there is none.
func (s *Store) look(file string) (fs.FileInfo, error) {
	path := s.path(file)
	info, err := os.Stat(path)
	s.known.Lock()
	s.seen[path] = info
	s.known.Unlock()
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if _, err := os.Lstat(path); err == nil {
			return nil, errors.New("is a link that leads to no file (fix the link, or take it out)")
		}
		return nil, nil
	case err != nil:
		return nil, errors.New("cannot be read: " + reason(err))
	case info.IsDir():
		return nil, errors.New("is a folder, where a file is wanted")
	case !info.Mode().IsRegular():
		return nil, errors.New("is no plain file")
	case info.Size() > largest:
		return nil, errors.New(tooLarge)
	}
	return info, nil
}

// reason returns an error's text without paths of the machine.
func reason(err error) string {
	var at *fs.PathError
	var between *os.LinkError
	switch {
	case errors.As(err, &at):
		return at.Err.Error()
	case errors.As(err, &between):
		return between.Err.Error()
	}
	return err.Error()
}

type nounReader[T any] = func(file string, data []byte, zone *time.Location) Reading[T]

// recall returns the reading of a file, from memory while it is unchanged; without a file it is empty. A file that has
// become unreadable is read again after a moment, because an editor may be writing it; while it stays unreadable the
// last good reading is kept too.
func recall[T any](s *Store, file string, zone *time.Location, read nounReader[T]) Reading[T] {
	had := s.had(file)
	last, _ := had.reading.(Reading[T])
	now := readChanged(s, file, zone, had, read)
	reading, exists := now.reading.(Reading[T])
	doubtful := now.empty || !reading.Readable
	if last.Readable && had.info != nil && (!exists || doubtful && !sameFile(had.info, now.info)) {
		s.wait(pause)
		now = readChanged(s, file, zone, had, read)
		reading, exists = now.reading.(Reading[T])
	}
	if exists && last.Readable && !reading.Readable {
		last.Problems = reading.Problems
		reading, now.reading = last, last
	}
	s.keep(file, now)
	return reading
}

// readChanged reads a file if its size, time or inode differ from memory, and parses it if its text does.
func readChanged[T any](s *Store, file string, zone *time.Location, had remembered, read nounReader[T]) remembered {
	failed := func(err error) remembered {
		return remembered{reading: Reading[T]{Problems: []ferment.Problem{{File: file, Message: err.Error()}}}}
	}
	info, err := s.look(file)
	switch {
	case err != nil:
		return failed(err)
	case info == nil:
		return remembered{}
	case had.info != nil && sameFile(had.info, info) && had.zone == zone:
		return had
	}
	data, err := os.ReadFile(s.path(file))
	if err != nil {
		return failed(errors.New("cannot be read: " + reason(err)))
	}
	now := remembered{info: info, zone: zone, text: stampOf(data), empty: len(bytes.TrimSpace(data)) == 0}
	if had.info != nil && had.text == now.text && had.zone == zone {
		now.reading = had.reading
	} else {
		now.reading = read(file, data, zone)
	}
	return now
}

// errEdited says that a file changed while a write was prepared, so the write starts again.
var errEdited = errors.New("another program is saving the file just now (try again)")

// errUnsaved says that a file was not saved completely.
var errUnsaved = errors.New("the file ends in the middle of an entry: it was not saved completely (save it again)")

// mostTries is how often a write starts again because the file was saved meanwhile.
const mostTries = 20

// young is the age up to which a text may still be growing, because some editors do not save in one go.
const young = 2 * time.Second

// ReadSmall reads a plain file of at most 1 MiB; a pipe or a device is not opened.
func ReadSmall(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular():
		return nil, &os.PathError{Op: "read", Path: path, Err: errors.New("is no plain file")}
	case info.Size() > largest:
		return nil, &os.PathError{Op: "read", Path: path, Err: errors.New(tooLarge)}
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, largest+1))
}

// settled reads a file before a write. One saved in the last two seconds by another program must stay unchanged for a
// moment, or for two seconds if it lacks recorded entries. A file that keeps changing is refused.
func (s *Store) settled(file string) ([]byte, error) {
	path := s.path(file)
	text, err := ReadSmall(path)
	if err != nil {
		return nil, err
	}
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	switch {
	case info.Mode().Perm()&0o222 == 0: // its owner made it read-only
		return nil, errors.New("the file is marked as not to be written (chmod u+w lets it be written)")
	case names(info) > 1:
		return nil, fmt.Errorf("the file has %d names (hard links), and a write would separate them (leave it one name, or make the others symbolic links)", names(info))
	}
	same, calm := time.Duration(0), time.Duration(0)
	if s.grows(info, text) {
		calm = s.calm(file, text)
	}
	for waited := time.Duration(0); same < calm; waited += pause {
		if waited >= 3*young {
			return nil, errEdited
		}
		s.wait(pause)
		same += pause
		again, err := ReadSmall(path)
		if err != nil {
			return nil, err
		}
		if !bytes.Equal(again, text) {
			text, same, calm = again, 0, s.calm(file, again)
		}
	}
	if cutShort(text) {
		return nil, errUnsaved
	}
	return text, nil
}

// grows reports whether a file may still be being saved: it is young by its disk's clock, and was not written by a
// program of this kind.
func (s *Store) grows(info os.FileInfo, text []byte) bool {
	if s.held == nil || slices.Contains(s.held.stamps, stampText(text)) {
		return false
	}
	now, err := s.held.file.Stat()
	return err == nil && now.ModTime().Sub(info.ModTime()) < young
}

// calm returns how long a young file must stay unchanged: longer if it is empty, cut short or lacks entries.
func (s *Store) calm(file string, text []byte) time.Duration {
	if len(bytes.TrimSpace(text)) == 0 || cutShort(text) {
		return young
	}
	if file != culturesFile {
		log := ReadFerment(file, text, s.ownZone()).Value.Log
		all, _ := s.recorded(s.ownZone(), func(n note) bool { return n.File == file }) // without a record nothing is known
		if len(missing(log, givenTo(log, all))) > 0 {
			return young
		}
	}
	return pause
}

// cutShort reports whether a text ends in an unreadable entry without a line end.
func cutShort(text []byte) bool {
	if len(text) == 0 || text[len(text)-1] == '\n' {
		return false
	}
	r := ReadFerment("", text, time.UTC)
	return r.Readable && r.Value.Incomplete
}
