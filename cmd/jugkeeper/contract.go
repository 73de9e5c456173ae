package main

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/tui/layout"
)

// contract is the version of --json. Fields may be added without changing it.
const contract = 1

type document struct {
	command string // with its arguments, if they matter
	holds   any    // a value of its type
}

// documents are the documents of --json by command; other commands refuse it. The tags of a type describe its fields.
var documents = []document{
	{"today", todayJSON{}}, {"jugkeeper", todayJSON{}}, {"demo", todayJSON{}},
	{"log", keptJSON{}}, {"done", keptJSON{}}, {"skip", keptJSON{}},
	{"show", showJSON{}}, {"compare", compareJSON{}}, {"compare --yeast", experienceJSON{}}, {"check", checkJSON{}}, {"new", madeJSON{}},
	{"protocol", protocolsJSON{}}, {"work", []figureJSON{}}, {"work FIGURE", answerJSON{}}, {"version", versionJSON{}},
	{"an error", errorJSON{}},
}

func refusesJSON(cmd *cobra.Command, f flags) error {
	if f.json && !slices.ContainsFunc(documents, func(d document) bool { return d.command == cmd.Name() }) {
		return usage("%s writes no JSON: leave --json out", cmd.Name())
	}
	return nil
}

type field struct {
	name, does string
	optional   bool // left out if empty
	of         reflect.Type
}

// fieldsOf returns the fields of a type, with those of embedded types.
func fieldsOf(t reflect.Type) []field {
	var all []field
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Anonymous {
			all = append(all, fieldsOf(f.Type)...)
			continue
		}
		name, rest, _ := strings.Cut(f.Tag.Get("json"), ",")
		all = append(all, field{name, f.Tag.Get("does"), rest == "omitempty", f.Type})
	}
	return all
}

// inside returns the type inside pointers and slices.
func inside(t reflect.Type) reflect.Type {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	return t
}

var kindsOf = map[reflect.Kind]string{reflect.String: "string", reflect.Bool: "boolean", reflect.Int: "integer", reflect.Float64: "number",
	reflect.Slice: "array", reflect.Struct: "object", reflect.Map: "object"}

// jsonRows returns the fields of all documents, each type once.
func jsonRows() []row {
	var rows []row
	had := map[reflect.Type]string{}
	var walk func(t reflect.Type, depth int)
	walk = func(t reflect.Type, depth int) {
		for _, f := range fieldsOf(t) {
			in, kind := inside(f.of), kindsOf[f.of.Kind()]
			switch f.of.Kind() {
			case reflect.Pointer:
				kind = kindsOf[in.Kind()] + " or null"
			case reflect.Slice:
				kind = "array of " + kindsOf[in.Kind()] + "s"
			}
			r := row{depth, f.name, f.does + "; " + kind}
			if f.optional {
				r.says += ", or left out"
			}
			at, told := had[in]
			if told {
				r.says += "; its fields are those of " + at
			}
			rows = append(rows, r)
			if in.Kind() == reflect.Struct && !told {
				had[in] = f.name
				walk(in, depth+1)
			}
		}
	}
	for _, d := range documents {
		t := reflect.TypeOf(d.holds)
		if at, told := had[t]; told {
			rows = append(rows, row{0, d.command + ": as for " + at, ""})
			continue
		}
		had[t] = d.command
		rows = append(rows, row{0, d.command, ""})
		if t.Kind() == reflect.Struct {
			rows = append(rows, row{1, "version", "the version of these fields; integer"})
		} else {
			rows = append(rows, row{1, "[…]", "a list of objects with these fields"})
		}
		walk(inside(t), 1)
	}
	rows = append(rows, row{0, "an entry, in log and in entries: the keys of a log as in jugkeeper help files; numbers are metric", ""})
	return rows
}

// jsonSchema returns the JSON Schema (draft 7) of all documents, by command in definitions.
func jsonSchema() []byte {
	definitions := map[string]any{}
	for _, d := range documents {
		s := schemaOf(reflect.TypeOf(d.holds))
		if properties, is := s["properties"].(map[string]any); is {
			properties["version"] = map[string]any{"const": contract}
			s["required"] = append(s["required"].([]string), "version")
		}
		definitions[d.command] = s
	}
	text, _ := json.MarshalIndent(map[string]any{"$schema": "http://json-schema.org/draft-07/schema#", "title": "jugkeeper --json", "definitions": definitions}, "", "  ")
	return append(text, '\n')
}

var entryType = reflect.TypeFor[entryJSON]()

func schemaOf(t reflect.Type) map[string]any {
	s := map[string]any{"type": kindsOf[t.Kind()]}
	switch {
	case t.Kind() == reflect.Pointer:
		s = schemaOf(t.Elem())
		s["type"] = []string{s["type"].(string), "null"}
	case t.Kind() == reflect.Slice:
		s["items"] = schemaOf(t.Elem())
	case t == entryType:
		properties := map[string]any{}
		for _, k := range ferment.Keys() {
			if k.In == "" {
				properties[k.Name] = map[string]any{"description": k.Does}
			}
		}
		s["properties"], s["additionalProperties"] = properties, false
	case t.Kind() == reflect.Map:
		s["additionalProperties"] = schemaOf(t.Elem())
	case t.Kind() == reflect.Struct:
		properties, required := map[string]any{}, []string{}
		for _, f := range fieldsOf(t) {
			of := schemaOf(f.of)
			of["description"] = f.does
			properties[f.name] = of
			if !f.optional {
				required = append(required, f.name)
			}
		}
		s["properties"], s["required"], s["additionalProperties"] = properties, required, false
	}
	return s
}

// errorJSON is written to standard error instead of text.
type errorJSON struct {
	Error    string        `json:"error" does:"what is wrong, where, and a right example"`
	Status   int           `json:"status" does:"the exit status"`
	Problems []problemJSON `json:"problems" does:"what cannot be read in the files that you named"`
}

type versionJSON struct {
	Program  string        `json:"program" does:"the version of the program"`
	Go       string        `json:"go" does:"the version of Go that built it"`
	Licences []licenceJSON `json:"licences" does:"the licence of each module that is linked into it"`
}

type licenceJSON struct {
	Module  string `json:"module" does:"the module"`
	Version string `json:"release" does:"its version"`
	Licence string `json:"licence" does:"its licence, by the SPDX name"`
}

type madeJSON struct {
	Files    []string `json:"files" does:"the files that were written, seen from the folder of the cellar"`
	Answer   []string `json:"answer" does:"the figures of the must, in words"`
	Cautions []string `json:"cautions" does:"what to be careful about"`
}

type protocolsJSON struct {
	Protocols []protocolJSON `json:"protocols" does:"all protocols, or the one that you named"`
}

type protocolJSON struct {
	Name   string `json:"name" does:"the name that ferments use"`
	Title  string `json:"title" does:"what it is, in a line"`
	File   string `json:"file" does:"its file in the cellar; empty for a built-in one"`
	Source string `json:"source,omitempty" does:"the protocol itself in YAML, if you named it"`
}

type keptJSON struct {
	Kept    []receiptJSON `json:"kept" does:"what was written, by ferment"`
	Notices []string      `json:"notices" does:"what you should know about it"`
}

type receiptJSON struct {
	Name    string      `json:"name" does:"the name of its file, or the id of a culture"`
	Text    string      `json:"text" does:"the entries in words"`
	Entries []entryJSON `json:"entries" does:"the entries as they are in the file"`
	Stood   bool        `json:"stood" does:"true if the same entry was there already and nothing was written"`
}

// versioned puts the version of the contract into a document.
func versioned(text string) string {
	if rest, object := strings.CutPrefix(text, "{\n"); object {
		return fmt.Sprintf("{\n  \"version\": %d,\n", contract) + rest
	}
	return text
}

// topic is a page of help besides the commands.
type topic struct {
	use   string
	about []string
	rows  func() []row
}

// row is one key or field with its description; one inside another is deeper. One without a description is a heading.
type row struct {
	depth      int
	name, says string
}

var topics = map[string]topic{
	"files": {"every key of the files", []string{
		"A cellar is a folder of YAML files. This page lists the keys of each file: what a key means, which values it takes, and an example. " +
			"A group of keys has its own keys, indented below it. A quantity is a number and a unit: g kg mg lb oz; mL L fl oz pt qt gal (US), imp pt, imp gal; °C °F; %, % vol; g/L mg/L ppm; volumes; bar kPa psi; mm cm in.",
		"jugkeeper schema KIND writes the same as a JSON Schema. jugkeeper new puts the schemas next to the files, so that an editor can complete keys and mark mistakes.",
	}, fileRows},
	"json": {"every field of --json", []string{
		"With --json a command writes one JSON document instead of text. An error is a JSON document too, on standard error. Numbers are metric and SG, " +
			"times are RFC 3339 with their offset. A figure that cannot be worked out is null, and unknown says why. New fields may be added without a new version. " +
			"export, man, completion and schema write their own formats and refuse --json; so does help.",
		"jugkeeper schema json writes the same as a JSON Schema; under definitions it has each document by its command.",
	}, jsonRows},
}

func fileRows() []row {
	var rows []row
	had := map[string]string{} // keys of groups already described
	var walk func(keys []journal.Key, depth int)
	walk = func(keys []journal.Key, depth int) {
		for _, k := range keys {
			r := row{depth, k.Name, k.Does + "; " + k.Takes() + ", e.g. " + k.Example}
			var names strings.Builder
			for _, in := range k.Keys {
				names.WriteString(in.Name + " ")
			}
			at, told := had[names.String()]
			if told && len(k.Keys) > 0 {
				r.says += "; its keys are those of " + at
			}
			rows = append(rows, r)
			if !told {
				had[names.String()] = k.Name
				walk(k.Keys, depth+1)
			}
		}
	}
	for _, f := range journal.Files() {
		rows = append(rows, row{0, f.Place + ": " + f.Does, ""})
		walk(f.Keys(), 1)
	}
	return rows
}

// text writes a topic of the help for a terminal.
func (t topic) text() string {
	const width, column = 80, 24
	var lines []string
	for i, about := range t.about {
		if i > 0 {
			lines = append(lines, "")
		}
		lines = append(lines, layout.WrapWords(about, width)...)
	}
	for _, r := range t.rows() {
		margin := strings.Repeat("  ", r.depth)
		if r.says == "" {
			lines = append(append(lines, ""), layout.WrapWords(r.name, width)...)
			continue
		}
		for i, l := range layout.WrapWords(r.says, width-column) {
			if i > 0 {
				r.name = ""
			}
			lines = append(lines, layout.Pad(margin+r.name, column-1)+" "+l)
		}
	}
	return strings.Join(lines, "\n") + "\n"
}

func schemaCommand(w world) *cobra.Command {
	var kinds []choice
	var names []string
	for _, f := range journal.Files() {
		kinds, names = append(kinds, choice{f.Name, f.Place}), append(names, f.Name)
	}
	kinds, names = append(kinds, choice{"json", "what --json writes"}), append(names, "json")
	return &cobra.Command{
		Use:     "schema KIND",
		Short:   "Write the JSON Schema of a kind of file, or of what --json writes",
		Example: "  jugkeeper schema ferment\n  jugkeeper schema honey > honey.schema.json",
		Long: "Writes the JSON Schema (draft 7) of a kind of file, or of what --json writes.\nThe kinds are " + strings.Join(names, ", ") + ".\n\n" +
			"An editor with a YAML language server uses it to complete keys and mark mistakes. A new\n" +
			"ferment has the line for it already; put such a line on top of any other file:\n\n" +
			"  # yaml-language-server: $schema=schemas/honey.json",
		Args:              args(cobra.ExactArgs(1)),
		ValidArgsFunction: completeOnce(func() []choice { return kinds }),
		RunE: func(_ *cobra.Command, given []string) error {
			text := []byte(nil)
			switch i := slices.Index(names, given[0]); {
			case i < 0:
				return usage("there is no schema of %q%s", given[0], ferment.Meant(given[0], names))
			case i == len(names)-1:
				text = jsonSchema()
			default:
				text = journal.Files()[i].Text()
			}
			_, err := w.stdout.Write(text)
			return err
		},
	}
}
