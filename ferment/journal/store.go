package journal

import (
	"time"

	"cellar/jugkeeper/ferment"
)

// Store is a cellar's folder.
type Store struct{ dir string }

// Option changes how a store works.
type Option func(*Store)

// WithState keeps a record of every entry in a folder outside the cellar, so
// that one lost to a stale editor can be offered back.
func WithState(dir string) Option { return func(*Store) {} }

// Open is the store of a cellar's folder. The zone is the system's; the
// cellar's own goes before it. The built-in protocols are YAML by name.
func Open(dir string, zone *time.Location, builtin map[string][]byte, options ...Option) *Store {
	return &Store{dir: dir}
}

// MissingError says that the cellar's folder is not there. The cellar that
// comes with it is an empty one, for the caller who can do with that.
type MissingError struct{ Dir string }

func (e *MissingError) Error() string { return "there is no cellar in " + e.Dir }

// Load reads what changed since the last time, and gives the cellar whole.
func (s *Store) Load(now time.Time) (ferment.Cellar, error) { return ferment.Cellar{}, nil }

// Check is Load with every file read, also closed ferments and protocols that
// no ferment names.
func (s *Store) Check(now time.Time) (ferment.Cellar, error) { return ferment.Cellar{}, nil }

// Changed tells whether a file is another than at the last Load.
func (s *Store) Changed() bool { return true }

// Append puts entries into the log of a ferment or a culture, in one write.
func (s *Store) Append(subject string, entries []ferment.Entry) (ferment.Receipt, error) {
	return ferment.Receipt{}, nil
}

// Undo takes out what a write put in, while those bytes still stand.
func (s *Store) Undo(r ferment.Receipt) error { return nil }

// Create writes the file of a new ferment; it never writes over one.
func (s *Store) Create(name string, text []byte) error { return nil }

// Protocol is the person's own protocol of that name, else the built-in one.
func (s *Store) Protocol(name string) (ferment.Protocol, []ferment.Problem) {
	return ferment.Protocol{}, nil
}

// Past lists the names of the closed ferments.
func (s *Store) Past() ([]string, error) { return nil, nil }

// LoadPast reads one closed ferment.
func (s *Store) LoadPast(name string) (ferment.Ferment, error) { return ferment.Ferment{}, nil }

// Lost is an entry that was given to the program and stands in no file.
type Lost struct {
	Subject string
	File    string
	Entry   ferment.Entry
	id      string
}

// Lost lists entries that an edit from outside lost, or that could not be
// written while a file was broken.
func (s *Store) Lost() ([]Lost, error) { return nil, nil }

// Restore puts a lost entry back.
func (s *Store) Restore(l Lost) (ferment.Receipt, error) { return ferment.Receipt{}, nil }

// Dismiss never offers a lost entry again.
func (s *Store) Dismiss(l Lost) error { return nil }
