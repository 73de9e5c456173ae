package journal

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
)

// Form is the form of a key's value.
type Form int

// The forms.
const (
	Free    Form = iota // any words
	Word                // one of Words
	Flag                // true or false
	Whole               // a whole number
	Parsed              // a quantity, or what a parser of its own reads
	Time                // a time or a day
	Point               // a time in a plan: words, or the first or last of several
	Group               // Keys of its own
	Map                 // words by any key
	Figures             // words, or figures by their names
)

// shape is how a value is written, for the description of a key.
type shape struct {
	form      Form
	words     []string
	low, high int
	of        func() []Key
	needs     string // a required key of a group
	several   bool   // a list, or a single value
	list      bool   // a list only
	pattern   string
}

// like gives the schema a pattern for the field.
func (f field[T]) like(pattern string) field[T] {
	f.shape.pattern = pattern
	return f
}

// legal is the pattern of an id, as ferment.LegalName has it.
var legal = fmt.Sprintf("^[A-Za-z0-9_][A-Za-z0-9_-]{0,%d}$", ferment.LongestName-1)

// Key is one key of a file, as described by the table that reads it.
type Key struct {
	Name, Does, Example string
	Keys                []Key    // of a group
	Units               []string // units of its number
	Span                bool     // "A to B" is allowed too
	Bare                bool     // a number without a unit, from Low to High
	Low, High           float64
	signed              bool // a number with a unit may be negative
	shape
}

// File is a kind of file of a cellar.
type File struct {
	Name, Place, Does string
	keys              func() []Key
}

// Keys returns the keys of the file.
func (f File) Keys() []Key { return f.keys() }

// Files returns the kinds of files.
func Files() []File {
	return []File{
		{"ferment", "ferments/NAME.yaml", "one ferment: what it was made of, and its log; the name of the file is its name", fermentTable.describe},
		{"cellar", "cellar.yaml", "the settings; may be missing", settingsTable.describe},
		{"honey", honeyFile, "honey lots", honeyFileTable.describe},
		{"cultures", culturesFile, "yeast cultures", culturesFileTable.describe},
		{"protocol", "protocols/NAME.yaml", "a plan of your own; it replaces a built-in plan of the same name", protocolTable.describe},
	}
}

func (t *table[T]) describe() []Key {
	return ferment.Map(t.fields, field[T].describe)
}

var timeUnits = []string{string(ferment.Minute), string(ferment.Hour), string(ferment.Day), string(ferment.Week), string(ferment.Month)}

var aNumber = ferment.Pattern(measure.NumberPattern)

// describe finds the units and ranges of a parser by trying values with the number of the example.
func (f field[T]) describe() Key {
	k := Key{Name: f.key, Does: f.does, Example: f.example, shape: f.shape}
	if k.of != nil {
		k.Keys = k.of()
	}
	text := aNumber().FindString(f.example)
	number, err := measure.ParseNumber(text)
	switch {
	case k.form != Parsed:
		return k
	case err != nil: // a parser of words
		k.form = Free
		return k
	}
	for _, unit := range append(measure.Units(), timeUnits...) {
		if f.takes(text + " " + unit) {
			k.Units = append(k.Units, unit)
			k.signed = k.signed || f.takes("-"+text+" "+unit)
			k.Span = k.Span || f.takes(text+" to "+text+" "+unit)
		}
	}
	if f.takes(text) {
		k.Bare, k.Low, k.High = true, f.edge(number, -1e6), f.edge(number, 1e6)
	}
	k.words = append(k.words, ferment.Where([]string{"unknown", "none"}, f.takes)...)
	return k
}

func (f field[T]) takes(text string) bool {
	var into T
	r := newReader("", nil, time.UTC)
	f.read(value{r, &yaml.Node{Kind: yaml.ScalarNode, Value: text}, f.key, f.example}, &into)
	return r.count == 0
}

// edge returns the last bare number that a field accepts, from an accepted one towards another.
func (f field[T]) edge(from, toward float64) float64 {
	for range 60 {
		if middle := (from + toward) / 2; f.takes(measure.Decimal(middle, 9)) {
			from = middle
		} else {
			toward = middle
		}
	}
	return math.Round(from*1e6)/1e6 + 0 // no -0
}

// Takes says how a key is written: "a mass", "a number, 0.97 to 1.25".
func (k Key) Takes() string {
	says := map[Form]string{Free: "words", Word: ferment.Either(k.words), Flag: "true or false", Whole: fmt.Sprintf("a whole number, %d to %d", k.low, k.high),
		Parsed: ferment.Either(k.numbers()), Time: "a time or a day", Point: "a point in time", Group: "a group of keys", Map: "a word for each", Figures: "words, or a group of figures"}[k.form]
	switch {
	case k.list:
		return "a list, each item " + says
	case k.several:
		return says + "; several as a list"
	}
	return says
}

func (k Key) numbers() []string {
	var says, kinds []string
	if k.Bare {
		says = append(says, fmt.Sprintf("a number, %s to %s", measure.Of(k.Low, "").Text, measure.Of(k.High, "").Text))
	}
	for _, unit := range k.Units {
		kind := string(measure.Of(1, unit).Dimension())
		if slices.Contains(timeUnits, unit) {
			kind = "length of time (" + ferment.Either(timeUnits) + ")"
		}
		if !slices.Contains(kinds, kind) {
			kinds = append(kinds, kind)
		}
	}
	if len(kinds) > 0 {
		says = append(says, "a "+ferment.Either(kinds))
	}
	if k.Span {
		says = append(says, "a lowest and a highest")
	}
	if says = append(says, k.words...); len(says) == 0 {
		return []string{"as in the example"}
	}
	return says
}

// Schema returns the JSON Schema (draft 7) of a kind of file. It cannot express what depends on other files, nor the
// range of a number with a unit.
func (f File) Schema() map[string]any {
	s := groupOf(f.keys(), "")
	s["$schema"], s["title"], s["description"] = "http://json-schema.org/draft-07/schema#", "jugkeeper "+f.Name, f.Place+": "+f.Does
	s["type"] = []string{"object", "null"}
	return s
}

// groupOf returns the schema of a group of keys, one of which may be needed.
func groupOf(keys []Key, needs string) map[string]any {
	properties := map[string]any{}
	for _, k := range keys {
		properties[k.Name] = k.schema()
	}
	s := map[string]any{"type": []string{"object"}, "properties": properties, "additionalProperties": false}
	if needs != "" {
		s["required"] = []string{needs}
	}
	return s
}

// schema returns the schema of one key. A list that may be a single value has the words of both: each word of a schema
// only applies to its own type.
func (k Key) schema() map[string]any {
	s := k.one()
	switch {
	case k.list:
		s = map[string]any{"type": []string{"array", "null"}, "items": s}
	case k.several && k.form == Word:
		s = map[string]any{"anyOf": []any{s, map[string]any{"type": []string{"array", "null"}, "items": s}}}
	case k.several:
		item := s
		s = map[string]any{"items": item}
		for word, says := range item {
			s[word] = says
		}
		s["type"] = append(slices.DeleteFunc(slices.Clone(item["type"].([]string)), func(t string) bool { return t == "null" }), "array", "null")
	}
	s["description"] = k.Does + ", e.g. " + k.Name + ": " + k.Example
	if _, has := s["pattern"]; has { // a YAML language server shows it instead of the pattern
		s["patternErrorMessage"] = k.Name + " takes " + k.Takes() + ", e.g. " + k.Name + ": " + k.Example
	}
	return s
}

// one returns the schema of one value.
func (k Key) one() map[string]any {
	switch k.form {
	case Word:
		return map[string]any{"enum": k.words}
	case Flag:
		return map[string]any{"enum": []any{true, false, "true", "false"}}
	case Whole:
		return map[string]any{"type": []string{"integer", "string"}, "minimum": k.low, "maximum": k.high, "pattern": "^[0-9]+$"}
	case Group:
		return groupOf(k.Keys, k.needs)
	case Map:
		return map[string]any{"type": []string{"object"}, "additionalProperties": map[string]any{"type": []string{"string", "number", "boolean"}}}
	case Time:
		return map[string]any{"type": []string{"string"}, "pattern": `^\s*(19\d\d|2[01]\d\d|2200)-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])([Tt ]+\d\d:\d\d.*)?$`}
	case Point:
		return pointOf(2)
	case Parsed:
		return k.quantity()
	}
	s := map[string]any{"type": []string{"string", "number", "boolean", "null"}}
	switch {
	case k.form == Figures:
		s["type"] = append(s["type"].([]string), "object")
	case k.pattern != "":
		s["type"], s["pattern"], s["minimum"] = []string{"string", "integer", "boolean"}, k.pattern, 0
	}
	return s
}

// pointOf returns the schema of a point in time: words, or the first or last of several. What is nested deeper than a
// number of times may be anything.
func pointOf(deep int) map[string]any {
	if deep == 0 {
		return map[string]any{}
	}
	several := map[string]any{"type": []string{"array"}, "minItems": 1, "items": pointOf(deep - 1)}
	return map[string]any{"type": []string{"string", "object"}, "minProperties": 1, "maxProperties": 1, "additionalProperties": false,
		"properties": map[string]any{"first": several, "last": several}}
}

// quantity returns the schema of a number with or without a unit.
func (k Key) quantity() map[string]any {
	s := map[string]any{"type": []string{"string"}}
	number := `\s*` + measure.NumberPattern + `\s*`
	var patterns []string
	if k.Bare {
		s["type"], s["minimum"], s["maximum"] = []string{"number", "string"}, k.Low, k.High
		patterns = append(patterns, number)
	}
	if len(k.Units) > 0 {
		units := "(" + strings.Join(anyCase(k.Units), "|") + ")"
		if !k.signed {
			number = strings.Replace(number, "[-+−]?", `\+?`, 1)
		}
		one := "(" + number + units + `\s*)+`
		if k.Span {
			one = "(" + number + units + `?\s*to)?` + one
		}
		patterns = append(patterns, one)
	}
	switch {
	case k.pattern != "":
		s["pattern"] = k.pattern
	case len(patterns) > 0:
		s["pattern"] = "^(" + strings.Join(append(patterns, k.words...), "|") + ")$"
	}
	return s
}

// anyCase returns patterns for units in upper or lower case, °C also without its sign.
func anyCase(units []string) []string {
	out := make([]string, len(units))
	for i, unit := range units {
		for _, r := range unit {
			switch lower, upper := strings.ToLower(string(r)), strings.ToUpper(string(r)); {
			case r == '°':
				out[i] += "°?"
			case r == ' ':
				out[i] += `\s*`
			case lower != upper:
				out[i] += "[" + lower + upper + "]"
			default:
				out[i] += string(r)
			}
		}
	}
	return out
}

func schemaFile(name string) string { return path.Join("schemas", name+".json") }

// Text returns the schema as a file has it.
func (f File) Text() []byte {
	text, _ := json.MarshalIndent(f.Schema(), "", "  ") // of texts and numbers alone
	return append(text, '\n')
}

// schemaTexts are the schemas by path, that of a ferment also for closed ones.
var schemaTexts = sync.OnceValue(func() map[string][]byte {
	texts := map[string][]byte{}
	for _, f := range Files() {
		texts[schemaFile(f.Name)] = f.Text()
	}
	texts[path.Join("ferments", schemaFile("ferment"))] = texts[schemaFile("ferment")]
	return texts
})

// keepSchemas writes the schemas next to the files for editors; errors are ignored.
func (s *Store) keepSchemas() {
	for file, text := range schemaTexts() {
		if had, err := ReadSmall(s.path(file)); err != nil || !bytes.Equal(had, text) {
			_ = os.MkdirAll(filepath.Dir(s.path(file)), 0o777)
			_ = os.WriteFile(s.path(file), text, 0o666)
		}
	}
}
