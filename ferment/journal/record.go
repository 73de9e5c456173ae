package journal

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
)

// A spot is a list of a file: behind a key of the file, or of one item of a list of it.
type spot struct {
	list, id string // the list, and the id of its item that has the key; empty for the file itself
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

// begins reports whether the list may be the first thing in an empty file.
func (at spot) begins() bool { return at.list == "" && at.key != "log" }

// A naming is what a list and what stands in it are called.
type naming struct{ one, an, many, list string }

func (at spot) words() naming {
	return map[string]naming{
		"log":      {"entry", "an entry", "entries", "log"},
		"lots":     {"lot", "a lot", "lots", "list of lots"},
		"used":     {"use", "a use", "uses", "list of uses"},
		"cultures": {"culture", "a culture", "cultures", "list of cultures"},
	}[at.key]
}

// A record is the tree of a file, with the way to one list in it.
type record struct {
	*reader
	at     spot
	root   *yaml.Node // nil for an empty file
	holder *yaml.Node // the mapping that has the list, or could have it
	limit  int        // the last line that can belong to the holder
}

// recordOf reads a text for writing. Entries with syntax errors are left out of
// the tree; any other syntax error makes every place uncertain.
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

// limitOf returns the last line that can belong to a key's value: that before the next key.
func limitOf(mapping *yaml.Node, key string, limit int) int {
	if i := keyAt(mapping, key); i >= 0 && i+2 < len(mapping.Content) {
		return mapping.Content[i+2].Line - 1
	}
	return limit
}

// lacking returns the entries that are not in the list, to the second and the letter.
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

// prove tells where the new items begin in a text, if it is the old record with these in a row.
func prove(old *record, text []byte, items []item) (line int, err error) {
	made, err := recordOf(text, old.at)
	if err != nil {
		return 0, fmt.Errorf("with the %s in it %w", old.at.words().one, err)
	}
	if len(made.cuts) != len(old.cuts) || !restStays(old, made) {
		return 0, errors.New("the rest of the file would not stay as it is")
	}
	before, after := nodesOf(old.list()), nodesOf(made.list())
	added := len(after) - len(before)
	if added != len(items) {
		return 0, fmt.Errorf("the %s would not keep its %s", old.at.words().list, old.at.words().many)
	}
	err = fmt.Errorf("the %s would not keep its %s as they are", old.at.words().list, old.at.words().many)
	at := 0 // how many items the two lists have in common at their beginning
	for at < len(before) && at < len(after) && same(before[at], after[at]) {
		at++
	}
	if !slices.EqualFunc(before[at:], after[at+added:], same) {
		return 0, err
	}
	for ; at >= 0; at-- { // between equal items there are several places to look
		if err = made.readBack(after[at:at+added], items); err == nil {
			return after[at].Line, nil
		}
		if at == 0 || !same(before[at-1], after[at-1+added]) {
			break
		}
	}
	return 0, err
}

// restStays reports whether two records are alike apart from the list; an empty one gains its format.
func restStays(old, made *record) bool {
	switch {
	case made.root == nil:
		return false // it would hold nothing
	case old.root == nil:
		rest := made.withoutList()
		return len(rest) == 2 && rest[0].Value == "format"
	}
	is, was := made.holder.Content, old.holder.Content
	defer func() { made.holder.Content, old.holder.Content = is, was }()
	made.holder.Content, old.holder.Content = made.withoutList(), old.withoutList()
	return same(old.root, made.root)
}

// readBack reports whether nodes of a list are these items, whole.
func (rec *record) readBack(nodes []*yaml.Node, items []item) error {
	quiet := &reader{source: rec.source, zone: time.UTC}
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

// nodesOf returns the items of a list, none of one that is empty.
func nodesOf(list *yaml.Node) []*yaml.Node {
	if isNothing(list) {
		return nil
	}
	return list.Content
}

// same reports whether two trees say the same, wherever they are.
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
