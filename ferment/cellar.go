package ferment

import (
	"cmp"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"time"
)

// Cellar is everything in a cellar's folder, as read at one moment.
type Cellar struct {
	Dir       string
	Stamp     uint64 // changes whenever settings or protocols do
	Settings  Settings
	Ferments  []Ferment // open ones that could be read, by file name
	Past      []Ferment // closed ones, if they were loaded
	Parents   []Ferment // closed ones from which an open one was racked off, or took some in
	Lots      []Lot
	Cultures  []Culture
	Protocols Plans // built-in ones and the person's own
	Problems  []Problem
	Remarks   []Problem
}

// OpenAndPast returns all ferments: the open ones, and all closed ones if they were loaded, else those from which an
// open one was racked off.
func (c Cellar) OpenAndPast() []Ferment {
	if c.Past == nil {
		return slices.Concat(c.Ferments, c.Parents)
	}
	return slices.Concat(c.Ferments, c.Past)
}

// With returns the cellar after a change.
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

// Find returns the open ferment with a name or a tag. A name takes precedence; two ferments with the same tag are an
// error that lists both.
func (c Cellar) Find(name string) (Ferment, error) {
	if f, is := FirstWhere(c.Ferments, func(f Ferment) bool { return strings.EqualFold(f.ID, name) }); is {
		return f, nil
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

// TwoTagged is the error for a tag that two ferments have.
type TwoTagged struct {
	Tag   string
	Names []string
}

func (e *TwoTagged) Error() string {
	return fmt.Sprintf("the tag %q is on %s: use the name of the file", e.Tag, strings.Join(e.Names, " and "))
}

// UnknownFerment is the error for a name that no open ferment has.
type UnknownFerment struct {
	Name  string
	Known []string
	Also  []string // the tags, and similar names
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

// Plans are protocols by name, each read when it is first needed.
type Plans map[string]func() Protocol

// Named returns the protocol of a name, if there is one.
func (p Plans) Named(name string) (Protocol, bool) {
	read, ok := p[name]
	if !ok {
		return Protocol{}, false
	}
	return read(), true
}

// Problem is something in a file that could not be read, or that looks unlikely. Line and column count from 1; column 0
// means the whole line, line 0 the whole file.
type Problem struct {
	File    string // path in the cellar, with slashes
	Line    int
	Column  int
	Message string // what is wrong there, and a right example
	Text    string // the text of the line, escaped
	Near    bool   // the line is a guess of the YAML parser
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

// Receipt is what a write did to one file, so that it can be undone while the file is unchanged.
type Receipt struct {
	Subject string // the ferment, culture or lot written to
	File    string // path in the cellar
	Made    bool   // the file is new, and Text all of it
	Moved   string // new place of a file, Text being all of it; empty for a file that stayed
	Line    int    // of the first entry written
	Offset  int64  // of the first byte inserted
	Text    string // the bytes inserted
	Removed string // the bytes that they replaced

	// What the bytes are: entries, or else one of the others.
	Entries  []Entry
	Lots     []Lot
	Uses     []Use
	Cultures []Culture
	Notes    []string // the ids of the entries in the record outside the cellar
	Stood    bool     // the entries stood there already, to the letter: nothing was written
	Struck   bool     // the entry was taken out: Removed, at Offset
	Instead  []Entry  // what is there instead of the one taken out; none where nothing is
	Alone    string   // why no record outside the cellar was kept of them; empty where one was
}

// Written is what one act wrote, and when.
type Written struct {
	At       time.Time
	Receipts []Receipt
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

// LotUse is honey of one lot that was used outside of ferments.
type LotUse struct {
	Lot string // its id
	Use Use
}

// Logged are entries for the log of one ferment or culture.
type Logged struct {
	Subject string
	Entries []Entry
}

// Lost is an entry that was given to the program and is in no file any more.
type Lost struct {
	Subject string // the ferment or culture that it belongs to
	File    string
	Entry   Entry
	Text    string // the entry as in the record, escaped
}

// Each calls do for every number below n, several at once; the calls must be independent. A panic in one of them is
// raised by Each.
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
