package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
)

// Strike takes one entry out of its log, or puts what it should have said in its place. What it said, and why, stays in
// the record.
func (s *Store) Strike(subject string, e ferment.Entry, because string, instead ...ferment.Entry) (r ferment.Receipt, err error) {
	file, at := s.fileOf(subject)
	err = s.Locked(file, func() error {
		text, err := s.settled(file)
		if err != nil {
			return &WriteError{File: file, Err: err}
		}
		instead = inZone(instead, s.ownZone())
		ed, now, err := s.changed(text, at, e, instead)
		if err != nil {
			return &WriteError{File: file, Err: err}
		}
		r = ferment.Receipt{Subject: subject, File: file, Line: e.Line, Offset: int64(ed.at), Text: ed.text, Removed: string(text[ed.at : ed.at+ed.instead]),
			Entries: []ferment.Entry{e}, Instead: instead, Struck: true}
		given := ferment.Receipt{Subject: subject, File: file, Entries: instead}
		rec, _ := recordOf(text, at) // it was read above
		s.note(&given, rec.first(s.ownZone()))
		r.Notes = given.Notes
		if err := s.replace(s.path(file), text, now); err != nil {
			_ = s.strike(r.Notes) // the person is told, and may repeat it
			return &WriteError{File: file, Err: err}
		}
		n := note{ID: newID(), Subject: subject, File: file, Entry: flowEntry(e), Struck: true, Because: because}
		recorded, _ := s.recorded(e.At.Time.Location(), func(g note) bool { return g.Subject == subject && !slices.Contains(r.Notes, g.ID) })
		if i := slices.IndexFunc(recorded, func(g noted) bool { return sameEntry(g.Lost.Entry, e) }); i >= 0 {
			n.ID = recorded[i].ID
		}
		if err := s.writeNotes([]note{n}); err != nil {
			r.Alone = reason(err)
		}
		return nil
	})
	return r, err
}

// changed is a text in which an entry of a list is gone, or says something else, proved, and the edit.
func (s *Store) changed(text []byte, at spot, e ferment.Entry, instead []ferment.Entry) (ed edit, now []byte, err error) {
	rec, err := recordOf(text, at)
	if err != nil {
		return ed, nil, err
	}
	list := rec.list()
	nodes := nodesOf(list)
	i := -1 // the entry, or of several that say the same the one that was shown
	for j, n := range nodes {
		var has ferment.Entry
		if readEntry(value{reader: &reader{source: rec.source, zone: s.ownZone()}, node: n}, &has) && sameEntry(has, e) && (i < 0 || has.Line == e.Line) {
			i = j
		}
	}
	if i < 0 {
		return ed, nil, errors.New("the entry is not there as it was shown (look again)")
	}
	limit := limitOf(rec.holder, at.key, rec.limit)
	if i+1 < len(nodes) {
		limit = nodes[i+1].Line - 1
	}
	// The smallest change is tried first: the bytes of the values that differ, else the lines of the whole entry. One
	// counts only if reading the result proves that nothing else changed.
	in := entryNode{rec, nodes[i], limit}
	var edits []edit
	if len(instead) > 0 {
		edits = in.values(e, instead[0])
	}
	if err = errors.New("the log is between brackets (change it in the editor)"); list.Style&yaml.FlowStyle == 0 {
		edits = append(edits, in.whole(list, instead)...)
		err = errors.New("a comment of yours would go with it (change it in the editor)")
	}
	for _, ed := range edits {
		ed.at += len(rec.mark)
		now := slices.Concat(text[:ed.at], []byte(ed.text), text[ed.at+ed.instead:])
		from, to, items := now, text, []item{entryItem(e)} // the old text is the new one with the entry, or else
		if len(instead) > 0 {                              // the new one is the old one without it, with the other
			from, to, items = text, now, ferment.Map(instead, entryItem)
		}
		rest, wrong := recordOf(from, at)
		if err = wrong; err != nil {
			continue
		}
		if list := rest.list(); len(instead) > 0 {
			list.Content = slices.Delete(list.Content, i, i+1)
		}
		rest.zone = s.ownZone()
		if _, err = prove(rest, to, items); err == nil {
			return ed, now, nil
		}
	}
	return ed, nil, err
}

// entryNode is an entry in the tree of its file, and the last line that can belong to it.
type entryNode struct {
	*record
	node  *yaml.Node
	limit int
}

// aComment matches what may be a comment, which a person wrote.
var aComment = ferment.Pattern(`(?m)(^|\s)#`)

// whole returns the edit of all lines of the entry, unless a comment in them would go and the entry stay.
func (n entryNode) whole(list *yaml.Node, instead []ferment.Entry) []edit {
	dash := n.node.Line
	for dash > list.Line && !n.alone(dash, list.Column) || n.line(dash)[list.Column-1] != '-' {
		dash--
	}
	from, to := n.starts[dash-1], n.end(n.lastLine(n.node, n.limit))
	if len(instead) > 0 && aComment().Match(n.text[from:to]) {
		return nil
	}
	items := ferment.Map(instead, entryItem)
	if n.node.Style&yaml.FlowStyle != 0 {
		items = ferment.Map(items, func(it item) item { it.lines = []string{it.flow}; return it })
	}
	text := strings.Join(itemLines(items, strings.Repeat(" ", list.Column-1), n.gap(list)), n.newline())
	if len(items) > 0 && bytes.HasSuffix(n.text[from:to], []byte("\n")) {
		text += n.newline()
	}
	return []edit{{from, to - from, text}}
}

// values returns the edit, up to the last value, that changes only values that two entries with the same keys say
// differently; none where a place is not certain.
func (n entryNode) values(was, is ferment.Entry) []edit {
	style, content := block, n.node.Content
	if n.node.Style&yaml.FlowStyle != 0 {
		style = flow
	}
	said, says := entryTable.pairs(&was, style), entryTable.pairs(&is, style)
	one := edit{at: n.offset(n.node.Line, n.node.Column)}
	end := one.at
	for i := 0; i+1 < len(content); i += 2 {
		name := content[i].Value + ": "
		named := func(pair string) bool { return strings.HasPrefix(pair, name) }
		old, made := slices.IndexFunc(said, named), slices.IndexFunc(says, named)
		if old < 0 || made < 0 || len(said) != len(says) {
			return nil
		}
		if said[old] == says[made] {
			continue
		}
		from, to := n.span(content[i+1])
		if from == to {
			return nil
		}
		one.text += string(n.text[end:from]) + says[made][len(name):]
		end = to
	}
	one.instead = end - one.at
	return []edit{one}
}

// span returns where a value is: a word, or a text in quotes; an empty span where that is not certain.
func (n entryNode) span(v *yaml.Node) (from, to int) {
	from = n.offset(v.Line, v.Column)
	switch {
	case v.Style&yaml.DoubleQuotedStyle != 0:
		return from, endOfQuote(n.text, from, '"')
	case v.Style&yaml.SingleQuotedStyle != 0:
		return from, endOfQuote(n.text, from, '\'')
	case v.Kind == yaml.ScalarNode && bytes.HasPrefix(n.text[from:], []byte(v.Value)):
		return from, from + len(v.Value)
	}
	return from, from
}

// unstrike puts a struck entry back: its bytes where they were, else into the list, or in the place of what is there
// instead.
func (s *Store) unstrike(r ferment.Receipt) error {
	_, at := s.fileOf(r.Subject)
	text, err := s.settled(r.File)
	if err != nil {
		return &WriteError{File: r.File, Err: err}
	}
	from := min(int(r.Offset), len(text))
	after, there := bytes.CutPrefix(text[from:], []byte(r.Text))
	whole := slices.Concat(text[:from], []byte(r.Removed), after)
	_, again, err := s.changed(whole, at, r.Entries[0], r.Instead)
	switch {
	case there && err == nil && bytes.Equal(again, text):
	case len(r.Instead) == 0:
		_, err = s.write(ferment.Change{Entries: []ferment.Logged{{Subject: r.Subject, Entries: r.Entries}}})
		return err
	default:
		if _, whole, err = s.changed(text, at, r.Instead[0], r.Entries); err != nil {
			return fmt.Errorf("%s: %w", r.File, err)
		}
	}
	instead := r.Notes
	s.note(&r, "")
	if err := s.replace(s.path(r.File), text, whole); err != nil {
		return err
	}
	_ = s.strike(instead) // the file is in order; at worst the entry is offered once more
	return nil
}

const mostWritten = 20 // acts that can be taken back

// Written returns the acts that can be taken back, of every program where there is a state folder.
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
