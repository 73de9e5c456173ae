// Package journal is the cellar's files: it reads them strictly, adds to them
// by inserting text, and keeps them whole. Every byte that it did not add
// stays as the person left it.
//
// A file is walked as a tree of YAML nodes by tables of fields, one table a
// noun. What cannot be read becomes a ferment.Problem with its place, never an
// error that hides the rest.
package journal

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// Newest is the newest format of the files that this program reads.
const Newest = 1

// Reading is what a file says.
type Reading[T any] struct {
	Value    T
	Readable bool // false where a problem costs the whole file
	Problems []ferment.Problem
	Remarks  []ferment.Problem
}

// Store is a cellar's folder. It remembers what it has read: a file that has
// not changed is not read again. It may be used from several goroutines.
type Store struct {
	mu      sync.Mutex
	dir     string
	zone    *time.Location
	state   string // the folder of the record, where there is to be one
	records bool   // there is to be a record
	wait    func(time.Duration)

	seen    map[string]fs.FileInfo // of every file and folder, as it was at the last Load
	memory  map[string]remembered
	known   sync.Mutex    // of seen and memory, while files are read
	plans   ferment.Plans // the built-in protocols
	cleaned bool

	units      measure.System // shown instead of those of the settings; "" for these
	held       *holding       // the lock, while it is held
	lockless   bool           // the cellar's folder takes no locks of the system
	unrecorded error          // why the last entries went to their file alone
}

// Option changes how a store works.
type Option func(*Store)

// WithState keeps a record of every entry in a folder outside the cellar, so
// that one lost to a stale editor can be offered back. Without a folder there
// is none, which is said when something is written.
func WithState(dir string) Option { return func(s *Store) { s.state, s.records = dir, true } }

// WithUnits shows everything in one system of units, whatever the settings say.
func WithUnits(units measure.System) Option { return func(s *Store) { s.units = units } }

// ErrNowhere says that the surroundings do not tell where things are kept.
var ErrNowhere = errors.New("neither HOME nor XDG_STATE_HOME is set")

// WithWait takes another way to wait for an editor that is in the middle of
// its writing.
func WithWait(wait func(time.Duration)) Option { return func(s *Store) { s.wait = wait } }

// Open is the store of a cellar's folder. The zone is the system's; the
// cellar's own goes before it. The built-in protocols are YAML by name.
func Open(dir string, zone *time.Location, builtin map[string][]byte, options ...Option) *Store {
	s := &Store{dir: dir, zone: zone, wait: time.Sleep, memory: map[string]remembered{}, plans: Plans(builtin)}
	for _, o := range options {
		o(s)
	}
	return s
}

// Dir is the cellar's folder.
func (s *Store) Dir() string { return s.dir }

// MissingError says that the cellar's folder is not there. The cellar that
// comes with it is an empty one, for the caller who can do with that.
type MissingError struct{ Dir string }

func (e *MissingError) Error() string {
	if e.Dir == "" {
		return "nothing says where the cellar is: name it with --cellar, or set HOME"
	}
	return "there is no cellar at " + e.Dir + ": make the folder, or name another with --cellar"
}

// Load reads what changed since the last time, and gives the cellar whole:
// settings, open ferments, lots, cultures, and the protocols that they name.
func (s *Store) Load(now time.Time) (ferment.Cellar, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.load(now, named)
}

// Check is Load with every file read, also closed ferments and protocols that
// nobody names, and with what only the cellar as a whole can show.
func (s *Store) Check(now time.Time) (ferment.Cellar, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	c, err := s.load(now, all)
	if err != nil {
		return c, err
	}
	s.checkPast(&c)
	s.checkAside(&c)
	s.checkWhole(&c)
	ferment.SortProblems(c.Problems)
	ferment.SortProblems(c.Remarks)
	return c, nil
}

func (s *Store) load(now time.Time, which scope) (ferment.Cellar, error) {
	s.seen = map[string]fs.FileInfo{}
	c := ferment.Cellar{Dir: s.dir, Settings: ferment.DefaultSettings(s.zone)}
	info, err := os.Stat(s.dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		s.seen[s.dir] = nil
		s.loadProtocols(&c, which)
		return c, &MissingError{s.dir}
	case err != nil:
		return c, fmt.Errorf("cannot open the cellar: %w", err)
	case !info.IsDir():
		return c, fmt.Errorf("a cellar is a folder, and %s is a file", s.dir)
	}
	s.clean(now)
	s.loadSettings(&c)
	if err := s.loadFerments(&c); err != nil {
		return c, err
	}
	s.loadParents(&c)
	s.loadLots(&c)
	s.loadCultures(&c)
	s.loadProtocols(&c, which)
	s.remarkUnrecorded(&c)
	ferment.SortProblems(c.Problems)
	ferment.SortProblems(c.Remarks)
	return c, nil
}

// Changed tells whether a file is another than at the last Load. It looks at
// sizes, times and inodes alone.
func (s *Store) Changed() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	for path, had := range s.seen {
		is, err := os.Stat(path)
		if err != nil {
			is = nil
		}
		if !sameFile(had, is) {
			return true
		}
	}
	return s.seen == nil
}

func sameFile(a, b fs.FileInfo) bool {
	if a == nil || b == nil {
		return a == nil && b == nil
	}
	return os.SameFile(a, b) && a.Size() == b.Size() && a.ModTime().Equal(b.ModTime())
}

func (s *Store) path(file string) string { return filepath.Join(s.dir, filepath.FromSlash(file)) }
