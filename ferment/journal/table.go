package journal

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// field is one key of a noun: how it is read, how it is written (if the program writes that noun), and its description.
type field[T any] struct {
	key     string
	example string
	read    func(v value, into *T)
	write   func(from *T, style style) string // returns empty for nothing
	shape   shape
	does    string
}

// is says what the field is, for help and schema.
func (f field[T]) is(does string) field[T] {
	f.does = does
	return f
}

// as says which form the field has, for help and schema.
func (f field[T]) as(s shape) field[T] {
	f.shape = s
	return f
}

// table has the fields of a noun in the order of writing.
type table[T any] struct {
	noun   string
	fields []field[T]
	places map[string]int
	keys   []string
}

// tableOf makes a table of at most 64 fields.
func tableOf[T any](noun string, fields ...field[T]) *table[T] {
	t := &table[T]{noun: noun, fields: fields, places: make(map[string]int, len(fields)), keys: make([]string, 0, len(fields))}
	for i, f := range fields {
		t.places[f.key] = i
		t.keys = append(t.keys, f.key)
	}
	return t
}

// eg returns an example with the first two keys.
func (t *table[T]) eg() string {
	var pairs []string
	for _, f := range t.fields[:min(2, len(t.fields))] {
		pairs = append(pairs, f.key+": "+f.example)
	}
	return "{" + strings.Join(pairs, ", ") + "}"
}

// read fills a noun from a mapping. Every key is checked, however many are wrong.
func (t *table[T]) read(v value, into *T) {
	if !v.plain() {
		return
	}
	if v.node.Kind != yaml.MappingNode {
		v.fail(v.node, "%s is written with its keys (e.g. %s)", t.noun, t.eg())
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
			v.fail(key, "%q is twice in %s (leave one, %s)", f.key, t.noun, value{key: f.key, example: f.example}.eg())
			continue
		}
		seen |= bit
		f.read(value{v.reader, n, f.key, f.example}, into)
	}
}

// unknown says that a key is not known, and which was probably meant.
func (t *table[T]) unknown(r *reader, key *yaml.Node) {
	if key.Kind != yaml.ScalarNode || key.Anchor != "" {
		r.fail(key, "a key of %s is one word and nothing else (e.g. %s: %s)", t.noun, t.fields[0].key, t.fields[0].example)
		return
	}
	if strings.Trim(key.Value, "0123456789 ") == "" {
		r.fail(key, "%s has no value in %s: between braces a comma separates keys (write decimals with a point, e.g. 1.055)", quote(key.Value), t.noun)
		return
	}
	if near := ferment.Nearest(short(key.Value, 40), t.keys); near != "" {
		f := t.fields[t.places[near]]
		r.fail(key, "%s is no key of %s (did you mean %s, e.g. %s: %s)", quote(key.Value), t.noun, near, near, f.example)
		return
	}
	r.fail(key, "%s is no key of %s (it has %s)", quote(key.Value), t.noun, some(t.keys, 12))
}

// some lists words, only the first of them if there are many.
func some(words []string, most int) string {
	if len(words) <= most+2 {
		return strings.Join(words, ", ")
	}
	return strings.Join(words[:most], ", ") + " and more"
}

func (v value) has(key string) bool { return child(v.node, key) != nil }

func (v value) missing(noun, key, example string) {
	v.fail(v.node, "%s needs %s (e.g. %s: %s)", noun, key, key, example)
}

// one is a field of one value: how it is read, where it is kept, how it is written.
func one[T, V any](key, example string, read func(value) (V, bool), set func(*T, V), write func(*T, style) string) field[T] {
	return field[T]{key: key, example: example, read: func(v value, into *T) {
		if x, ok := read(v); ok {
			set(into, x)
		}
	}, write: write}
}

// many is a field of a list, of which one value may stand alone.
func many[T, V any](key, example string, read func(value) (V, bool), at func(*T) *[]V, write func([]V, style) string) field[T] {
	return field[T]{key: key, example: example,
		read: func(v value, into *T) {
			for _, item := range v.items() {
				if x, ok := read(item); ok {
					*at(into) = append(*at(into), x)
				}
			}
		},
		write: func(from *T, s style) string { return write(*at(from), s) },
	}
}

// to returns a setter of the place in the noun.
func to[T, V any](at func(*T) *V) func(*T, V) { return func(into *T, x V) { *at(into) = x } }

// wordBy returns a reader of one word by its parser.
func wordBy[V any](parse func(string) (V, error)) func(value) (V, bool) {
	return func(v value) (x V, ok bool) {
		s, ok := v.word()
		if !ok {
			return x, false
		}
		x, err := parse(s)
		if err != nil {
			v.refuse(err)
		}
		return x, err == nil
	}
}

// given is the field of a quantity that keeps its typed digits.
func given[T, V any](key, example string, parse func(string) (measure.Given[V], error), at func(*T) *measure.Given[V]) field[T] {
	return one(key, example, wordBy(parse), to(at), func(from *T, s style) string { return s.scalar(at(from).Text) }).as(shape{form: Parsed})
}

// amount is the field of a quantity stored as a plain value.
func amount[T, V any](key, example string, parse func(string) (measure.Given[V], error), at func(*T) *V) field[T] {
	return one(key, example, wordBy(parse), func(into *T, g measure.Given[V]) { *at(into) = g.Value }, nil).as(shape{form: Parsed})
}

func scale[V ~float64](name string, low, high V, example string) func(string) (measure.Given[V], error) {
	return func(s string) (measure.Given[V], error) { return measure.ParseScale(s, name, low, high, example) }
}

// parsed is the field of anything that a parser reads from one word. It is never written.
func parsed[T, V any](key, example string, parse func(string) (V, error), set func(*T, V)) field[T] {
	return one(key, example, wordBy(parse), set, nil).as(shape{form: Parsed})
}

func text[T any](key, example string, at func(*T) *string) field[T] {
	return one(key, example, value.scalar, to(at), func(from *T, s style) string { return s.scalar(ferment.Harmless(*at(from))) })
}

// lines is a field of text in several lines.
func lines[T any](key, example string, at func(*T) *string) field[T] {
	return one(key, example, value.lines, to(at), func(from *T, s style) string { return s.scalar(*at(from)) })
}

func texts[T any](key, example string, at func(*T) *[]string) field[T] {
	return many(key, example, func(v value) (string, bool) {
		s, ok := v.scalar()
		return s, ok && s != ""
	}, at, flowList).as(shape{several: true})
}

func word[T any, W ~string](key string, words []string, at func(*T) *W) field[T] {
	return one(key, words[0], func(v value) (W, bool) {
		s, ok := v.oneOf(words)
		return W(s), ok
	}, to(at), func(from *T, s style) string { return s.scalar(string(*at(from))) }).as(shape{form: Word, words: words})
}

func words[T any](key, example string, of []string, at func(*T) *[]string) field[T] {
	return many(key, example, func(v value) (string, bool) { return v.oneOf(of) }, at, flowList).as(shape{form: Word, words: of, several: true})
}

func (v value) oneOf(words []string) (string, bool) {
	s, ok := v.word()
	if !ok {
		return "", false
	}
	if slices.Contains(words, s) {
		return s, true
	}
	hint := "one of " + some(words, 12)
	if near := ferment.Nearest(s, words); near != "" {
		hint = "did you mean " + v.key + ": " + near
	} else if len(words) == 1 {
		hint = "only " + words[0]
	}
	v.fail(v.node, "%s %s is not one of its words (%s)", v.key, quote(s), hint)
	return "", false
}

// flag is the field of true or false. It is never written.
func flag[T any](key string, at func(*T) *bool) field[T] {
	return one(key, "true", func(v value) (is, ok bool) {
		s, ok := v.word()
		if ok && s != "true" && s != "false" {
			v.wrong("%s is neither true nor false", quote(s))
			return false, false
		}
		return s == "true", ok
	}, to(at), nil).as(shape{form: Flag})
}

// whole is the field of an integer in a range; 0 is not written.
func whole[T any](key, example string, low, high int, at func(*T) *int) field[T] {
	return one(key, example, func(v value) (int, bool) { return v.whole(low, high) }, to(at), func(from *T, _ style) string {
		if n := *at(from); n != 0 {
			return strconv.Itoa(n)
		}
		return ""
	}).as(shape{form: Whole, low: low, high: high})
}

func (v value) whole(low, high int) (int, bool) {
	s, ok := v.word()
	if !ok {
		return 0, false
	}
	n, err := strconv.Atoi(s)
	switch {
	case err != nil:
		v.wrong("%s is not a whole number", quote(s))
	case n < low || n > high:
		v.fail(v.node, "%s %s is out of range (%d to %d, e.g. %s: %s)", v.key, quote(s), low, high, v.key, v.example)
	default:
		return n, true
	}
	return 0, false
}

func wholes[T any](key, example string, low, high int, at func(*T) *[]int) field[T] {
	return many(key, example, func(v value) (int, bool) { return v.whole(low, high) }, at, func(ns []int, s style) string {
		return flowList(ferment.Map(ns, strconv.Itoa), s)
	}).as(shape{form: Whole, low: low, high: high, several: true})
}

func moment[T any](key, example string, at func(*T) *ferment.Moment) field[T] {
	read := func(v value) (ferment.Moment, bool) {
		return wordBy(func(s string) (ferment.Moment, error) { return ferment.ParseMoment(s, v.zone) })(v)
	}
	return one(key, example, read, to(at), func(from *T, s style) string { return momentText(*at(from), s) }).as(shape{form: Time})
}

func momentText(m ferment.Moment, s style) string {
	switch {
	case m.IsZero():
		return ""
	case m.DayOnly:
		return m.Time.Format(time.DateOnly)
	case s == compared:
		return m.Time.UTC().Format(time.RFC3339)
	}
	return m.Time.Format(time.RFC3339)
}

func group[T, V any](key, example string, t *table[V], at func(*T) *V) field[T] {
	return field[T]{key: key, example: example,
		read: func(v value, into *T) {
			if isNothing(v.node) {
				v.wrong("has no value")
				return
			}
			t.read(v, at(into))
		},
		write: func(from *T, s style) string { return t.braces(at(from), s) },
	}.as(shape{form: Group, of: t.describe})
}

func list[T, V any](key, example string, t *table[V], at func(*T) *[]V) field[T] {
	return many(key, example, func(v value) (noun V, ok bool) {
		t.read(v, &noun)
		return noun, true
	}, at, t.listed).as(shape{form: Group, of: t.describe, several: true})
}

// format is the field of the file's version, which every file begins with.
func format[T any]() field[T] {
	return field[T]{key: "format", example: "1", read: func(v value, _ *T) {
		if s, ok := v.word(); ok && s != strconv.Itoa(Newest) {
			v.wrong("%s is no format of these files", quote(s))
		}
	}}.as(shape{form: Whole, low: 1, high: Newest}).is("the version of these files")
}
