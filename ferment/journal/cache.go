package journal

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"time"

	"cellar/jugkeeper/ferment"
)

// pause is how long an editor may take to write a file that it has emptied.
const pause = 300 * time.Millisecond

type remembered struct {
	info    fs.FileInfo // nil where the file could not be looked at
	zone    *time.Location
	text    uint64 // the stamp of its text
	empty   bool
	reading any // a Reading of some noun; nil where there was no file
}

// had and keep guard what is known of the files, which are read several at once.

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

// look returns what a file is now, nil where there is none.
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

// reason returns what went wrong, without the paths of the machine.
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

// recall reads a file of one noun, or remembers it where it has not changed;
// without a file the reading is empty. A file that was good and is not any more
// is read again after a moment: an editor may be writing it. If it stays broken,
// its last good reading stays, with the new problems.
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

// readChanged reads a file if its size, time or inode, and then its text,
// differ from what is remembered.
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
