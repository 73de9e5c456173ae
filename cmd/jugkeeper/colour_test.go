package main

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Colours are forced where the output is no terminal, light or dark by what is said of
// the terminal, and no colour beats all.
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
		require.Equal(t, 0, run([]string{"today", "--at", evening.Format("2006-01-02 15:04")}, w), errs.String())
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
}
