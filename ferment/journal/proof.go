package journal

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
)

// prove reads a new text and tells where its new entries begin, if it is the
// old record and exactly these entries in a row.
func prove(old *record, text []byte, entries []ferment.Entry) (line int, err error) {
	made, err := recordOf(text, old.culture)
	if err != nil {
		return 0, fmt.Errorf("with the entry in it %w", err)
	}
	if len(made.cuts) != len(old.cuts) || !sameBut(old.root, made.root, old.holder, made.holder) {
		return 0, errors.New("the rest of the file would not stay as it is")
	}
	before, after := itemsOf(old.log()), itemsOf(made.log())
	added := len(after) - len(before)
	if added != len(entries) {
		return 0, errors.New("the log would not keep its entries")
	}
	err = errors.New("the log would not keep its entries as they are")
	at := alike(before, after)
	if !slices.EqualFunc(before[at:], after[at+added:], same) {
		return 0, err
	}
	for ; at >= 0; at-- { // between equal entries there are several places to look
		if err = readBack(made.reader, after[at:at+added], entries); err == nil {
			return after[at].Line, nil
		}
		if at == 0 || !same(before[at-1], after[at-1+added]) {
			break
		}
	}
	return 0, err
}

// alike is how many items two logs have in common at their beginning.
func alike(a, b []*yaml.Node) int {
	n := 0
	for n < len(a) && n < len(b) && same(a[n], b[n]) {
		n++
	}
	return n
}

// readBack tells whether items of a log are these entries, whole.
func readBack(r *reader, items []*yaml.Node, entries []ferment.Entry) error {
	quiet := &reader{source: r.source, zone: time.UTC}
	for i, n := range items {
		e, ok := readEntry(value{reader: quiet, node: n})
		if !ok {
			return fmt.Errorf("the entry could not be read again: %s", quiet.problems[0].Message)
		}
		if got, want := flowEntry(inUTC(e)), flowEntry(inUTC(entries[i])); got != want {
			return fmt.Errorf("the entry would be read as %s instead of %s", got, want)
		}
	}
	return nil
}

// inUTC is an entry with its times in one zone, to be compared.
func inUTC(e ferment.Entry) ferment.Entry {
	for _, m := range []*ferment.Moment{&e.At, &e.Remind} {
		if !m.DayOnly && !m.IsZero() {
			m.Time = m.Time.UTC()
		}
	}
	return e
}

func itemsOf(log *yaml.Node) []*yaml.Node {
	if isNothing(log) {
		return nil
	}
	return log.Content
}

// same tells whether two trees say the same, wherever they stand.
func same(a, b *yaml.Node) bool { return sameBut(a, b, nil, nil) }

// sameBut is same but for the log of one mapping.
func sameBut(a, b, holderA, holderB *yaml.Node) bool {
	if a.Kind != b.Kind || a.Tag != b.Tag || a.Value != b.Value || a.Anchor != b.Anchor {
		return false
	}
	inA, inB := a.Content, b.Content
	if a == holderA && b == holderB && a != nil {
		inA, inB = withoutLog(a), withoutLog(b)
	}
	return slices.EqualFunc(inA, inB, func(x, y *yaml.Node) bool { return sameBut(x, y, holderA, holderB) })
}

func withoutLog(mapping *yaml.Node) []*yaml.Node {
	var rest []*yaml.Node
	for i := 0; i+1 < len(mapping.Content); i += 2 {
		if mapping.Content[i].Value != "log" {
			rest = append(rest, mapping.Content[i], mapping.Content[i+1])
		}
	}
	return rest
}
