package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// documentSchemas returns the schemas of --json, as a general validator reads them.
func documentSchemas(t *testing.T) map[string]*jsonschema.Schema {
	all := map[string]*jsonschema.Schema{}
	for _, d := range documents {
		c := jsonschema.NewCompiler()
		require.NoError(t, c.AddResource("json", bytes.NewReader(jsonSchema())))
		s, err := c.Compile("json#/definitions/" + strings.ReplaceAll(d.command, " ", "%20"))
		require.NoError(t, err, d.command)
		all[d.command] = s
	}
	return all
}

// TestJSONMatchesItsSchema: each command writes what its schema has, and every field of the documents is written by one
// of them.
func TestJSONMatchesItsSchema(t *testing.T) {
	schemas, written := documentSchemas(t), map[string]bool{}
	table := filepath.Join(t.TempDir(), "t.csv")
	require.NoError(t, os.WriteFile(table, []byte("at,gravity,note\n2026-10-06 18:00,1.04,x\n"), 0o666))
	for _, c := range [][2]string{
		{"today", "today"}, {"today", "today --days 30"}, {"jugkeeper", ""}, {"today", "today clover"}, {"demo", "demo"},
		{"show", "show clover"}, {"show", "show buckwheat"}, {"show", "show gorse"}, {"show", "show crate"}, {"show", "show dandelion"}, {"show", "show chestnut-b"},
		{"compare", "compare chestnut-a chestnut-b"}, {"compare --yeast", "compare --yeast white-wine-yeast,-dry"}, {"check", "check"},
		{"work", "work"}, {"work FIGURE", "work alcohol og=1.1 fg=0.996"}, {"work FIGURE", "work sulphite ph=3.4 volume=3L"},
		{"log", "log clover 1.047@20 ph3.4 --yes"}, {"log", "log clover 1.047@20 ph3.4 --yes"}, {"log", "log clover --table " + table + " --yes"}, {"done", "done chestnut-b nutrient 1.4g"},
		{"skip", "skip dandelion started --because away"}, {"new", "new lime-a volume=3.6L gravity=1.084"}, {"new", "new lime-b volume=3.6L gravity=1.084 from=target"},
		{"protocol", "protocol"}, {"protocol", "protocol small-jug"}, {"version", "version"},
		{"an error", "log clover 12"}, {"an error", "show nobody"}, {"an error", "--nonsense"}, {"an error", "done clover zzz"}, {"an error", "show broken"},
		{"an error", "man"}, {"an error", "export calendar"}, {"an error", "export"}, {"an error", "completion bash"}, {"an error", "help"}, {"an error", "schema json"},
	} {
		dir := demoCellar(t)
		require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments/broken.yaml"), []byte("format: 1\nzzz: 1\n"), 0o666))
		require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments/crate.yaml"), []byte(hardBottle), 0o666))
		var out, errs bytes.Buffer
		args := strings.Fields(c[1])
		for i := range args {
			args[i] = strings.ReplaceAll(args[i], ",-", ", ")
			args[i] = strings.ReplaceAll(args[i], "-wine-", "-wine ")
		}
		status := run(append(args, "--json"), around(dir, &out, &errs))
		text := out.Bytes()
		if c[0] == "an error" {
			assert.NotZero(t, status, c[1])
			assert.Empty(t, out.String(), c[1])
			text = errs.Bytes()
		} else if c[0] != "demo" {
			assert.Empty(t, errs.String(), c[1])
		}
		var document any
		if assert.NoError(t, json.Unmarshal(text, &document), "%s: %s", c[1], text) {
			assert.NoError(t, schemas[c[0]].Validate(document), c[1])
			seen(written, document)
		}
	}
	for _, r := range jsonRows() {
		if r.says != "" && !strings.HasPrefix(r.name, "[") {
			assert.True(t, written[r.name], "no command wrote %s", r.name)
			assert.NotRegexp(t, "^;", r.says, "%s is not told of", r.name)
		}
	}
}

// hardBottle is a bottled ferment with a dangerous bottle and a doubtful reading.
const hardBottle = `format: 1
must: {volume: 3.6 L, gravity: 1.084}
log:
  - {at: 2026-06-12, did: pitch}
  - {at: 2026-07-12, gravity: 1.010, doubt: true}
  - {at: 2026-08-12, gravity: 0.998}
  - {at: 2026-09-12, did: bottle, bottles: [{kind: crown beer bottle, size: 330 mL, count: 8, fizz: 5 g/L, for: test}]}
  - {at: 2026-10-07 09:00, did: squeeze, feel: hard}
`

// seen notes the keys of a document.
func seen(keys map[string]bool, document any) {
	switch is := document.(type) {
	case map[string]any:
		for key, value := range is {
			keys[key] = true
			seen(keys, value)
		}
	case []any:
		for _, value := range is {
			seen(keys, value)
		}
	}
}

// TestSchemaRefusesAnotherDocument: an additional field, or one of another type.
func TestSchemaRefusesAnotherDocument(t *testing.T) {
	s := documentSchemas(t)["check"]
	good := map[string]any{"version": 1.0, "problems": []any{}, "remarks": []any{}}
	require.NoError(t, s.Validate(good))
	for key, value := range map[string]any{"version": 2.0, "problems": "none", "more": 1.0} {
		bad := map[string]any{"version": 1.0, "problems": []any{}, "remarks": []any{}}
		bad[key] = value
		assert.Error(t, s.Validate(bad), key)
	}
}
