package journal

import (
	"strings"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
)

// A field is one key of a noun: how it is read, and how it is written where
// the program writes that noun.
type field[T any] struct {
	key     string
	example string
	read    func(v value, into *T)
	write   func(from *T, style style) string // empty for nothing
}

// A table holds the fields of a noun in the order in which they are written.
type table[T any] struct {
	noun   string
	fields []field[T]
	places map[string]int
	keys   []string
}

// tableOf is the table of a noun with at most 64 fields.
func tableOf[T any](noun string, fields ...field[T]) *table[T] {
	t := &table[T]{noun: noun, fields: fields, places: make(map[string]int, len(fields)), keys: make([]string, 0, len(fields))}
	for i, f := range fields {
		t.places[f.key] = i
		t.keys = append(t.keys, f.key)
	}
	return t
}

// read fills a noun from a mapping. Every key is looked at, however many are
// wrong.
func (t *table[T]) read(v value, into *T) {
	if !v.plain() {
		return
	}
	if v.node.Kind != yaml.MappingNode {
		v.fail(v.node, "%s is no group of keys (e.g. %s: %s)", t.noun, t.fields[0].key, t.fields[0].example)
		return
	}
	var seen uint64
	for i := 0; i+1 < len(v.node.Content); i += 2 {
		key, n := v.node.Content[i], v.node.Content[i+1]
		place, known := t.places[key.Value]
		if !known || key.Kind != yaml.ScalarNode || key.Anchor != "" {
			t.unknown(v.reader, key)
			continue
		}
		f, bit := t.fields[place], uint64(1)<<place
		if seen&bit != 0 {
			v.fail(key, "%q stands twice in %s (leave one, %s)", f.key, t.noun, value{key: f.key, example: f.example}.eg())
			continue
		}
		seen |= bit
		f.read(value{v.reader, n, f.key, f.example}, into)
	}
}

func (t *table[T]) unknown(r *reader, key *yaml.Node) {
	if key.Kind != yaml.ScalarNode || key.Anchor != "" {
		r.fail(key, "a key of %s is one word and nothing else (e.g. %s: %s)", t.noun, t.fields[0].key, t.fields[0].example)
		return
	}
	if strings.Trim(key.Value, "0123456789 ") == "" {
		r.fail(key, "%s stands alone in %s: between braces a comma parts keys (write decimals with a point, e.g. 1.055)", quote(key.Value), t.noun)
		return
	}
	if near := ferment.Nearest(short(key.Value, 40), t.keys); near != "" {
		f := t.fields[t.places[near]]
		r.fail(key, "%s is no key of %s (did you mean %s, e.g. %s: %s)", quote(key.Value), t.noun, near, near, f.example)
		return
	}
	r.fail(key, "%s is no key of %s (it has %s)", quote(key.Value), t.noun, some(t.keys, 12))
}

// some are words in a row, the first of them where there are many.
func some(words []string, most int) string {
	if len(words) <= most+2 {
		return strings.Join(words, ", ")
	}
	return strings.Join(words[:most], ", ") + " and more"
}

// has tells whether a mapping has a key.
func (v value) has(key string) bool { return child(v.node, key) != nil }

// missing notes that a noun lacks a key it cannot do without.
func (v value) missing(noun, key, example string) {
	v.fail(v.node, "%s needs %s (e.g. %s: %s)", noun, key, key, example)
}
