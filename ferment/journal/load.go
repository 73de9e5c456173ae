package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"cellar/jugkeeper/ferment"
)

// took adds the problems of a file to a cellar, and returns the reading.
func took[T any](c *ferment.Cellar, r Reading[T]) Reading[T] {
	c.Problems, c.Remarks = append(c.Problems, r.Problems...), append(c.Remarks, r.Remarks...)
	return r
}

// stamp changes whenever a file does.
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
		readings[i] = recall(s, files[i], c.Settings.Zone, ReadFerment)
		s.plans.Named(readings[i].Value.Protocol) // its protocol is needed next, so read it while others are read
	})
	c.Ferments = make([]ferment.Ferment, 0, len(files))
	for _, r := range readings { // the reading of a file that is gone is empty
		if took(c, r).Readable {
			c.Ferments = append(c.Ferments, r.Value)
		}
	}
	return nil
}

// yamlFiles returns the files of a folder to read, by name. Similar names, such as a conflict copy, get a remark;
// backups and swap files do not.
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
		ending := path.Ext(e.Name())
		stem := strings.TrimSuffix(e.Name(), ending)
		ours := folder != "" || slices.Contains([]string{settingsFile, honeyFile, culturesFile}, stem+".yaml")
		why := ""
		switch lower := strings.ToLower(ending); {
		case e.IsDir(), strings.HasPrefix(e.Name(), "."), lower != ".yaml" && lower != ".yml":
			continue
		case ours && ending != ".yaml" && ferment.LegalName(stem):
			why = "the ending is .yaml (rename it to " + stem + ".yaml)"
		case folder != "" && !ferment.LegalName(stem):
			why = "a name is at most 64 letters, digits, _ and, not first, - (a copy? give it a name of its own, e.g. bh-a.yaml)"
		case !ours:
			why = "ferments are in ferments/, plans in protocols/ (a copy? compare it, and remove it)"
		}
		if why == "" {
			files = append(files, path.Join(folder, e.Name()))
		} else {
			remarks = append(remarks, ferment.Problem{File: ferment.Harmless(path.Join(folder, e.Name())), Message: "is not read: " + why})
		}
	}
	slices.Sort(files)
	return files, remarks, nil
}

func nameOf(file string) string { return strings.TrimSuffix(path.Base(file), ".yaml") }

type scope int

const (
	named scope = iota // those that ferments and cultures name
	all
)

// loadProtocols reads the person's protocols, each in place of a built-in one with its name, even if broken.
func (s *Store) loadProtocols(c *ferment.Cellar, which scope) {
	own, remarks, err := s.yamlFiles("protocols")
	if err != nil {
		c.Problems = append(c.Problems, ferment.Problem{File: "protocols", Message: err.Error()})
	}
	c.Remarks = append(c.Remarks, remarks...)
	c.Protocols = maps.Clone(s.plans)
	names := namesOf(*c)
	for _, file := range own {
		name := nameOf(file)
		delete(c.Protocols, name)
		if which == named && !slices.Contains(names, name) {
			continue
		}
		r := took(c, recall(s, file, c.Settings.Zone, func(file string, data []byte, _ *time.Location) Reading[ferment.Protocol] {
			p, problems := ReadProtocol(file, data)
			p.Name = name
			return Reading[ferment.Protocol]{Value: p, Readable: len(p.Steps) > 0, Problems: problems}
		}))
		c.Stamp = c.Stamp*31 + s.stamp(file)
		if r.Readable {
			c.Protocols[name] = func() ferment.Protocol { return r.Value }
		}
	}
}

// Protocols reads every protocol. Check reports their problems.
func (s *Store) Protocols() ferment.Plans {
	s.mu.Lock()
	defer s.mu.Unlock()
	defer s.unseen()()
	c := ferment.Cellar{Settings: ferment.Settings{Zone: s.ownZone()}}
	s.loadProtocols(&c, all)
	return c.Protocols
}

// unseen makes the files that are read until end count as not seen, so that Changed and Load still notice their
// changes.
func (s *Store) unseen() (end func()) {
	seen := s.seen
	s.seen = map[string]fs.FileInfo{}
	return func() { s.seen = seen }
}

// namesOf returns the protocols named by ferments and cultures, and those of all endings.
func namesOf(c ferment.Cellar) []string {
	var names []string
	for _, f := range c.Ferments {
		names = append(names, f.Protocol)
		endings := f.Endings
		if f.Undecided() || slices.ContainsFunc(f.Log, func(e ferment.Entry) bool { return e.Did == ferment.Choose }) {
			endings = ferment.Endings()
		}
		names = append(names, ferment.Texts(endings)...)
	}
	return append(names, ferment.Map(c.Cultures, func(k ferment.Culture) string { return k.Protocol })...)
}

// Plans returns the built-in protocols, by the contents of their files.
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

// loadParents reads the closed ferments that an open one was racked off or took in, and no other.
func (s *Store) loadParents(c *ferment.Cellar) {
	known := map[string]bool{}
	for _, f := range c.Ferments {
		known[f.ID] = true
	}
	for children := c.Ferments; len(children) > 0; {
		from := len(c.Parents)
		for _, f := range children {
			poured := ferment.Where(f.Log, func(e ferment.Entry) bool { return f.Pours(&e) })
			for _, name := range append(ferment.Map(poured, func(e ferment.Entry) string { return e.Of }), f.From.Ferment) {
				if known[name] || !ferment.LegalName(name) {
					continue
				}
				known[name] = true
				if r := took(c, recall(s, pastFile(name), c.Settings.Zone, ReadFerment)); r.Readable {
					c.Parents = append(c.Parents, r.Value)
				}
			}
		}
		children = c.Parents[from:]
	}
}

// closedToo returns the closed ferments that are not also open, and a problem for each that is, for example because an
// editor saved it again; it counts once, as the open one.
func closedToo(open, past []ferment.Ferment) (rest []ferment.Ferment, problems []ferment.Problem) {
	for _, f := range past {
		at := slices.IndexFunc(open, func(o ferment.Ferment) bool { return sameFerment(o, f) })
		if at < 0 {
			rest = append(rest, f)
			continue
		}
		problems = append(problems, ferment.Problem{File: open[at].File,
			Message: "is closed too, as " + f.File + ", and counts once (remove one of the two; another ferment needs a name and a pitch of its own)"})
	}
	return rest, problems
}

// sameFerment reports whether two files are of the same ferment: by file name, or by name, tag and pitch.
func sameFerment(a, b ferment.Ferment) bool {
	pitched := func(f ferment.Ferment) int {
		return slices.IndexFunc(f.Log, func(e ferment.Entry) bool { return e.Did == ferment.Pitch })
	}
	at, other := pitched(a), pitched(b)
	return strings.EqualFold(a.ID, b.ID) ||
		a.Name+a.Tag != "" && a.Name == b.Name && a.Tag == b.Tag && at >= 0 && other >= 0 && sameEntry(a.Log[at], b.Log[other])
}

// readPast reads the closed ferments that are not also open, by file name, with their problems.
func (s *Store) readPast(c *ferment.Cellar) error {
	files, remarks, err := s.yamlFiles("ferments/past")
	c.Remarks = append(c.Remarks, remarks...)
	for _, file := range files {
		r := recall(s, file, c.Settings.Zone, ReadFerment)
		if r.Readable {
			c.Past = append(c.Past, r.Value)
		}
		if !slices.ContainsFunc(c.Parents, func(f ferment.Ferment) bool { return f.File == file }) {
			took(c, r)
		}
	}
	var twice []ferment.Problem
	c.Past, twice = closedToo(c.Ferments, c.Past)
	c.Problems = append(c.Problems, twice...)
	return err
}

// PastNames returns the file names of closed ferments.
func (s *Store) PastNames() ([]string, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	files, err := s.pastFiles(time.Time{})
	return ferment.Map(files, nameOf), err
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

// OfPast returns what was worked out of each closed ferment that is not also open, in JSON: as kept beside the record,
// or worked out again where its file, the settings, the lots or the cultures have another stamp. What is kept may be
// deleted at any time.
func (s *Store) OfPast(workOut func(ferment.Ferment) any) []json.RawMessage {
	s.mu.Lock()
	defer s.mu.Unlock()
	files, _ := s.pastFiles(time.Time{}) // check tells of what cannot be read
	path := filepath.Join(s.StateDir(), "experience.json")
	stamp := func(file string) string {
		info, err := os.Stat(s.path(file))
		if err != nil {
			return ""
		}
		return fmt.Sprintln(file, info.Size(), info.ModTime().UnixNano())
	}
	shared := "3\n" + stamp(settingsFile) + stamp(honeyFile) + stamp(culturesFile) // 3 is the format of what is kept
	had := map[string]json.RawMessage{}
	if data, err := ReadSmall(path); err == nil {
		_ = json.Unmarshal(data, &had) // else all of it is worked out
	}
	is, keys, zone := make([]json.RawMessage, len(files)), make([]string, len(files)), s.ownZone()
	ferment.Each(len(files), func(i int) {
		keys[i] = fmt.Sprintf("%016x", stampOf([]byte(shared+stamp(files[i]))))
		if is[i] = had[keys[i]]; is[i] == nil {
			r := recall(s, files[i], zone, ReadFerment)
			if rest, _ := closedToo(s.open, []ferment.Ferment{r.Value}); r.Readable && len(rest) > 0 {
				is[i], _ = json.Marshal(workOut(r.Value))
			}
		}
	})
	now := map[string]json.RawMessage{}
	for i, one := range is {
		if one != nil {
			now[keys[i]] = one
		}
	}
	data, err := json.Marshal(now)
	same := maps.EqualFunc(now, had, func(a, b json.RawMessage) bool { return bytes.Equal(a, b) })
	if same || s.StateDir() == "" || err != nil || os.MkdirAll(s.StateDir(), 0o777) != nil {
		return is
	}
	if temp, err := writeTemp(s.StateDir(), data, 0o600, ""); err == nil { // else it is worked out again
		_ = os.Rename(temp, path)
	}
	return is
}

// Past reads the closed ferments that are not also open, if they changed, with problems.
func (s *Store) Past(now time.Time) ([]ferment.Ferment, []ferment.Problem, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if _, err := s.pastFiles(now); err != nil {
		return nil, nil, err
	}
	c := ferment.Cellar{Ferments: s.open, Settings: ferment.Settings{Zone: s.ownZone()}}
	err := s.readPast(&c)
	return c.Past, c.Problems, err
}

// LoadPast reads one closed ferment by its file name.
func (s *Store) LoadPast(name string) (ferment.Ferment, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	files, err := s.pastFiles(time.Time{})
	if err != nil {
		return ferment.Ferment{}, err
	}
	at := slices.IndexFunc(files, func(file string) bool { return strings.EqualFold(nameOf(file), name) })
	if at < 0 {
		return ferment.Ferment{}, &ferment.UnknownFerment{Name: name}
	}
	r := recall(s, files[at], s.ownZone(), ReadFerment)
	if !r.Readable {
		return r.Value, &ProblemError{r.Problems}
	}
	return r.Value, nil
}

// ProblemError is the error for a requested file that has problems.
type ProblemError struct{ Problems []ferment.Problem }

func (e *ProblemError) Error() string { return e.Problems[0].String() }
