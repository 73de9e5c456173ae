package journal

import (
	"errors"
	"io/fs"
	"os"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
)

// pause is how long an editor may take to write a file that it has emptied.
const pause = 300 * time.Millisecond

// remembered is what a file said when it was read last.
type remembered struct {
	info    fs.FileInfo
	zone    *time.Location
	reading any // a Reading of some noun
	places  map[string]ferment.Problem
}

// data reads a file, up to a little more than may be looked at. A missing file
// is not there.
func (s *Store) data(file string) (data []byte, info fs.FileInfo, problem *ferment.Problem) {
	path := s.path(file)
	info, err := os.Stat(path)
	s.seen[path] = info
	switch {
	case errors.Is(err, fs.ErrNotExist):
		s.seen[path] = nil
		return nil, nil, nil
	case err != nil:
		return nil, nil, &ferment.Problem{File: file, Message: "cannot be read: " + reason(err)}
	case info.IsDir():
		return nil, nil, &ferment.Problem{File: file, Message: "is a folder, where a file is wanted"}
	case info.Size() > largest:
		return nil, nil, &ferment.Problem{File: file, Message: "the file is larger than 1 MiB, some ten thousand entries (move old text elsewhere)"}
	}
	data, err = os.ReadFile(path)
	if err != nil {
		return nil, nil, &ferment.Problem{File: file, Message: "cannot be read: " + reason(err)}
	}
	return data, info, nil
}

func reason(err error) string {
	var at *fs.PathError
	if errors.As(err, &at) {
		return at.Err.Error()
	}
	return err.Error()
}

// recall reads a file of one noun, or remembers it where it has not changed.
// A file that was good and is not any more is looked at again after a moment:
// an editor may be writing it. If it stays broken, what it said last stays,
// with the new problems.
func recall[T any](s *Store, file string, zone *time.Location, read func(string, []byte, *time.Location) (Reading[T], map[string]ferment.Problem)) (reading Reading[T], places map[string]ferment.Problem, exists bool) {
	data, info, problem := s.data(file)
	had, known := s.memory[file]
	if problem != nil {
		return Reading[T]{Problems: []ferment.Problem{*problem}}, nil, true
	}
	if info == nil {
		delete(s.memory, file)
		return reading, nil, false
	}
	if known && sameFile(had.info, info) && had.zone == zone {
		return had.reading.(Reading[T]), had.places, true
	}
	reading, places = read(file, data, zone)
	if last, good := had.reading.(Reading[T]); good && last.Readable && (!reading.Readable || empty(data)) {
		s.wait(pause)
		if data, again, problem := s.data(file); problem == nil && again != nil {
			info = again
			reading, places = read(file, data, zone)
		}
		if !reading.Readable {
			last.Problems = reading.Problems
			reading, places = last, had.places
		}
	}
	s.memory[file] = remembered{info, zone, reading, places}
	return reading, places, true
}

func empty(data []byte) bool { return strings.TrimSpace(string(data)) == "" }

// withoutPlaces is a reader of a noun whose values have no places worth
// keeping.
func withoutPlaces[T any](read func(string, []byte, *time.Location) Reading[T]) func(string, []byte, *time.Location) (Reading[T], map[string]ferment.Problem) {
	return func(file string, data []byte, zone *time.Location) (Reading[T], map[string]ferment.Problem) {
		return read(file, data, zone), nil
	}
}
