package journal_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
)

// schemas returns the schemas of all kinds of files, as a general validator reads them.
func schemas(t *testing.T) map[string]*jsonschema.Schema {
	all := map[string]*jsonschema.Schema{}
	for _, f := range journal.Files() {
		c := jsonschema.NewCompiler()
		require.NoError(t, c.AddResource(f.Name, bytes.NewReader(f.Text())))
		s, err := c.Compile(f.Name)
		require.NoError(t, err, f.Name)
		all[f.Name] = s
	}
	return all
}

// problems returns the problems that the program's own reader finds.
func problems(kind string, data []byte) []ferment.Problem {
	switch kind {
	case "cellar":
		return journal.ReadSettings("", data, time.UTC).Problems
	case "honey":
		return journal.ReadLots("", data, time.UTC).Problems
	case "cultures":
		return journal.ReadCultures("", data, time.UTC).Problems
	case "protocol":
		_, ps := journal.ReadProtocol("protocols/own.yaml", data)
		return ps
	}
	return journal.ReadFerment("ferments/a.yaml", data, time.UTC).Problems
}

// plain converts a YAML tree to JSON values: numbers, true, false and null of YAML 1.2, everything else texts.
func plain(n *yaml.Node) any {
	switch n.Kind {
	case yaml.DocumentNode:
		return plain(n.Content[0])
	case yaml.MappingNode:
		out := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			out[n.Content[i].Value] = plain(n.Content[i+1])
		}
		return out
	case yaml.SequenceNode:
		out := []any{}
		for _, item := range n.Content {
			out = append(out, plain(item))
		}
		return out
	}
	switch number, err := strconv.ParseFloat(n.Value, 64); {
	case n.Tag == "!!null":
		return nil
	case n.Tag == "!!bool":
		return n.Value == "true"
	case (n.Tag == "!!float" || n.Tag == "!!int") && err == nil:
		return number
	}
	return n.Value
}

// validated returns the schema's error for a file; read is false if it is not YAML.
func validated(s *jsonschema.Schema, data []byte) (says error, read bool) {
	var n yaml.Node
	if yaml.Unmarshal(bytes.TrimPrefix(data, []byte("\ufeff")), &n) != nil {
		return nil, false
	}
	if n.Kind == 0 {
		return s.Validate(nil), true
	}
	return s.Validate(plain(&n)), true
}

func kindOf(path string) string {
	switch base := strings.TrimSuffix(filepath.Base(path), ".yaml"); {
	case base == "cellar" || base == "honey" || base == "cultures":
		return base
	case strings.Contains(path, "protocols"):
		return "protocol"
	}
	return "ferment"
}

// TestSchemasAndReadersAgreeOnFiles: on every file of the test cellars, the stories and the built-in plans. What a
// schema cannot express is listed, by the reader's words.
func TestSchemasAndReadersAgreeOnFiles(t *testing.T) {
	all, files := schemas(t), map[string][]byte{}
	for _, pattern := range []string{"../../testdata/cellars/*/*.yaml", "../../testdata/cellars/*/*/*.yaml", "../../testdata/cellars/*/*/*/*.yaml", "../../schedule/protocols/*.yaml"} {
		paths, err := filepath.Glob(pattern)
		require.NoError(t, err)
		require.NotEmpty(t, paths, pattern)
		for _, path := range paths {
			files[path], err = os.ReadFile(path)
			require.NoError(t, err)
		}
	}
	stories, _ := filepath.Glob("../../testdata/scripts/*.txt")
	for _, story := range stories {
		data, err := os.ReadFile(story)
		require.NoError(t, err)
		for _, part := range strings.Split("\n"+string(data), "\n-- ") {
			if name, text, ok := strings.Cut(part, " --\n"); ok && strings.HasSuffix(name, ".yaml") {
				files[story+"/"+name] = []byte(text)
			}
		}
	}
	require.Greater(t, len(files), 60)
	unsaid := []string{"stands on", "is not known"}
	for path, data := range files {
		kind := kindOf(path)
		says, isYAML := validated(all[kind], data)
		switch ps := problems(kind, data); {
		case len(ps) == 0:
			assert.NoError(t, says, path)
		case isYAML && says == nil:
			assert.Contains(t, unsaid, ps[0].Message, "%s: the schema takes it, and the reader says %s", path, ps[0])
		}
	}
}

// TestSchemaAcceptsWhatItsReaderAccepts: the example of each key, and wrong values, in a file with that key alone.
func TestSchemaAcceptsWhatItsReaderAccepts(t *testing.T) {
	all := schemas(t)
	values := []string{"zzz", "-7", "3000", "1.05", "12 °C", "12 g", "2 lb 8 oz", "12 g/L", "0.5 L", "-1 L", "unknown", "none", "true", "[zzz]", "{zzz: 1}", "2026-09-12", "2026-13-01", "2026-09-12 18:30", "12:30"}
	// Only the reader knows zones and times of a plan.
	looser := []string{"timezone", "title", "due", "window", "when", "needs", "unless", "ends", "broken-by", "until", "from", "to"}
	tried, differ := 0, 0
	for _, f := range journal.Files() {
		var walk func(keys []journal.Key, around func(string) string)
		walk = func(keys []journal.Key, around func(string) string) {
			for _, k := range keys {
				example := k.Example
				if strings.Contains(example, ", ") && !strings.ContainsAny(example[:1], "[{\"") {
					example = strconv.Quote(example)
				}
				for _, v := range append(values, example) {
					text := []byte(around(k.Name + ": " + v))
					says, isYAML := validated(all[f.Name], text)
					ps := problems(f.Name, text)
					tried++
					if v == example {
						assert.True(t, len(ps) == 0 || ofThePlan(ps[0]), "%s: %v", text, ps)
						assert.NoError(t, says, "%s", text)
					}
					if len(ps) == 0 {
						assert.NoError(t, says, "%s", text)
					} else if isYAML && says == nil && !ofThePlan(ps[0]) {
						differ++
						assert.Contains(t, looser, k.Name, "only the reader refuses %s: %s", text, ps[0].Message)
					}
				}
				needs := map[string][2]string{"log": {"at", "2026-09-12"}, "lots": {"id", "a"}, "cultures": {"id", "a"}, "steps": {"step", "a, do: degas, due: pitch"}}[k.Name]
				switch {
				case len(k.Keys) == 0:
				case needs[0] != "" || strings.HasPrefix(k.Example, "["):
					walk(k.Keys, func(in string) string {
						if needs[0] != "" && !strings.HasPrefix(in, needs[0]+":") {
							in = needs[0] + ": " + needs[1] + ", " + in
						}
						return around(k.Name + ": [{" + in + "}]")
					})
				default:
					walk(k.Keys, func(in string) string { return around(k.Name + ": {" + in + "}") })
				}
			}
		}
		walk(f.Keys(), func(in string) string { return in + "\n" })
	}
	t.Logf("%d values, %d of them refused by the reader alone", tried, differ)
}

// TestSchemaOfAPlan: of the language of plans a schema knows the acts, and how points in time are nested.
func TestSchemaOfAPlan(t *testing.T) {
	for step, right := range map[string]bool{
		"do: degas, due: pitch": true, "do: stare, due: pitch": false, "do: degas, due: {first: [pitch, {last: [mix, rack]}]}": true,
		"do: degas, due: {first: []}": false, "do: degas, due: {}": false, "do: degas, due: {second: [pitch]}": false,
	} {
		text := []byte("format: 1\ntitle: a plan\nsteps:\n  - {step: a, " + step + "}\n")
		says, _ := validated(schemas(t)["protocol"], text)
		assert.Equal(t, right, says == nil, "%s: %v", step, says)
		assert.Equal(t, right, len(problems("protocol", text)) == 0, step)
	}
}

// ofThePlan reports whether a problem is between several steps.
func ofThePlan(p ferment.Problem) bool {
	return strings.HasPrefix(p.Message, "step \"") || strings.Contains(p.Message, "is twice") || strings.Contains(p.Message, "needs quiet")
}
