package journal

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
)

// Insertion is a text with items put into a list of it.
type Insertion struct {
	Text    []byte // the whole new text
	Line    int    // of the first item
	Offset  int    // where Added begins
	Added   string // the bytes put in
	Removed string // the bytes they took the place of
}

// Insert puts entries into the log of a ferment's file. The result is proved:
// read again, it is the old record and exactly these entries.
func Insert(text []byte, entries ...ferment.Entry) (Insertion, error) {
	return insert(text, fermentLog, itemsFrom(entries, entryItem))
}

// InsertCulture puts entries into the log of one culture of cultures.yaml.
func InsertCulture(text []byte, id string, entries ...ferment.Entry) (Insertion, error) {
	return insert(text, cultureLog(id), itemsFrom(entries, entryItem))
}

// InsertLots puts lots into honey.yaml, which may be empty.
func InsertLots(text []byte, lots ...ferment.Lot) (Insertion, error) {
	return insert(text, honeyLots, itemsFrom(lots, lotItem))
}

// InsertUses puts uses of honey into the list of one lot of honey.yaml.
func InsertUses(text []byte, lot string, uses ...ferment.Use) (Insertion, error) {
	return insert(text, usesOf(lot), itemsFrom(uses, useItem))
}

// InsertCultures puts cultures into cultures.yaml, which may be empty.
func InsertCultures(text []byte, cultures ...ferment.Culture) (Insertion, error) {
	return insert(text, yeastStrains, itemsFrom(cultures, cultureItem))
}

func insert(text []byte, at spot, items []item) (Insertion, error) {
	old, err := recordOf(text, at)
	if err != nil {
		return Insertion{}, err
	}
	return old.put(items)
}

// put puts items into the list where the result can be proved.
func (old *record) put(items []item) (Insertion, error) {
	if len(items) == 0 {
		return Insertion{}, fmt.Errorf("there is no %s to write", old.at.words().one)
	}
	if line, odd := old.oddBreak(); odd {
		return Insertion{}, fmt.Errorf("line %d ends in a sign that editors and YAML count differently, so no place is certain (save the file with plain line ends)", line)
	}
	err := old.unclear()
	for _, e := range old.edits(items) {
		made := e.apply(old.source)
		line, wrong := prove(old, made.Text, items)
		if wrong == nil {
			made.Line = line
			return made, nil
		}
		err = wrong
	}
	return Insertion{}, err
}

// unclear says why a list has no place for an item.
func (rec *record) unclear() error {
	w := rec.at.words()
	if list := rec.list(); list != nil && list.Kind == yaml.MappingNode {
		return fmt.Errorf("%s holds %s without a dash, where a list is wanted (put - before its first key)", rec.at.key, w.an)
	}
	return fmt.Errorf("the place for %s in the %s is not clear", w.an, w.list)
}

// A record is a file as a tree, with the way to one list in it.
type record struct {
	*reader
	at     spot
	root   *yaml.Node // nil for an empty file
	holder *yaml.Node // the mapping that has the list, or could have it
	limit  int        // the last line that can belong to the holder
}

// recordOf reads a text for writing. Syntax errors inside a log are left out
// of the tree; any other makes every place uncertain.
func recordOf(text []byte, at spot) (*record, error) {
	r := newReader("", text, nil)
	root, ok := r.root()
	switch {
	case !ok || r.broken:
		return nil, fmt.Errorf("the file cannot be read: %s", strings.TrimLeft(r.problems[0].String(), ": "))
	case at.begins() && isNothing(root):
		return &record{reader: r, at: at}, nil
	case root == nil || root.Kind != yaml.MappingNode:
		return nil, errors.New("the file holds no record (it begins with format: 1)")
	}
	rec := &record{reader: r, at: at, root: root, holder: root, limit: r.lastOfDocument(root)}
	if at.list != "" && !rec.findHolder() {
		return nil, fmt.Errorf("there is no %s %s in the file", at.owner(), quote(at.id))
	}
	return rec, nil
}

// lastOfDocument is the last line before the sign that ends a document.
func (r *reader) lastOfDocument(root *yaml.Node) int {
	for n := root.Line + 1; n <= len(r.starts); n++ {
		if line := r.line(n); line == "..." || strings.HasPrefix(line, "... ") {
			return n - 1
		}
	}
	return len(r.starts)
}

// findHolder goes down to the item of a list that has the spot's id.
func (rec *record) findHolder() bool {
	list := child(rec.root, rec.at.list)
	if list == nil || list.Kind != yaml.SequenceNode {
		return false
	}
	rec.limit = rec.limitOf(rec.root, rec.at.list, rec.limit)
	for i, item := range list.Content {
		if id := child(item, "id"); id == nil || strings.TrimSpace(ferment.Harmless(id.Value)) != rec.at.id {
			continue
		}
		if i+1 < len(list.Content) {
			rec.limit = list.Content[i+1].Line - 1
		}
		rec.holder = item
		return true
	}
	return false
}

// limitOf is the last line that can belong to a key's value: the one before
// the next key.
func (r *reader) limitOf(mapping *yaml.Node, key string, limit int) int {
	for i := 0; i+2 < len(mapping.Content); i += 2 {
		if mapping.Content[i].Value == key {
			return mapping.Content[i+2].Line - 1
		}
	}
	return limit
}

// lacking are the entries that do not stand in the list as they are, to the
// second and the letter.
func (rec *record) lacking(entries []ferment.Entry) []ferment.Entry {
	return slices.DeleteFunc(slices.Clone(entries), func(e ferment.Entry) bool {
		return slices.ContainsFunc(nodesOf(rec.list()), func(n *yaml.Node) bool {
			at := child(n, "at")
			return at != nil && at.Value == momentText(e.At, block) && rec.readBack([]*yaml.Node{n}, []item{entryItem(e)}) == nil
		})
	})
}

// list is the value of the list, nil where there is none.
func (rec *record) list() *yaml.Node { return child(rec.holder, rec.at.key) }

// An edit puts a text in at an offset, in the place of so many bytes.
type edit struct {
	at, instead int
	text        string
}

func (e edit) apply(s source) Insertion {
	at := len(s.mark) + e.at
	whole := s.mark + string(s.text[:e.at]) + e.text + string(s.text[e.at+e.instead:])
	return Insertion{Text: []byte(whole), Offset: at, Added: e.text, Removed: string(s.text[e.at : e.at+e.instead])}
}
