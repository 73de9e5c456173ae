package journal

import (
	"errors"
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
)

// Insertion is a text with entries put in.
type Insertion struct {
	Text    []byte // the whole new text
	Line    int    // of the first entry
	Offset  int    // where Added begins
	Added   string // the bytes put in
	Removed string // the bytes they took the place of
}

// Insert puts entries into the log of a ferment's file. The result is proved:
// read again, it is the old record and exactly these entries.
func Insert(text []byte, entries ...ferment.Entry) (Insertion, error) {
	return insert(text, "", entries)
}

// InsertCulture puts entries into the log of one culture of cultures.yaml.
func InsertCulture(text []byte, id string, entries ...ferment.Entry) (Insertion, error) {
	return insert(text, id, entries)
}

func insert(text []byte, culture string, entries []ferment.Entry) (Insertion, error) {
	if len(entries) == 0 {
		return Insertion{}, errors.New("there is no entry to write")
	}
	old, err := recordOf(text, culture)
	if err != nil {
		return Insertion{}, err
	}
	if line, odd := old.oddBreak(); odd {
		return Insertion{}, fmt.Errorf("line %d ends in a sign that editors and YAML count differently, so no place is certain (save the file with plain line ends)", line)
	}
	err = fmt.Errorf("the place for an entry in the log is not clear")
	for _, e := range old.edits(entries) {
		made := e.apply(old.source)
		line, wrong := prove(old, made.Text, entries)
		if wrong == nil {
			made.Line = line
			return made, nil
		}
		err = wrong
	}
	return Insertion{}, err
}

// A record is a file as a tree, with the way to one log in it.
type record struct {
	*reader
	culture string
	root    *yaml.Node
	holder  *yaml.Node // the mapping that has the log, or could have it
	limit   int        // the last line that can belong to the holder
}

// recordOf reads a text for writing. Syntax errors inside a log are left out
// of the tree; any other makes every place uncertain.
func recordOf(text []byte, culture string) (*record, error) {
	r := newReader("", text, nil)
	root, ok := r.root()
	if !ok || r.broken {
		return nil, fmt.Errorf("the file cannot be read: %s", strings.TrimLeft(r.problems[0].String(), ": "))
	}
	if root == nil || root.Kind != yaml.MappingNode {
		return nil, errors.New("the file holds no record (it begins with format: 1)")
	}
	rec := &record{reader: r, culture: culture, root: root, holder: root, limit: r.lastOfDocument(root)}
	if culture != "" {
		if !rec.findCulture() {
			return nil, fmt.Errorf("there is no culture %s in the file", quote(culture))
		}
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

// findCulture goes down to one item of the list of cultures.
func (rec *record) findCulture() bool {
	list := child(rec.root, "cultures")
	if list == nil || list.Kind != yaml.SequenceNode {
		return false
	}
	rec.limit = rec.limitOf(rec.root, "cultures", rec.limit)
	for i, item := range list.Content {
		if id := child(item, "id"); id == nil || id.Value != rec.culture {
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

// log is the value of the log, nil where there is none.
func (rec *record) log() *yaml.Node { return child(rec.holder, "log") }

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
