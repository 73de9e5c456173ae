package ferment

import (
	"fmt"
	"slices"
	"strings"
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

// OpenAndPast are all ferments: the open ones, and the closed ones where they
// were asked for, else those that an open one was racked off.
func (c Cellar) OpenAndPast() []Ferment {
	if c.Past == nil {
		return slices.Concat(c.Ferments, c.Parents)
	}
	return slices.Concat(c.Ferments, c.Past)
}

// Find gives the open ferment that a name or a tag means. A name wins over a
// tag; two ferments with one tag are an error that lists both.
func (c Cellar) Find(name string) (Ferment, error) {
	for _, f := range c.Ferments {
		if strings.EqualFold(f.ID, name) {
			return f, nil
		}
	}
	var tagged []Ferment
	for _, f := range c.Ferments {
		if f.Called(name) {
			tagged = append(tagged, f)
		}
	}
	switch len(tagged) {
	case 0:
		return Ferment{}, &UnknownFerment{Name: name, Known: c.names(), Also: c.tags()}
	case 1:
		return tagged[0], nil
	}
	ids := make([]string, len(tagged))
	for i, f := range tagged {
		ids[i] = f.ID
	}
	return Ferment{}, &TwoTagged{Tag: name, Names: ids}
}

func (c Cellar) names() []string {
	names := make([]string, len(c.Ferments))
	for i, f := range c.Ferments {
		names[i] = f.ID
	}
	return names
}

func (c Cellar) tags() []string {
	tags := make([]string, len(c.Ferments))
	for i, f := range c.Ferments {
		tags[i] = f.Tag
	}
	return tags
}

// TwoTagged says that a tag does not tell which ferment is meant.
type TwoTagged struct {
	Tag   string
	Names []string
}

func (e *TwoTagged) Error() string {
	return fmt.Sprintf("the tag %q stands on %s: use the name of the file", e.Tag, strings.Join(e.Names, " and "))
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
