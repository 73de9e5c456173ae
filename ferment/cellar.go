package ferment

import (
	"cmp"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
)

// Cellar is everything that was read from a cellar's folder at one moment.
type Cellar struct {
	Dir       string
	Stamp     uint64 // differs whenever settings or protocols do
	Settings  Settings
	Ferments  []Ferment // open ones that could be read, in the order of their file names
	Past      []Ferment // closed ones, where they were asked for
	Parents   []Ferment // closed ones that an open one was racked off
	Lots      []Lot
	Cultures  []Culture
	Protocols Plans // built-in ones and the person's own
	Problems  []Problem
	Remarks   []Problem
}

// OpenAndPast returns all ferments: the open ones, and the closed ones where they
// were asked for, else those that an open one was racked off.
func (c Cellar) OpenAndPast() []Ferment {
	if c.Past == nil {
		return slices.Concat(c.Ferments, c.Parents)
	}
	return slices.Concat(c.Ferments, c.Past)
}

// With returns the cellar as it will be once a change is written.
func (c Cellar) With(ch Change) Cellar {
	c.Ferments, c.Lots, c.Cultures = slices.Concat(c.Ferments, ch.Ferments), slices.Concat(c.Lots, ch.Lots), slices.Concat(c.Cultures, ch.Cultures)
	for _, u := range ch.Uses {
		for i := range c.Lots {
			if c.Lots[i].ID == u.Lot {
				c.Lots[i].Used = append(slices.Clone(c.Lots[i].Used), u.Use)
			}
		}
	}
	for _, l := range ch.Entries {
		for i := range c.Ferments {
			if c.Ferments[i].ID == l.Subject {
				c.Ferments[i].Log = slices.Concat(c.Ferments[i].Log, l.Entries)
			}
		}
		for i := range c.Cultures {
			if c.Cultures[i].ID == l.Subject {
				c.Cultures[i].Log = slices.Concat(c.Cultures[i].Log, l.Entries)
			}
		}
	}
	return c
}

// Find gives the open ferment that a name or a tag means. A name wins over a
// tag; two ferments with one tag are an error that lists both.
func (c Cellar) Find(name string) (Ferment, error) {
	for _, f := range c.Ferments {
		if strings.EqualFold(f.ID, name) {
			return f, nil
		}
	}
	var meant Ferment
	var tagged, ids, tags []string
	for _, f := range c.Ferments {
		ids, tags = append(ids, f.ID), append(tags, f.Tag)
		if f.Called(name) {
			meant, tagged = f, append(tagged, f.ID)
		}
	}
	switch len(tagged) {
	case 0:
		return Ferment{}, &UnknownFerment{Name: name, Known: ids, Also: tags}
	case 1:
		return meant, nil
	}
	return Ferment{}, &TwoTagged{Tag: name, Names: tagged}
}

// TwoTagged says that a tag does not tell which ferment is meant.
type TwoTagged struct {
	Tag   string
	Names []string
}

func (e *TwoTagged) Error() string {
	return fmt.Sprintf("the tag %q is on %s: use the name of the file", e.Tag, strings.Join(e.Names, " and "))
}

// UnknownFerment says that no open ferment answers to a name.
type UnknownFerment struct {
	Name  string
	Known []string
	Also  []string // the tags, and what else could be meant
}

func (e *UnknownFerment) Error() string {
	if len(e.Known) == 0 {
		return fmt.Sprintf("no ferment is called %q: this cellar has none yet (jugkeeper new %s makes one)", e.Name, e.Name)
	}
	if near := DidYouMean(e.Name, slices.Concat(e.Known, e.Also)); near != "" {
		return fmt.Sprintf("no ferment is called %q%s", e.Name, near)
	}
	return fmt.Sprintf("no ferment is called %q%s", e.Name, Meant(e.Name, e.Known))
}

// Plans are protocols by name, each read when it is first asked for.
type Plans map[string]func() Protocol

// Named returns the protocol of a name, if there is one.
func (p Plans) Named(name string) (Protocol, bool) {
	read, ok := p[name]
	if !ok {
		return Protocol{}, false
	}
	return read(), true
}

// Problem is something in a file that could not be read, or a remark on what
// looks unlikely. Its place is exact: line and column count from 1, a column
// of 0 means the whole line, a line of 0 the whole file.
type Problem struct {
	File    string // path in the cellar, with slashes
	Line    int
	Column  int
	Message string // what is wrong there, and a right example
	Text    string // the line's text, made harmless
	Near    bool   // the line is a guess of the YAML reader
}

func (p Problem) String() string {
	switch {
	case p.Line == 0:
		return fmt.Sprintf("%s: %s", p.File, p.Message)
	case p.Near:
		return fmt.Sprintf("%s: near line %d: %s", p.File, p.Line, p.Message)
	case p.Column == 0:
		return fmt.Sprintf("%s:%d: %s", p.File, p.Line, p.Message)
	}
	return fmt.Sprintf("%s:%d:%d: %s", p.File, p.Line, p.Column, p.Message)
}

// SortProblems puts problems in the order of their places.
func SortProblems(ps []Problem) {
	slices.SortStableFunc(ps, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
}

// Receipt says what a write did to one file, to take it back while the file is as it was left.
type Receipt struct {
	Subject string // the ferment, culture or lot written to
	File    string // path in the cellar
	Made    bool   // the file is a new one, and Text the whole of it
	Moved   string // where the file went, Text being the whole of it; empty for one that stayed
	Line    int    // of the first entry written
	Offset  int64  // of the first byte put in
	Text    string // the bytes put in
	Removed string // the bytes that stood there before and were replaced

	// What the bytes say: entries, or else one of the others.
	Entries  []Entry
	Lots     []Lot
	Uses     []Use
	Cultures []Culture
	Notes    []string // the ids of the entries in the record outside the cellar
	Stood    bool     // the entries stood there already, to the letter: nothing was written
	Alone    string   // why no record outside the cellar was kept of them; empty where one was
}

// Change is everything that one act writes: new ferments, new lots and cultures,
// honey used elsewhere, entries, and what closes. It is written in this order.
type Change struct {
	Ferments []Ferment // new ones, a file each, by ID
	Lots     []Lot     // appended to honey.yaml
	Uses     []LotUse  // appended to the lot's used list
	Cultures []Culture // appended to cultures.yaml
	Entries  []Logged
	Closes   []string // ferments whose files move to past
}

// LotUse is honey of one lot that went elsewhere than into a ferment.
type LotUse struct {
	Lot string // its id
	Use Use
}

// Logged are entries for the log of one ferment or culture.
type Logged struct {
	Subject string
	Entries []Entry
}

// Lost is an entry that was given to the program and stands in no file any more.
type Lost struct {
	Subject string // the ferment or culture that it belongs to
	File    string
	Entry   Entry
	Text    string // the entry as the record keeps it, made harmless
}

// Each does something for every number below n, several at once, one not touching what another does.
// A panic in one comes out of Each.
func Each(n int, do func(i int)) {
	var workers sync.WaitGroup
	var taken atomic.Int64
	var trouble atomic.Pointer[any]
	for range min(n, runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			defer func() {
				if what := recover(); what != nil {
					trouble.Store(&what)
				}
			}()
			for i := int(taken.Add(1)); i <= n && trouble.Load() == nil; i = int(taken.Add(1)) {
				do(i - 1)
			}
		})
	}
	workers.Wait()
	if what := trouble.Load(); what != nil {
		panic(*what)
	}
}
