package journal

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"gopkg.in/yaml.v3"
)

// prove reads a new text and tells where its new items begin, if it is the
// old record and exactly these items in a row.
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

// restStays tells whether two records say the same apart from the list. An empty
// one becomes one that begins with its format.
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

// readBack tells whether nodes of a list are these items, whole.
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

// same tells whether two trees say the same, wherever they are.
func same(a, b *yaml.Node) bool {
	return a.Kind == b.Kind && a.Tag == b.Tag && a.Value == b.Value && a.Anchor == b.Anchor && slices.EqualFunc(a.Content, b.Content, same)
}

// withoutList returns what the holder has besides the list.
func (rec *record) withoutList() []*yaml.Node {
	rest := slices.Clone(rec.holder.Content)
	if i := keyAt(rec.holder, rec.at.key); i >= 0 {
		rest = slices.Delete(rest, i, i+2)
	}
	return rest
}
