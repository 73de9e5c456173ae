package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/tui/layout"
)

// A topic is what help tells of besides the commands.
type topic struct {
	use   string
	about []string
	rows  func() []row
}

// A row is one key or field with what is said of it; one that stands in another is
// deeper. One without words heads those that follow.
type row struct {
	depth      int
	name, says string
}

var topics = map[string]topic{
	"files": {"every key of the files", []string{
		"A cellar is a folder of YAML files. Here is every key of each, what it means, what it takes, and a right example. " +
			"A quantity is a number and a unit: g kg mg lb oz; mL L fl oz pt qt gal (US), imp pt, imp gal; °C °F; %, % vol; g/L mg/L ppm; volumes; bar kPa psi; mm cm in.",
		"jugkeeper schema KIND writes the same as a JSON Schema; jugkeeper new keeps the schemas with the files, for editors that complete and check by them.",
	}, fileRows},
	"json": {"every field of --json", []string{
		"With --json a command writes one JSON document in place of words; what goes wrong is one too, on standard error. Numbers are metric and SG, " +
			"times RFC 3339 with their offset. A figure that cannot be worked out is null, with its reason in unknown. Fields may be added within a version. " +
			"export, man, completion and schema, which write formats of their own, refuse --json, and so does help.",
		"jugkeeper schema json writes the same as a JSON Schema, each document under its command in definitions.",
	}, jsonRows},
}

func fileRows() []row {
	var rows []row
	had := map[string]string{} // where the keys of a group were told of
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
		Short:   "What a kind of file may hold, as a JSON Schema; json for what --json writes",
		Example: "  jugkeeper schema ferment\n  jugkeeper schema honey > honey.schema.json",
		Long: "Writes the JSON Schema (draft 7) of a kind of file, or of what --json writes: " + strings.Join(names, ", ") + ".\n" +
			"An editor with a YAML language server completes and checks by it. New ferments name it\n" +
			"in their first line; any other file does with such a line:\n\n" +
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
