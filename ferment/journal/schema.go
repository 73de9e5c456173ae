package journal

import (
	"bytes"
	"encoding/json"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"cellar/jugkeeper/ferment/measure"
)

// Schema returns the JSON Schema (draft 7) of a kind of file. A schema cannot say what
// the files say of each other, nor the range of a number with a unit.
func (f File) Schema() map[string]any {
	s := groupOf(f.keys(), "")
	s["$schema"], s["title"], s["description"] = "http://json-schema.org/draft-07/schema#", "jugkeeper "+f.Name, f.Place+": "+f.Does
	s["type"] = []string{"object", "null"}
	return s
}

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

// schema returns what one key takes. A list that may be one item alone has what the item
// has: each word of a schema counts for values of its own type only.
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
	if _, has := s["pattern"]; has { // which a YAML language server shows in place of the pattern
		s["patternErrorMessage"] = k.Name + " takes " + k.Takes() + ", e.g. " + k.Name + ": " + k.Example
	}
	return s
}

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
		return map[string]any{"type": []string{"string"}, "pattern": `^\s*\d{4}-\d\d-\d\d([Tt ]+\d\d:\d\d.*)?$`}
	case Point:
		return map[string]any{"type": []string{"string", "object"}, "maxProperties": 1, "additionalProperties": false,
			"properties": map[string]any{"first": map[string]any{}, "last": map[string]any{}}}
	case Parsed:
		return k.quantity()
	}
	s := map[string]any{"type": []string{"string", "number", "boolean", "null"}}
	switch {
	case k.form == Figures:
		s["type"] = append(s["type"].([]string), "object")
	case k.pattern != "":
		s["type"], s["pattern"] = []string{"string", "integer", "boolean"}, k.pattern
	}
	return s
}

// quantity returns a number with a unit, or without.
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

// anyCase returns patterns that match units in either case, °C without its sign.
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

// schemaFile returns where the schema of a kind of file is kept in a cellar.
func schemaFile(name string) string { return path.Join("schemas", name+".json") }

// Text returns the schema as a file has it.
func (f File) Text() []byte {
	text, _ := json.MarshalIndent(f.Schema(), "", "  ") // of texts and numbers alone
	return append(text, '\n')
}

// schemaTexts are the schemas by their places: that of a ferment a second time, for
// the closed ones, which are a folder further down.
var schemaTexts = sync.OnceValue(func() map[string][]byte {
	texts := map[string][]byte{}
	for _, f := range Files() {
		texts[schemaFile(f.Name)] = f.Text()
	}
	texts[path.Join("ferments", schemaFile("ferment"))] = texts[schemaFile("ferment")]
	return texts
})

// keepSchemas writes the schemas beside the files, where editors look for them. They
// are no part of the record: one that cannot be written is left out.
func (s *Store) keepSchemas() {
	for file, text := range schemaTexts() {
		if had, err := os.ReadFile(s.path(file)); err != nil || !bytes.Equal(had, text) {
			_ = os.MkdirAll(filepath.Dir(s.path(file)), 0o777)
			_ = os.WriteFile(s.path(file), text, 0o666)
		}
	}
}
