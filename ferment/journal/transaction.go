package journal

import (
	"errors"
	"io/fs"

	"cellar/jugkeeper/ferment"
)

// A transaction works out what a change makes of the files before any is written.
type transaction struct {
	store *Store
	texts map[string][]byte // of the files that change, as they are to be
	steps []step
}

// A step is one write, with the receipt for it.
type step struct {
	receipt   ferment.Receipt
	was, text []byte
}

func (p *transaction) work(change ferment.Change) error {
	works := []func() error{
		func() error { return p.ferments(change) },
		func() error { return p.lots(change.Lots) },
		func() error { return p.uses(change.Uses) },
		func() error { return p.cultures(change.Cultures) },
		func() error { return p.entries(change.Entries) },
		func() error { return p.closes(change.Closes) },
	}
	for _, work := range works {
		if err := work(); err != nil {
			return err
		}
	}
	return nil
}

func (p *transaction) lots(lots []ferment.Lot) error {
	if len(lots) == 0 {
		return nil
	}
	return p.put(honeyLots, itemsFrom(lots, lotItem), ferment.Receipt{Subject: lots[0].ID, File: honeyFile, Lots: lots})
}

func (p *transaction) uses(uses []ferment.LotUse) error {
	for _, u := range uses {
		one := []ferment.Use{u.Use}
		if err := p.put(usesOf(u.Lot), itemsFrom(one, useItem), ferment.Receipt{Subject: u.Lot, File: honeyFile, Uses: one}); err != nil {
			return err
		}
	}
	return nil
}

func (p *transaction) cultures(cultures []ferment.Culture) error {
	if len(cultures) == 0 {
		return nil
	}
	named := make([]ferment.Culture, len(cultures))
	for i, c := range cultures {
		if taken := p.store.fileNamed(c.ID); taken != "" {
			return &NameError{c.ID, "is the name of a ferment: " + taken}
		}
		c.Log = inZone(c.Log, p.store.ownZone())
		named[i] = c
	}
	return p.put(yeastStrains, itemsFrom(named, cultureItem), ferment.Receipt{Subject: named[0].ID, File: culturesFile, Cultures: named})
}

func (p *transaction) entries(logged []ferment.Logged) error {
	for _, l := range logged {
		file, at := p.store.fileOf(l.Subject)
		tried := inZone(l.Entries, p.store.ownZone())
		entries := p.lacking(file, at, tried)
		if len(tried) > 0 && len(entries) == 0 {
			p.steps = append(p.steps, step{receipt: ferment.Receipt{Subject: l.Subject, File: file, Entries: tried, Stood: true}})
			continue
		}
		if err := p.put(at, itemsFrom(entries, entryItem), ferment.Receipt{Subject: l.Subject, File: file, Entries: entries}); err != nil {
			return err
		}
	}
	return nil
}

// lacking are the entries that do not stand in a file yet, to the letter: the
// change may have been tried before.
func (p *transaction) lacking(file string, at spot, entries []ferment.Entry) []ferment.Entry {
	text, _, err := p.text(file)
	if err != nil {
		return entries // which is told when they are put in
	}
	old, err := recordOf(text, at)
	if err != nil {
		return entries
	}
	return old.lacking(entries)
}

// put works out one insertion. A file of lots or cultures that is not there
// yet is a new one.
func (p *transaction) put(at spot, items []item, r ferment.Receipt) error {
	old, exists, err := p.text(r.File)
	if err == nil && !exists && !at.begins() {
		err = fs.ErrNotExist
	}
	if err != nil {
		return &WriteError{File: r.File, Err: err}
	}
	made, err := insert(old, at, items)
	if err != nil {
		return &WriteError{File: r.File, Err: err}
	}
	if ps := p.wrong(r.File, made.Text); len(ps) > len(p.wrong(r.File, old)) {
		return &ProblemError{ps[len(ps)-1:]}
	}
	r = made.into(r)
	r.Made = !exists
	p.add(step{r, old, made.Text})
	return nil
}

func (p *transaction) add(st step) {
	p.texts[st.receipt.File] = st.text
	p.steps = append(p.steps, st)
}

// text is what a file says, as far as the change has come.
func (p *transaction) text(file string) (text []byte, exists bool, err error) {
	if text, changed := p.texts[file]; changed {
		return text, true, nil
	}
	text, err = p.store.settled(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, false, nil
	}
	return text, err == nil, err
}

// wrong are the problems of a file of lots or cultures: an id that stands
// twice, or none.
func (p *transaction) wrong(file string, text []byte) []ferment.Problem {
	switch file {
	case honeyFile:
		return ReadLots(file, text, p.store.ownZone()).Problems
	case culturesFile:
		return ReadCultures(file, text, p.store.ownZone()).Problems
	}
	return nil
}
