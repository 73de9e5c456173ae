package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"time"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
)

// Strike takes one entry out of its log. What it said, and why, stays in the record.
func (s *Store) Strike(subject string, e ferment.Entry, because string) (r ferment.Receipt, err error) {
	file, at := s.fileOf(subject)
	err = s.Locked(file, func() error {
		text, err := s.settled(file)
		if err != nil {
			return &WriteError{File: file, Err: err}
		}
		from, without, err := s.cutOut(text, at, e)
		if err != nil {
			return &WriteError{File: file, Err: err}
		}
		removed := string(text[from : from+len(text)-len(without)])
		r = ferment.Receipt{Subject: subject, File: file, Line: e.Line, Offset: int64(from), Removed: removed, Entries: []ferment.Entry{e}, Struck: true}
		if err := s.replace(s.path(file), text, without); err != nil {
			return &WriteError{File: file, Err: err}
		}
		n := note{ID: newID(), Subject: subject, File: file, Entry: flowEntry(e), Struck: true, Because: because}
		given, _ := s.recorded(e.At.Time.Location(), func(g note) bool { return g.Subject == subject })
		if i := slices.IndexFunc(given, func(g noted) bool { return sameEntry(g.Lost.Entry, e) }); i >= 0 {
			n.ID = given[i].ID
		}
		if err := s.writeNotes([]note{n}); err != nil {
			r.Alone = reason(err)
		}
		return nil
	})
	return r, err
}

// cutOut is a text without an entry of a list, proved, and where the entry began.
func (s *Store) cutOut(text []byte, at spot, e ferment.Entry) (from int, without []byte, err error) {
	rec, err := recordOf(text, at)
	if err != nil {
		return 0, nil, err
	}
	nodes := nodesOf(rec.list())
	i := slices.IndexFunc(nodes, func(n *yaml.Node) bool {
		var has ferment.Entry
		return readEntry(value{reader: &reader{source: rec.source, zone: s.ownZone()}, node: n}, &has) && sameEntry(has, e)
	})
	if i < 0 {
		return 0, nil, errors.New("the entry is not there as it was shown (look again)")
	}
	list, n, limit := rec.list(), nodes[i], limitOf(rec.holder, at.key, rec.limit)
	if list.Style&yaml.FlowStyle != 0 {
		return 0, nil, errors.New("the log is between brackets (change it in the editor)")
	}
	if i+1 < len(nodes) {
		limit = nodes[i+1].Line - 1
	}
	dash := n.Line
	for dash > list.Line && !rec.alone(dash, list.Column) || rec.line(dash)[list.Column-1] != '-' {
		dash--
	}
	from = len(rec.mark) + rec.starts[dash-1]
	without = slices.Concat(text[:from], text[len(rec.mark)+rec.end(rec.lastLine(n, limit)):])
	rest, err := recordOf(without, at)
	if err == nil {
		it := entryItem(e)
		it.says, _ = it.read(value{reader: &reader{source: rec.source, zone: time.UTC}, node: n})
		_, err = prove(rest, text, []item{it})
	}
	return from, without, err
}

// unstrike puts a struck entry back: its bytes where they were, else into the list.
func (s *Store) unstrike(r ferment.Receipt) error {
	_, at := s.fileOf(r.Subject)
	text, err := s.settled(r.File)
	if from := int(r.Offset); err == nil && from <= len(text) {
		whole := slices.Concat(text[:from], []byte(r.Removed), text[from:])
		if _, without, err := s.cutOut(whole, at, r.Entries[0]); err == nil && bytes.Equal(without, text) {
			s.note(&r, "")
			return s.replace(s.path(r.File), text, whole)
		}
	}
	_, err = s.write(ferment.Change{Entries: []ferment.Logged{{Subject: r.Subject, Entries: r.Entries}}})
	return err
}

const mostWritten = 20 // acts that can be taken back

// Written are the acts that can be taken back, of every program where there is a state folder.
func (s *Store) Written() []ferment.Written {
	if file := s.writtenFile(); file != "" && !s.alone {
		var wrote []ferment.Written
		data, _ := ReadSmall(file)
		_ = json.Unmarshal(data, &wrote) // none where there is none, or half of one
		return wrote
	}
	return s.written
}

// SetWritten replaces them; without a state folder they last as long as the program.
func (s *Store) SetWritten(wrote []ferment.Written) {
	s.written = wrote[max(0, len(wrote)-mostWritten):]
	file := s.writtenFile()
	if file == "" {
		return
	}
	data, _ := json.Marshal(s.written)         // plain values: it never fails
	_ = os.MkdirAll(filepath.Dir(file), 0o777) // the next step tells
	temp, err := writeTemp(filepath.Dir(file), data, 0o600, file)
	if err == nil {
		if err = os.Rename(temp, file); err != nil {
			os.Remove(temp)
		}
	}
	s.alone = err != nil
}

func (s *Store) writtenFile() string {
	if dir := s.StateDir(); dir != "" {
		return filepath.Join(dir, "written.json")
	}
	return ""
}
