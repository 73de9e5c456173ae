package main

import (
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The conventions are those of the editors' own manual pages.
func TestEditorOpensAtTheLine(t *testing.T) {
	for given, want := range map[string]string{
		"vi":                        "vi|+31|/c d/ferments/x.yaml",
		"nvim -u NONE":              "nvim|-u|NONE|+31|/c d/ferments/x.yaml",
		"emacsclient -t":            "emacsclient|-t|+31|/c d/ferments/x.yaml",
		"hx":                        "hx|/c d/ferments/x.yaml:31",
		"kak":                       "kak|+31|/c d/ferments/x.yaml",
		"code":                      "code|--wait|--goto|/c d/ferments/x.yaml:31",
		"code --wait":               "code|--wait|--goto|/c d/ferments/x.yaml:31",
		`"/opt/my editors/nano" -w`: "/opt/my editors/nano|-w|+31|/c d/ferments/x.yaml",
		`/opt/my\ editors/vim`:      "/opt/my editors/vim|+31|/c d/ferments/x.yaml",
		"'/opt/an other' ''":        "/opt/an other||/c d/ferments/x.yaml",
		"unheard-of":                "unheard-of|/c d/ferments/x.yaml",
	} {
		w := world{env: func(name string) string { return map[string]string{"EDITOR": given, "VISUAL": " "}[name] }}
		open := w.editor("/c d")
		require.NotNil(t, open, given)
		assert.Equal(t, want, strings.Join(open("ferments/x.yaml", 31).Args, "|"), given)
	}
	assert.Equal(t, []string{"vi", "x"}, atLine([]string{"vi"}, "x", 0))
}

func TestUsualEditorsAreTriedByDefault(t *testing.T) {
	there := func(names ...string) func(string) (string, error) {
		return func(name string) (string, error) {
			for _, n := range names {
				if n == name {
					return "/usr/bin/" + n, nil
				}
			}
			return "", exec.ErrNotFound
		}
	}
	assert.Equal(t, []string{"nano"}, usualEditor(there("vi", "nano")))
	assert.Equal(t, []string{"sensible-editor"}, usualEditor(there("vi", "nano", "sensible-editor")))
	assert.Nil(t, usualEditor(there()))
}
