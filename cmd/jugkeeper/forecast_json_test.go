package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const tor = `format: 1
name: Tor heather
must: {volume: 3.6 L, gravity: 1.100}
yeast: {name: "white-wine yeast, dry", tolerance: 16 %}
log:
  - {at: 2026-09-12 18:00, did: pitch}
  - {at: 2026-09-13 18:00, gravity: 1.096, temperature: 20 C}
  - {at: 2026-09-15 18:00, gravity: 1.068}
  - {at: 2026-09-17 18:00, gravity: 1.041}
`

// shown returns what show --json writes for the only ferment of a cellar.
func shown(t *testing.T, args ...string) map[string]any {
	t.Helper()
	s := story{t: t, dir: t.TempDir(), state: t.TempDir()}
	path := filepath.Join(s.dir, "ferments", "tor.yaml")
	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o777))
	require.NoError(t, os.WriteFile(path, []byte(tor), 0o666))
	text := s.command(append([]string{"show", "tor", "--json"}, args...))
	var out map[string]any
	require.NoError(t, json.NewDecoder(strings.NewReader(text)).Decode(&out), text)
	return out
}

func TestShowForecasts(t *testing.T) {
	out := shown(t, "--at", "2026-09-17 19:00")["forecast"].(map[string]any)
	assert.Equal(t, "on its way", out["says"])
	early, at, late := out["done_early"].(string), out["done_at"].(string), out["done_late"].(string)
	assert.True(t, "2026-09-17T19" < early && early < at && at < late && late < "2026-11", "%s %s %s", early, at, late)
	low, finish, high := out["finish_low"].(float64), out["finish"].(float64), out["finish_high"].(float64)
	assert.True(t, low < finish && finish < high, "%v %v %v", low, finish, high)
	assert.Less(t, out["stops"], 0.25)
	assert.Len(t, out["band"], 4+15, "each reading, now and fourteen days")
	breaks := out["breaks"].([]any)
	assert.NotNil(t, breaks[1].(map[string]any)["met"])
	assert.Nil(t, breaks[2].(map[string]any)["met"])
	assert.Regexp(t, "^2026-09-1", breaks[2].(map[string]any)["expected"])
	assert.Len(t, shown(t, "--at", "2026-09-17 19:00", "--days", "2")["forecast"].(map[string]any)["band"], 4+3)
}

func TestShowSaysWhyThereIsNoForecast(t *testing.T) {
	early := shown(t, "--at", "2026-09-13 19:00")["forecast"].(map[string]any)
	assert.Equal(t, "not started", early["says"])
	assert.Contains(t, early, "done_at")
	assert.Nil(t, early["done_at"])
	none := shown(t, "--at", "2026-09-12 19:00")
	assert.Nil(t, none["forecast"])
	assert.Contains(t, none["unknown"].(map[string]any)["forecast"], "read gravity")
}
