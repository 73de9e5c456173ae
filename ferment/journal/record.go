package journal

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
)

// spot is the place of a list: a key of the file, or a key of an item in a list of the file.
type spot struct {
	list, id string // a list, and the id of its item with the key; empty for the file itself
	key      string
}

var (
	fermentLog   = spot{key: "log"}
	honeyLots    = spot{key: "lots"}
	yeastStrains = spot{key: "cultures"}
)

func cultureLog(id string) spot { return spot{"cultures", id, "log"} }
func usesOf(lot string) spot    { return spot{"lots", lot, "used"} }

func spotOf(r ferment.Receipt) spot {
	switch {
	case len(r.Lots) > 0:
		return honeyLots
	case len(r.Uses) > 0:
		return usesOf(r.Subject)
	case len(r.Cultures) > 0:
		return yeastStrains
	case r.File == culturesFile:
		return cultureLog(r.Subject)
	}
	return fermentLog
}

// begins reports whether an empty file may start with the list.
func (at spot) begins() bool { return at.list == "" && at.key != "log" }

// naming is what a list and its items are called.
type naming struct{ one, an, many, list string }

func (at spot) words() naming {
	return map[string]naming{
		"log":      {"entry", "an entry", "entries", "log"},
		"lots":     {"lot", "a lot", "lots", "list of lots"},
		"used":     {"use", "a use", "uses", "list of uses"},
		"cultures": {"culture", "a culture", "cultures", "list of cultures"},
	}[at.key]
}

// record is the tree of a file, with the path to one list.
type record struct {
	*reader
	at     spot
	root   *yaml.Node // nil for an empty file
	holder *yaml.Node // the mapping that has the list, or would have it
	limit  int        // last line that can belong to the holder
}

// recordOf parses a text for writing. Entries with syntax errors are left out of the tree; any other syntax error is an
// error, because no place would be certain.
func recordOf(text []byte, at spot) (*record, error) {
	r := newReader("", text, nil)
	root, ok := r.root()
	switch {
	case !ok || r.broken:
		return nil, fmt.Errorf("the file cannot be read: %s", strings.TrimLeft(r.problems[0].String(), ": "))
	case at.begins() && isNothing(root):
		return &record{reader: r, at: at}, nil
	case root == nil || root.Kind != yaml.MappingNode:
		return nil, errors.New("the file has no record (it begins with format: 1)")
	}
	rec := &record{reader: r, at: at, root: root, holder: root, limit: len(r.starts)}
	for n := root.Line + 1; n <= rec.limit; n++ { // up to the sign that ends a document
		if line := r.line(n); line == "..." || strings.HasPrefix(line, "... ") {
			rec.limit = n - 1
		}
	}
	if at.list == "" {
		return rec, nil
	}
	rec.limit = limitOf(root, at.list, rec.limit)
	list := nodesOf(child(root, at.list))
	i := slices.IndexFunc(list, func(item *yaml.Node) bool {
		id := child(item, "id")
		return id != nil && strings.TrimSpace(ferment.Harmless(id.Value)) == at.id
	})
	if i < 0 {
		return nil, fmt.Errorf("there is no %s %s in the file", strings.TrimSuffix(at.list, "s"), quote(at.id))
	}
	if rec.holder = list[i]; i+1 < len(list) {
		rec.limit = list[i+1].Line - 1
	}
	return rec, nil
}

// limitOf returns the last line that can belong to a key's value, the one before the next key.
func limitOf(mapping *yaml.Node, key string, limit int) int {
	if i := keyAt(mapping, key); i >= 0 && i+2 < len(mapping.Content) {
		return mapping.Content[i+2].Line - 1
	}
	return limit
}

// lacking returns the entries that are not in the list already, compared exactly.
func (rec *record) lacking(entries []ferment.Entry) []ferment.Entry {
	return slices.DeleteFunc(slices.Clone(entries), func(e ferment.Entry) bool {
		return slices.ContainsFunc(nodesOf(rec.list()), func(n *yaml.Node) bool {
			at := child(n, "at")
			return at != nil && at.Value == momentText(e.At, block) && rec.readBack([]*yaml.Node{n}, []item{entryItem(e)}) == nil
		})
	})
}

// first returns the time of the first entry, as the record keeps it.
func (rec *record) first(zone *time.Location) string {
	for _, n := range nodesOf(rec.list()) {
		if at := child(n, "at"); at != nil {
			if m, err := ferment.ParseMoment(at.Value, zone); err == nil {
				return momentText(m, compared)
			}
		}
	}
	return ""
}

func (rec *record) list() *yaml.Node { return child(rec.holder, rec.at.key) }

// prove checks that a text is the old record with these items in a row, and returns the line of the first.
func prove(old *record, text []byte, items []item) (line int, err error) {
	made, err := recordOf(text, old.at)
	if err != nil {
		return 0, fmt.Errorf("with the %s in it %w", old.at.words().one, err)
	}
	made.zone = old.zone
	if len(made.cuts) != len(old.cuts) || !restStays(old, made) {
		return 0, errors.New("the rest of the file would not stay as it is")
	}
	before, after := nodesOf(old.list()), nodesOf(made.list())
	added := len(after) - len(before)
	if added != len(items) {
		return 0, fmt.Errorf("the %s would not keep its %s", old.at.words().list, old.at.words().many)
	}
	err = fmt.Errorf("the %s would not keep its %s as they are", old.at.words().list, old.at.words().many)
	at := 0 // length of the common beginning of both lists
	for at < len(before) && at < len(after) && same(before[at], after[at]) {
		at++
	}
	if !slices.EqualFunc(before[at:], after[at+added:], same) {
		return 0, err
	}
	for ; at >= 0; at-- { // next to equal items there are several possible places
		if err = made.readBack(after[at:at+added], items); err == nil {
			return after[at].Line, nil
		}
		if at == 0 || !same(before[at-1], after[at-1+added]) {
			break
		}
	}
	return 0, err
}

// restStays reports whether two records are equal except for the list; an empty one gains its format.
func restStays(old, made *record) bool {
	switch {
	case made.root == nil:
		return false // it would be empty
	case old.root == nil:
		rest := made.withoutList()
		return len(rest) == 2 && rest[0].Value == "format"
	}
	is, was := made.holder.Content, old.holder.Content
	defer func() { made.holder.Content, old.holder.Content = is, was }()
	made.holder.Content, old.holder.Content = made.withoutList(), old.withoutList()
	return same(old.root, made.root)
}

// readBack checks that nodes of a list read as these items, completely.
func (rec *record) readBack(nodes []*yaml.Node, items []item) error {
	quiet := &reader{source: rec.source, zone: cmp.Or(rec.zone, time.UTC)}
	for i, n := range nodes {
		says, whole := items[i].read(value{reader: quiet, node: n})
		if !whole {
			return fmt.Errorf("the %s could not be read again: %s", rec.at.words().one, quiet.problems[0].Message)
		}
		if says != items[i].says {
			return fmt.Errorf("the %s would be read as %s instead of %s", rec.at.words().one, says, items[i].says)
		}
	}
	return nil
}

func nodesOf(list *yaml.Node) []*yaml.Node {
	if isNothing(list) {
		return nil
	}
	return list.Content
}

// same reports whether two trees have the same content.
func same(a, b *yaml.Node) bool {
	return a.Kind == b.Kind && a.Tag == b.Tag && a.Value == b.Value && a.Anchor == b.Anchor && slices.EqualFunc(a.Content, b.Content, same)
}

func (rec *record) withoutList() []*yaml.Node {
	rest := slices.Clone(rec.holder.Content)
	if i := keyAt(rec.holder, rec.at.key); i >= 0 {
		rest = slices.Delete(rest, i, i+2)
	}
	return rest
}
