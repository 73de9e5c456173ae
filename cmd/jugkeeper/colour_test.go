package main

import (
	"bytes"
	"cmp"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Colours can be forced without a terminal, for a light or dark one, and no-colour overrides all.
func TestColours(t *testing.T) {
	dir := demoCellar(t)
	with := func(set map[string]string) string {
		var out, errs bytes.Buffer
		w := around(dir, &out, &errs)
		env := w.env
		w.env = func(name string) string {
			if v, is := set[name]; is {
				return v
			}
			return env(name)
		}
		args := append(strings.Fields(cmp.Or(set["--"], "today")), "--at", evening.Format("2006-01-02 15:04"))
		if status := run(args, w); set["--"] != "check" {
			require.Equal(t, 0, status, errs.String())
		}
		return out.String()
	}
	bare, forced := with(nil), with(map[string]string{"CLICOLOR_FORCE": "1"})
	assert.NotContains(t, bare, "\x1b")
	assert.Contains(t, forced, "\x1b[")
	assert.Equal(t, bare, with(map[string]string{"CLICOLOR_FORCE": "0"}))
	assert.Equal(t, bare, with(map[string]string{"CLICOLOR_FORCE": "1", "NO_COLOR": "1"}))
	assert.Equal(t, bare, with(map[string]string{"CLICOLOR_FORCE": "1", "JUGKEEPER_THEME": "mono"}))
	light := with(map[string]string{"CLICOLOR_FORCE": "1", "COLORFGBG": "0;15"})
	assert.NotEqual(t, forced, light)
	assert.Equal(t, light, with(map[string]string{"CLICOLOR_FORCE": "1", "JUGKEEPER_THEME": "light"}))
	assert.Equal(t, forced, with(map[string]string{"CLICOLOR_FORCE": "1", "COLORFGBG": "0;15", "JUGKEEPER_THEME": "dark"}))

	config := filepath.Join(t.TempDir(), "config")
	looks := func(text string) {
		require.NoError(t, os.MkdirAll(filepath.Join(config, "jugkeeper"), 0o777))
		require.NoError(t, os.WriteFile(filepath.Join(config, "jugkeeper", "terminal.yaml"), []byte(text), 0o666))
	}
	looks("theme: light\n")
	assert.Equal(t, light, with(map[string]string{"CLICOLOR_FORCE": "1", "XDG_CONFIG_HOME": config}), "this machine's own theme")
	assert.Equal(t, forced, with(map[string]string{"CLICOLOR_FORCE": "1", "XDG_CONFIG_HOME": config, "JUGKEEPER_THEME": "dark"}), "the variable goes first")

	braille := func(set map[string]string) bool {
		set["--"] = "show chestnut-a"
		return strings.ContainsFunc(with(set), func(r rune) bool { return r > 0x2800 && r <= 0x28ff })
	}
	assert.True(t, braille(map[string]string{}))
	assert.False(t, braille(map[string]string{"TERM": "linux"}), "the console has no braille")
	looks("chart: braille\n")
	assert.True(t, braille(map[string]string{"TERM": "linux", "XDG_CONFIG_HOME": config}), "but where it is said to have it")
	looks("chart: lines\n")
	assert.Contains(t, with(map[string]string{"--": "check", "XDG_CONFIG_HOME": config}), "terminal.yaml:1:8")
}
