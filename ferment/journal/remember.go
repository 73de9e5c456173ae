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

// remembered is what a file said when it was read last.
type remembered struct {
	info    fs.FileInfo // nil where the last look at the file failed
	zone    *time.Location
	text    uint64 // the stamp of its text
	empty   bool
	reading any // a Reading of some noun
	places  map[string]ferment.Problem
}

// Files are read several at once: what is known of them is behind a lock of
// its own.

func (s *Store) see(path string, info fs.FileInfo) {
	s.known.Lock()
	defer s.known.Unlock()
	s.seen[path] = info
}

func (s *Store) had(file string) remembered {
	s.known.Lock()
	defer s.known.Unlock()
	return s.memory[file]
}

func (s *Store) keep(file string, now remembered) {
	s.known.Lock()
	defer s.known.Unlock()
	s.memory[file] = now
}

func (s *Store) forget(file string) {
	s.known.Lock()
	defer s.known.Unlock()
	delete(s.memory, file)
}

// look is what a file is now, nil where there is none.
func (s *Store) look(file string) (fs.FileInfo, error) {
	path := s.path(file)
	info, err := os.Stat(path)
	s.see(path, info)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		s.see(path, nil)
		if _, err := os.Lstat(path); err == nil {
			return nil, errors.New("is a link that leads to no file (mend the link, or take it out)")
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

// data is the text of a file that was looked at.
func (s *Store) data(file string) ([]byte, error) {
	data, err := os.ReadFile(s.path(file))
	if err != nil {
		return nil, errors.New("cannot be read: " + reason(err))
	}
	return data, nil
}

// reason is what went wrong, without the paths of the machine.
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

// A noun is read from a file with the places of values that only the cellar
// can check.
type nounReader[T any] func(file string, data []byte, zone *time.Location) (Reading[T], map[string]ferment.Problem)

// recall reads a file of one noun, or remembers it where it has not changed.
// A file that was good and is not any more is looked at again after a moment:
// an editor may be writing it. If it stays broken, what it said last stays,
// with the new problems.
func recall[T any](s *Store, file string, zone *time.Location, read nounReader[T]) (reading Reading[T], places map[string]ferment.Problem, exists bool) {
	had := s.had(file)
	last, _ := had.reading.(Reading[T])
	now, exists := readChanged(s, file, zone, read)
	if last.Readable && had.info != nil && (!exists || !sameFile(had.info, now.info) && now.doubtful()) {
		s.wait(pause)
		now, exists = readChanged(s, file, zone, read)
	}
	if !exists {
		s.forget(file)
		return reading, nil, false
	}
	reading = now.reading.(Reading[T])
	if last.Readable && !reading.Readable {
		last.Problems = reading.Problems
		reading, now.reading, now.places = last, last, had.places
	}
	s.keep(file, now)
	return reading, now.places, true
}

// doubtful tells whether a file may be in the middle of being written.
func (m remembered) doubtful() bool { return m.empty || !m.reading.(readable).readable() }

// readable is a reading of whatever noun.
type readable interface{ readable() bool }

func (r Reading[T]) readable() bool { return r.Readable }

// readChanged reads a file whose look, or else whose text, is another than the
// one remembered.
func readChanged[T any](s *Store, file string, zone *time.Location, read nounReader[T]) (now remembered, exists bool) {
	had := s.had(file)
	failed := func(err error) (remembered, bool) {
		return remembered{reading: Reading[T]{Problems: []ferment.Problem{{File: file, Message: err.Error()}}}}, true
	}
	info, err := s.look(file)
	switch {
	case err != nil:
		return failed(err)
	case info == nil:
		return remembered{}, false
	case had.info != nil && sameFile(had.info, info) && had.zone == zone:
		return had, true
	}
	data, err := s.data(file)
	if err != nil {
		return failed(err)
	}
	now = remembered{info: info, zone: zone, text: stampOf(data), empty: len(bytes.TrimSpace(data)) == 0}
	if had.info != nil && had.text == now.text && had.zone == zone {
		now.reading, now.places = had.reading, had.places
		return now, true
	}
	reading, places := read(file, data, zone)
	now.reading, now.places = reading, places
	return now, true
}

// withoutPlaces is a reader of a noun whose values have no places worth
// keeping.
func withoutPlaces[T any](read func(string, []byte, *time.Location) Reading[T]) nounReader[T] {
	return func(file string, data []byte, zone *time.Location) (Reading[T], map[string]ferment.Problem) {
		return read(file, data, zone), nil
	}
}
