package journal

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"slices"
	"strings"
	"sync"
	"time"

	"cellar/jugkeeper/ferment"
)

func (s *Store) loadSettings(c *ferment.Cellar) {
	r, _, exists := recall(s, "cellar.yaml", s.zone, withoutPlaces(ReadSettings))
	if !exists {
		return
	}
	if r.Readable {
		c.Settings = r.Value
		c.Settings.Units = cmp.Or(s.units, c.Settings.Units)
	}
	c.Problems, c.Remarks = append(c.Problems, r.Problems...), append(c.Remarks, r.Remarks...)
	c.Stamp = s.stamp("cellar.yaml")
}

// stamp differs whenever a file does.
func (s *Store) stamp(file string) uint64 {
	info := s.memory[file].info
	if info == nil {
		return 0
	}
	return uint64(info.ModTime().UnixNano())*31 + uint64(info.Size())
}

func (s *Store) loadFerments(c *ferment.Cellar) error {
	files, remarks, err := s.yamlFiles("ferments")
	if err != nil {
		return err
	}
	c.Remarks = append(c.Remarks, remarks...)
	readings := make([]Reading[ferment.Ferment], len(files))
	ferment.Each(len(files), func(i int) {
		readings[i], _, _ = recall(s, files[i], c.Settings.Zone, readFerment)
		s.plans.Named(readings[i].Value.Protocol) // it will be asked for: read it while others read
	})
	for _, r := range readings { // one of a file that has gone meanwhile is empty
		if r.Readable {
			c.Ferments = append(c.Ferments, r.Value)
		}
		c.Problems, c.Remarks = append(c.Problems, r.Problems...), append(c.Remarks, r.Remarks...)
	}
	return nil
}

// yamlFiles are the files of a folder of the cellar that may be read, by name.
// One whose stem is no legal name is told of and left alone: a backup, or what
// a sync program left of a conflict.
func (s *Store) yamlFiles(folder string) (files []string, remarks []ferment.Problem, err error) {
	dir := s.path(folder)
	info, _ := os.Stat(dir)
	s.seen[dir] = info
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil, nil
	}
	if err != nil {
		return nil, nil, fmt.Errorf("cannot read the folder %s: %s", dir, reason(err))
	}
	for _, e := range entries {
		stem, isYAML := strings.CutSuffix(e.Name(), ".yaml")
		file := path.Join(folder, e.Name())
		switch {
		case !isYAML || e.IsDir() || strings.HasPrefix(e.Name(), "."):
		case !ferment.LegalName(stem):
			remarks = append(remarks, ferment.Problem{File: ferment.Harmless(file),
				Message: "is not read: a name is at most 64 letters, digits, - and _ (a copy? give it a name of its own, e.g. bh-a.yaml)"})
		default:
			files = append(files, file)
		}
	}
	slices.Sort(files)
	return files, remarks, nil
}

func (s *Store) loadLots(c *ferment.Cellar) {
	r, _, _ := recall(s, "honey.yaml", c.Settings.Zone, withoutPlaces(ReadLots))
	c.Lots = r.Value
	c.Problems, c.Remarks = append(c.Problems, r.Problems...), append(c.Remarks, r.Remarks...)
}

func (s *Store) loadCultures(c *ferment.Cellar) {
	r, _, _ := recall(s, "cultures.yaml", c.Settings.Zone, withoutPlaces(ReadCultures))
	c.Cultures = r.Value
	c.Problems, c.Remarks = append(c.Problems, r.Problems...), append(c.Remarks, r.Remarks...)
}

// scope is which protocols are wanted.
type scope int

const (
	named scope = iota // those that something names
	all
)

// loadProtocols reads the person's own protocols, those that are wanted, and
// puts them before the built-in ones of their names.
func (s *Store) loadProtocols(c *ferment.Cellar, which scope) {
	own, remarks, err := s.yamlFiles("protocols")
	if err != nil {
		c.Problems = append(c.Problems, ferment.Problem{File: "protocols", Message: err.Error()})
	}
	c.Remarks = append(c.Remarks, remarks...)
	wanted := func(string) bool { return true }
	if which == named {
		names := namesOf(*c)
		wanted = func(name string) bool { return slices.Contains(names, name) }
	}
	c.Protocols = maps.Clone(s.plans)
	for _, file := range own {
		name := strings.TrimSuffix(path.Base(file), ".yaml")
		delete(c.Protocols, name) // a person's own takes the place of the built-in one, even while it is broken
		if !wanted(name) {
			continue
		}
		r, _, exists := recall(s, file, c.Settings.Zone, readPlanFile)
		if !exists {
			continue
		}
		c.Problems = append(c.Problems, r.Problems...)
		c.Stamp = c.Stamp*31 + s.stamp(file)
		if r.Readable {
			c.Protocols[name] = func() ferment.Protocol { return r.Value }
		}
	}
}

// Protocols reads every protocol, the person's own before a built-in one of its
// name. What is wrong in them is for Check to tell.
func (s *Store) Protocols() ferment.Plans {
	s.mu.Lock()
	defer s.mu.Unlock()
	seen := s.seen
	c := ferment.Cellar{Settings: ferment.Settings{Zone: s.ownZone()}}
	if s.seen == nil {
		s.seen = map[string]fs.FileInfo{}
	}
	s.loadProtocols(&c, all)
	s.seen = seen
	return c.Protocols
}

// namesOf are the protocols that ferments and cultures name, and those of
// their endings: any that an undecided one may yet choose.
func namesOf(c ferment.Cellar) []string {
	var names []string
	for _, f := range c.Ferments {
		names = append(names, f.Protocol)
		for _, e := range endingsOf(f) {
			names = append(names, string(e))
		}
	}
	for _, k := range c.Cultures {
		names = append(names, k.Protocol)
	}
	return names
}

func endingsOf(f ferment.Ferment) []ferment.Ending {
	if f.Undecided() || slices.ContainsFunc(f.Log, func(e ferment.Entry) bool { return e.Did == ferment.Choose }) {
		return ferment.Endings()
	}
	return f.Endings
}

// Plans are the protocols that come with the program, by the bytes of their
// files. What is wrong in one is left out, as ReadProtocol does.
func Plans(builtin map[string][]byte) ferment.Plans {
	plans := ferment.Plans{}
	for name, text := range builtin {
		plans[name] = sync.OnceValue(func() ferment.Protocol {
			p, _ := ReadProtocol("protocols/"+name+".yaml", text)
			p.File = ""
			return p
		})
	}
	return plans
}

// readPlanFile reads a person's own protocol. Its name is that of its file.
func readPlanFile(file string, data []byte, _ *time.Location) (Reading[ferment.Protocol], map[string]ferment.Problem) {
	p, problems := ReadProtocol(file, data)
	p.Name = strings.TrimSuffix(path.Base(file), ".yaml")
	return Reading[ferment.Protocol]{Value: p, Readable: len(p.Steps) > 0, Problems: problems}, nil
}

// loadParents reads the closed ferments that an open one was racked off, and no
// other.
func (s *Store) loadParents(c *ferment.Cellar) {
	known := map[string]bool{}
	for _, f := range c.Ferments {
		known[f.ID] = true
	}
	for children := c.Ferments; len(children) > 0; {
		from := len(c.Parents)
		for _, f := range children {
			if name := f.From.Ferment; !known[name] && ferment.LegalName(name) {
				known[name] = true
				s.loadParent(c, pastFile(name))
			}
		}
		children = c.Parents[from:]
	}
}

func (s *Store) loadParent(c *ferment.Cellar, file string) {
	r, _, exists := recall(s, file, c.Settings.Zone, readFerment)
	if !exists {
		return
	}
	if r.Readable {
		c.Parents = append(c.Parents, r.Value)
	}
	c.Problems, c.Remarks = append(c.Problems, r.Problems...), append(c.Remarks, r.Remarks...)
}

// checkPast reads every closed ferment, with what is wrong in it.
func (s *Store) checkPast(c *ferment.Cellar) {
	files, remarks, err := s.yamlFiles("ferments/past")
	if err != nil {
		c.Problems = append(c.Problems, ferment.Problem{File: "ferments/past", Message: err.Error()})
	}
	c.Remarks = append(c.Remarks, remarks...)
	for _, file := range files {
		r, _, _ := recall(s, file, c.Settings.Zone, readFerment)
		if r.Readable {
			c.Past = append(c.Past, r.Value)
		}
		if slices.ContainsFunc(c.Parents, func(f ferment.Ferment) bool { return f.File == file }) {
			continue // its problems are told of with the open ferment that names it
		}
		c.Problems, c.Remarks = append(c.Problems, r.Problems...), append(c.Remarks, r.Remarks...)
	}
}

// PastNames are the closed ferments by the names of their files.
func (s *Store) PastNames() ([]string, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	files, err := s.pastFiles(time.Time{})
	names := make([]string, len(files))
	for i, file := range files {
		names[i] = strings.TrimSuffix(path.Base(file), ".yaml")
	}
	return names, err
}

func (s *Store) pastFiles(now time.Time) ([]string, error) {
	if s.seen == nil {
		if _, err := s.load(now, named); err != nil {
			return nil, err
		}
	}
	files, _, err := s.yamlFiles("ferments/past")
	return files, err
}

// Past reads every closed ferment, in the order of their file names, with what
// is wrong in them. It reads only what changed since the last time.
func (s *Store) Past(now time.Time) ([]ferment.Ferment, []ferment.Problem, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	files, err := s.pastFiles(now)
	if err != nil {
		return nil, nil, err
	}
	var past []ferment.Ferment
	var problems []ferment.Problem
	for _, file := range files {
		r, _, _ := recall(s, file, s.ownZone(), readFerment)
		if r.Readable {
			past = append(past, r.Value)
		}
		problems = append(problems, r.Problems...)
	}
	return past, problems, nil
}

// LoadPast reads one closed ferment by the name of its file.
func (s *Store) LoadPast(name string) (ferment.Ferment, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	files, err := s.pastFiles(time.Time{})
	if err != nil {
		return ferment.Ferment{}, err
	}
	for _, file := range files {
		if strings.EqualFold(strings.TrimSuffix(path.Base(file), ".yaml"), name) {
			r, _, _ := recall(s, file, s.ownZone(), readFerment)
			if !r.Readable {
				return r.Value, &ProblemError{r.Problems}
			}
			return r.Value, nil
		}
	}
	return ferment.Ferment{}, &ferment.UnknownFerment{Name: name}
}

// ProblemError says that a file that was asked for has problems.
type ProblemError struct{ Problems []ferment.Problem }

func (e *ProblemError) Error() string { return e.Problems[0].String() }
