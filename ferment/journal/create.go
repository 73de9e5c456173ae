package journal

import (
	"fmt"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
)

// NameError says that a ferment cannot have a name.
type NameError struct{ Name, Why string }

func (e *NameError) Error() string { return fmt.Sprintf("%q %s", e.Name, e.Why) }

// ferments works out the files of new ferments. It never writes over one.
func (p *transaction) ferments(change ferment.Change) error {
	if len(change.Ferments) == 0 {
		return nil
	}
	c, err := p.cellar()
	if err != nil {
		return err
	}
	for _, f := range change.Ferments {
		f.File, f.Log = openFile(f.ID), inZone(f.Log, c.Settings.Zone)
		if err := p.nameable(f, c); err != nil {
			return err
		}
		text, err := NewFerment(f)
		if err != nil {
			return err
		}
		c.Ferments = append(c.Ferments, f)
		p.add(step{ferment.Receipt{Subject: f.ID, File: f.File, Made: true, Line: 1, Text: string(text), Entries: f.Log}, nil, text})
	}
	return nil
}

// cellar is the cellar as the files are now, with every protocol. Under the
// lock nothing is waited for.
func (p *transaction) cellar() (ferment.Cellar, error) {
	seen := p.store.seen
	c, err := p.store.load(time.Time{}, all)
	p.store.seen = seen // what is told of as changed is for Load to settle
	return c, err
}

// nameable tells whether a new ferment can have its name and its tag, among
// the others and those of the same change.
func (p *transaction) nameable(f ferment.Ferment, c ferment.Cellar) error {
	if !ferment.LegalName(f.ID) {
		return &NameError{f.ID, "is no name for a ferment: at most 64 letters, digits, - and _, e.g. bh-a"}
	}
	if taken := p.store.fileNamed(f.ID); taken != "" {
		return &NameError{f.ID, "has a file already: " + taken}
	}
	for _, k := range c.Cultures {
		if strings.EqualFold(k.ID, f.ID) {
			return &NameError{f.ID, "is the name of a culture"}
		}
	}
	says := []string{wideTag(f), unknownPlan(f, c.Protocols), p.store.unknownParent(f, c)}
	for _, other := range c.Ferments {
		if strings.EqualFold(f.ID, other.ID) {
			return &NameError{f.ID, "stands twice among the new ones"}
		}
		says = append(says, sharedTag(f, other), sharedTag(other, f))
	}
	for _, message := range says {
		if message != "" {
			return &ProblemError{[]ferment.Problem{{File: f.File, Message: message}}}
		}
	}
	return nil
}

// fileNamed is the file of an open or a closed ferment that answers to a name.
func (s *Store) fileNamed(name string) string {
	if open := s.named(name, "ferments"); open != "" {
		return open
	}
	return s.named(name, "ferments/past")
}
