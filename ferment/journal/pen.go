package journal

import (
	"errors"
	"io/fs"
	"os"

	"cellar/jugkeeper/ferment"
)

// A pen works out what a deed makes of the files before any is written.
type pen struct {
	store *Store
	texts map[string][]byte // of the files that change, as they are to be
	steps []step
}

// A step is one write, with the receipt for it.
type step struct {
	receipt ferment.Receipt
	text    []byte
}

func (p *pen) work(deed ferment.Deed) error {
	works := []func() error{
		func() error { return p.ferments(deed) },
		func() error { return p.lots(deed.Lots) },
		func() error { return p.uses(deed.Uses) },
		func() error { return p.cultures(deed.Cultures) },
		func() error { return p.entries(deed.Entries) },
		func() error { return p.closes(deed.Closes) },
	}
	for _, work := range works {
		if err := work(); err != nil {
			return err
		}
	}
	return nil
}

func (p *pen) lots(lots []ferment.Lot) error {
	if len(lots) == 0 {
		return nil
	}
	return p.put(honeyLots, itemsFrom(lots, lotItem), ferment.Receipt{Subject: lots[0].ID, File: honeyFile, Lots: lots})
}

func (p *pen) uses(uses []ferment.LotUse) error {
	for _, u := range uses {
		one := []ferment.Use{u.Use}
		if err := p.put(usesOf(u.Lot), itemsFrom(one, useItem), ferment.Receipt{Subject: u.Lot, File: honeyFile, Uses: one}); err != nil {
			return err
		}
	}
	return nil
}

func (p *pen) cultures(cultures []ferment.Culture) error {
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

func (p *pen) entries(logged []ferment.Logged) error {
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
// deed may have been tried before.
func (p *pen) lacking(file string, at spot, entries []ferment.Entry) []ferment.Entry {
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
func (p *pen) put(at spot, items []item, r ferment.Receipt) error {
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
	p.add(step{r, made.Text})
	return nil
}

func (p *pen) add(st step) {
	p.texts[st.receipt.File] = st.text
	p.steps = append(p.steps, st)
}

// text is what a file says, as far as the deed has come.
func (p *pen) text(file string) (text []byte, exists bool, err error) {
	if text, changed := p.texts[file]; changed {
		return text, true, nil
	}
	text, err = os.ReadFile(p.store.path(file))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, false, nil
	}
	return text, err == nil, err
}

// wrong are the problems of a file of lots or cultures: an id that stands
// twice, or none.
func (p *pen) wrong(file string, text []byte) []ferment.Problem {
	switch file {
	case honeyFile:
		return ReadLots(file, text, p.store.ownZone()).Problems
	case culturesFile:
		return ReadCultures(file, text, p.store.ownZone()).Problems
	}
	return nil
}
