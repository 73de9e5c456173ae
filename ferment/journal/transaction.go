package journal

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
)

// transaction prepares all files of a change before any is written.
type transaction struct {
	store *Store
	texts map[string][]byte // new texts of the files that change
	steps []step
}

type step struct {
	receipt   ferment.Receipt
	was, text []byte
	first     string // the time of the first entry in the log
}

// work builds the texts of a change without writing any.
func (p *transaction) work(change ferment.Change) error {
	if err := p.ferments(change.Ferments); err != nil {
		return err
	}
	receipts, err := p.receipts(change)
	if err != nil {
		return err
	}
	for _, r := range receipts {
		if err := p.insert(r); err != nil {
			return err
		}
	}
	return p.closes(change.Closes)
}

// receipts returns a receipt for each list in a file that the change adds to.
func (p *transaction) receipts(change ferment.Change) ([]ferment.Receipt, error) {
	var receipts []ferment.Receipt
	if lots := change.Lots; len(lots) > 0 {
		receipts = append(receipts, ferment.Receipt{Subject: lots[0].ID, File: honeyFile, Lots: lots})
	}
	for _, u := range change.Uses {
		receipts = append(receipts, ferment.Receipt{Subject: u.Lot, File: honeyFile, Uses: []ferment.Use{u.Use}})
	}
	zone := p.store.ownZone()
	cultures := slices.Clone(change.Cultures)
	for i, c := range cultures {
		if taken := p.store.fileNamed(c.ID); taken != "" {
			return nil, &NameError{c.ID, "is the name of a ferment: " + taken}
		}
		cultures[i].Log = inZone(c.Log, zone)
	}
	if len(cultures) > 0 {
		receipts = append(receipts, ferment.Receipt{Subject: cultures[0].ID, File: culturesFile, Cultures: cultures})
	}
	for _, l := range change.Entries {
		file, _ := p.store.fileOf(l.Subject)
		receipts = append(receipts, ferment.Receipt{Subject: l.Subject, File: file, Entries: inZone(l.Entries, zone)})
	}
	return receipts, nil
}

// insert prepares one insertion, without entries that are there already from an earlier attempt. A missing file of lots
// or cultures is created.
func (p *transaction) insert(r ferment.Receipt) error {
	at := spotOf(r)
	was, err := p.text(r.File)
	if r.Made = errors.Is(err, fs.ErrNotExist) && at.begins(); err != nil && !r.Made {
		return &WriteError{File: r.File, Err: err, noPlace: errors.Is(err, errUnsaved)}
	}
	old, err := recordOf(was, at)
	if err != nil {
		return &WriteError{File: r.File, Err: err, noPlace: true}
	}
	if lacking := old.lacking(r.Entries); len(r.Entries) > 0 && len(lacking) == 0 {
		r.Stood = true
		p.steps = append(p.steps, step{receipt: r})
		return nil
	} else if len(lacking) > 0 {
		r.Entries = lacking
	}
	made, err := old.put(itemsOf(r))
	if err != nil {
		return &WriteError{File: r.File, Err: err, noPlace: true}
	}
	if ps := p.wrong(r.File, made.Text); len(ps) > len(p.wrong(r.File, was)) {
		return &ProblemError{ps[len(ps)-1:]}
	}
	r.Line, r.Offset, r.Text, r.Removed = made.Line, int64(made.Offset), made.Added, made.Removed
	p.add(step{r, was, made.Text, old.first(p.store.ownZone())})
	return nil
}

func (p *transaction) add(st step) {
	p.texts[st.receipt.File] = st.text
	p.steps = append(p.steps, st)
}

// text returns the text of a file with the change so far.
func (p *transaction) text(file string) ([]byte, error) {
	if text, changed := p.texts[file]; changed {
		return text, nil
	}
	return p.store.settled(file)
}

// wrong returns the problems of a file of lots or cultures: missing or repeated ids.
func (p *transaction) wrong(file string, text []byte) []ferment.Problem {
	switch file {
	case honeyFile:
		return ReadLots(file, text, p.store.ownZone()).Problems
	case culturesFile:
		return ReadCultures(file, text, p.store.ownZone()).Problems
	}
	return nil
}

// Apply writes a change. Everything is prepared and proved first, under one lock. If a write fails, the ones before it
// are rolled back; if that fails too, the error lists what was written, and the receipts are for that.
func (s *Store) Apply(change ferment.Change) (done []ferment.Receipt, err error) {
	if err := os.MkdirAll(s.path("ferments"), 0o777); err != nil {
		return nil, &WriteError{File: s.path("ferments"), Err: err}
	}
	err = s.Locked(".lock", func() error {
		done, err = s.write(change)
		return err
	})
	return done, err
}

// write is Apply under the lock.
func (s *Store) write(change ferment.Change) (done []ferment.Receipt, err error) {
	for range mostTries { // repeated each time somebody saves a file at that moment
		p := transaction{store: s, texts: map[string][]byte{}}
		if err = p.work(change); err == nil {
			done, err = p.write()
		}
		if !errors.Is(err, errEdited) || len(done) > 0 {
			break
		}
		s.wait(lookLock)
	}
	if err == nil && len(change.Ferments) > 0 {
		s.keepSchemas()
	}
	return done, err
}

// write executes the steps, after recording all entries, so that an interrupted change can be offered completely. A
// failing step rolls back those before it; if that fails too, the error lists what stays.
func (p *transaction) write() ([]ferment.Receipt, error) {
	for i := range p.steps {
		if r := &p.steps[i].receipt; len(r.Entries) > 0 && !r.Stood || r.Made {
			p.store.note(r, p.steps[i].first)
		}
	}
	var done []ferment.Receipt
	for i, st := range p.steps {
		err := p.store.put(st)
		if err == nil {
			done = append(done, st.receipt)
			continue
		}
		for _, left := range p.steps[i:] {
			_ = p.store.strike(left.receipt.Notes) // the person is told, and may repeat them
		}
		for n := len(done); n > 0; n-- { // the last first
			if p.store.undo(done[n-1]) != nil {
				return done[:n], fmt.Errorf("written: %s; not written: %s: %s", placesOf(p.steps[:n]), placesOf(p.steps[n:]), reason(err))
			}
		}
		return nil, &WriteError{File: st.receipt.File, Err: err}
	}
	return done, nil
}

func placesOf(steps []step) string {
	var files []string
	for _, st := range steps {
		if place := cmp.Or(st.receipt.Moved, st.receipt.File); !slices.Contains(files, place) {
			files = append(files, place)
		}
	}
	return strings.Join(files, ", ")
}

func (s *Store) put(st step) error {
	r := st.receipt
	switch {
	case r.Stood:
		return nil
	case r.Moved != "":
		return s.move(r.File, r.Moved)
	case r.Made:
		return writeNew(s.path(r.File), st.text)
	}
	return s.replace(s.path(r.File), st.was, st.text)
}

// closes adds the steps that move closed ferments to ferments/past.
func (p *transaction) closes(names []string) error {
	for _, name := range names {
		file, past := openFile(name), pastFile(name)
		text, err := p.text(file)
		if err != nil {
			return &WriteError{File: file, Err: err}
		}
		if taken := p.store.named(name, "ferments/past"); taken != "" {
			return &NameError{name, "cannot be closed: " + taken + " is there already (rename one of the two, e.g. " + name + "-2.yaml)"}
		}
		if aside := asideOf(file); len(p.store.asideLines(file)) > 0 {
			return &NameError{name, "cannot be closed: " + aside + " has entries that are in no file (put them back, or remove it)"}
		}
		p.steps = append(p.steps, step{receipt: ferment.Receipt{Subject: name, File: file, Moved: past, Text: string(text)}})
	}
	return nil
}

// move moves a file, which exists in one of the two places at any time. A link keeps its target.
func (s *Store) move(from, to string) error {
	old, place := s.path(from), s.path(to)
	if err := os.MkdirAll(filepath.Dir(place), 0o777); err != nil {
		return err
	}
	if _, err := os.Lstat(place); err == nil {
		return fmt.Errorf("%s is there already", to)
	}
	target, err := os.Readlink(old)
	if err == nil && !filepath.IsAbs(target) {
		err = moveLink(old, place, target)
	} else {
		err = os.Rename(old, place)
	}
	if err != nil {
		return err
	}
	_ = syncDir(filepath.Dir(place)) // the file is there: an error would cause it to be moved twice
	_ = syncDir(filepath.Dir(old))
	return nil
}

// moveLink creates a link in another folder to the same file.
func moveLink(old, place, target string) error {
	is, err := os.Stat(old)
	if err != nil {
		return err
	}
	if target, err = filepath.Rel(filepath.Dir(place), filepath.Join(filepath.Dir(old), target)); err != nil {
		return err
	}
	if err := os.Symlink(target, place); err != nil {
		return err
	}
	if led, err := os.Stat(place); err != nil || !os.SameFile(is, led) {
		return errors.Join(errors.New("the link would lead elsewhere from there (make it an absolute one)"), os.Remove(place))
	}
	return os.Remove(old)
}

// Undo reverts a write: inserted bytes are removed, a new file is deleted, a moved file goes back, each only if
// unchanged since.
func (s *Store) Undo(r ferment.Receipt) error {
	return s.Locked(r.File, func() error { return s.undo(r) })
}

// undo takes back what a receipt says was written.
func (s *Store) undo(r ferment.Receipt) error {
	switch {
	case r.Stood:
		return nil
	case r.Struck:
		return s.unstrike(r)
	}
	file := cmp.Or(r.Moved, r.File)
	data, err := ReadSmall(s.path(file))
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: the file is not there any more, so nothing is taken back in it", file)
	}
	if err != nil {
		return &WriteError{File: file, Err: err}
	}
	switch same := string(data) == r.Text; {
	case r.Moved != "" && !same:
		return fmt.Errorf("%s: the file was changed since it was closed, so it is left there (move it back yourself)", file)
	case r.Moved != "":
		if taken := s.named(r.Subject, "ferments"); taken != "" {
			return fmt.Errorf("%s: %s is there already, so it is left there (rename one of the two)", file, taken)
		}
		err = s.move(r.Moved, r.File)
	case r.Made && !same:
		return fmt.Errorf("%s: the file is not the one that was written, so it is left alone (remove it yourself if it is not wanted)", file)
	case r.Made:
		err = os.Remove(s.path(file))
		_ = syncDir(filepath.Dir(s.path(file)))
	default:
		var without []byte
		if without, err = takenOut(data, r); err != nil {
			return err
		}
		err = s.replace(s.path(file), data, without)
	}
	if err != nil {
		return &WriteError{File: file, Err: err}
	}
	_ = s.strike(r.Notes) // the file is in order; at worst the entry is offered once more
	return nil
}

// takenOut returns a text without the bytes of a receipt, if the rest of the record stays the same: a line added by
// hand below that entry would become part of the entry above.
func takenOut(data []byte, r ferment.Receipt) ([]byte, error) {
	one := spotOf(r).words().one
	at, text := int(r.Offset), []byte(r.Text)
	if at > len(data) || !bytes.HasPrefix(data[at:], text) { // moved: use the only place that has them
		at = bytes.Index(data, text)
	}
	if at < 0 || at != int(r.Offset) && bytes.Count(data, text) > 1 {
		return nil, fmt.Errorf("%s: the %s is not there as it was written, so it is left alone (change it in the editor)", r.File, one)
	}
	without := slices.Concat(data[:at], []byte(r.Removed), data[at+len(r.Text):])
	old, err := recordOf(without, spotOf(r))
	if err == nil {
		_, err = prove(old, data, itemsOf(r))
	}
	if err != nil {
		return nil, fmt.Errorf("%s: something was added to the %s since, so it is left alone (change it in the editor)", r.File, one)
	}
	return without, nil
}
