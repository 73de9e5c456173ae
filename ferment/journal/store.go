// Package journal reads the files of a cellar strictly and writes by inserting text: every other byte stays.
//
// A file is parsed to YAML nodes, which tables of fields read, one table for each noun. What cannot be read is a
// ferment.Problem with its place.
package journal

import (
	"cmp"
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

// Newest is the newest file format that this program reads.
const Newest = 1

const (
	settingsFile = "cellar.yaml"
	honeyFile    = "honey.yaml"
	culturesFile = "cultures.yaml"
)

// Reading is the content of a file.
type Reading[T any] struct {
	Value    T
	Readable bool // false if a problem makes the whole file unreadable
	Problems []ferment.Problem
	Remarks  []ferment.Problem
	places   map[string]ferment.Problem // of values that are checked against the whole cellar
}

// Store is a cellar's folder. It caches what it has read: an unchanged file is not read again. It may be used from
// several goroutines.
type Store struct {
	mu      sync.Mutex
	dir     string
	zone    *time.Location // the system's
	state   string         // folder of the record; "" if unknown
	records bool           // a record is kept
	wait    func(time.Duration)

	known   sync.Mutex             // guards seen and memory while files are read side by side
	seen    map[string]fs.FileInfo // state of all files and folders at the last Load
	memory  map[string]remembered
	open    []ferment.Ferment // at the last Load
	plans   ferment.Plans     // the built-in protocols
	cleaned bool              // old temporary files were removed

	units      measure.System // overrides the settings, if not ""
	looks      string         // the file of the terminal's own looks; "" for none
	theme      string         // shown instead of that of the settings, if not ""
	chart      string         // the same for the chart, unless the looks have one
	held       *holding       // the lock, while it is held
	lockless   bool           // the cellar's folder does not support the system's locks
	unrecorded error          // why the last entries are in their file alone

	written []ferment.Written // by this run
	alone   bool              // the state folder does not take them
}

// Option changes how a store works.
type Option func(*Store)

// WithState keeps a record of every entry in a folder outside the cellar, so that lost ones can be offered. Without a
// folder there is no record, which is reported when something is written.
func WithState(dir string) Option { return func(s *Store) { s.state, s.records = dir, true } }

// WithUnits shows everything in one system of units, overriding the settings.
func WithUnits(units measure.System) Option { return func(s *Store) { s.units = units } }

// WithLooks lets a file outside the cellar set theme, chart and mouse. A theme goes before it, a chart behind it.
func WithLooks(file, theme, chart string) Option {
	return func(s *Store) { s.looks, s.theme, s.chart = file, theme, chart }
}

// ErrNowhere says that the environment has no folder for the record.
var ErrNowhere = errors.New("neither HOME nor XDG_STATE_HOME is set")

// Open returns the store of a cellar's folder. zone is the system's, for a cellar that sets none; builtin has the YAML
// of built-in protocols by name.
func Open(dir string, zone *time.Location, builtin map[string][]byte, options ...Option) *Store {
	s := &Store{dir: dir, zone: zone, wait: time.Sleep, memory: map[string]remembered{}, plans: Plans(builtin)}
	for _, o := range options {
		o(s)
	}
	return s
}

// Dir returns the cellar's folder.
func (s *Store) Dir() string { return s.dir }

// MissingError is the error for a missing folder. Load returns an empty cellar with it.
type MissingError struct{ Dir string }

func (e *MissingError) Error() string {
	if e.Dir == "" {
		return "nothing says where the cellar is: name it with --cellar, or set HOME"
	}
	return "there is no cellar at " + e.Dir + ": make the folder, or name another with --cellar"
}

// Load reads what changed since the last time and returns the whole cellar:
// settings, open ferments, lots, cultures, and the protocols that they name.
func (s *Store) Load(now time.Time) (ferment.Cellar, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.load(now, named)
}

// Check is like Load, but reads every file and adds problems between files.
func (s *Store) Check(now time.Time) (ferment.Cellar, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	c, err := s.load(now, all)
	if err != nil {
		return c, err
	}
	if err := s.readPast(&c); err != nil {
		c.Problems = append(c.Problems, ferment.Problem{File: "ferments/past", Message: err.Error()})
	}
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
		s.readLooks(&c)
		s.loadProtocols(&c, which)
		return c, &MissingError{s.dir}
	case err != nil:
		return c, fmt.Errorf("cannot open the cellar: %w", err)
	case !info.IsDir():
		return c, fmt.Errorf("a cellar is a folder, and %s is a file", s.dir)
	}
	s.clean(now)
	if _, stray, err := s.yamlFiles(""); err == nil {
		c.Remarks = append(c.Remarks, stray...)
	}
	if r := took(&c, recall(s, settingsFile, s.zone, ReadSettings)); r.Readable {
		c.Settings = r.Value
		c.Settings.Units = cmp.Or(s.units, c.Settings.Units)
	} else {
		c.Settings.Unread = len(r.Problems) > 0
	}
	s.readLooks(&c)
	c.Stamp = s.stamp(settingsFile)
	if err := s.loadFerments(&c); err != nil {
		return c, err
	}
	s.open = c.Ferments
	s.loadParents(&c)
	c.Lots = took(&c, recall(s, honeyFile, c.Settings.Zone, ReadLots)).Value
	c.Cultures = took(&c, recall(s, culturesFile, c.Settings.Zone, ReadCultures)).Value
	s.loadProtocols(&c, which)
	if s.unrecorded != nil {
		c.Remarks = append(c.Remarks, ferment.Problem{File: ferment.Harmless(s.recordPath()),
			Message: "entries go to their files alone, as the record of them cannot be kept: " + reason(s.unrecorded)})
	}
	ferment.SortProblems(c.Problems)
	ferment.SortProblems(c.Remarks)
	return c, nil
}

// readLooks reads the appearance for this machine over that of the cellar.
func (s *Store) readLooks(c *ferment.Cellar) {
	c.Settings.Chart = cmp.Or(s.chart, c.Settings.Chart)
	if data, err := ReadSmall(s.looks); err == nil {
		c.Settings = took(c, readOver(newReader(s.looks, data, s.zone), looksTable, c.Settings)).Value
	}
	c.Settings.Theme = cmp.Or(s.theme, c.Settings.Theme)
}

// Changed reports whether a file changed since the last Load, by size, time and inode.
func (s *Store) Changed() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	for path, had := range s.seen {
		if is, _ := os.Stat(path); !sameFile(had, is) {
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
