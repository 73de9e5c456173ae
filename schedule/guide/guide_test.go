package guide

import (
	"cmp"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/schedule"
)

// Every caution and every figure is in the guide with its source.
func TestEverySectionHasASource(t *testing.T) {
	heads := map[string]Part{}
	for _, c := range Chapters() {
		assert.NotEmpty(t, c.Name)
		assert.NotEmpty(t, c.Title, c.Name)
		for _, p := range c.Parts {
			assert.NotEmpty(t, p.Text, c.Name)
			heads[c.Name+" "+p.Head] = p
			if c.Name == "cautions" || c.Name == "figures" {
				assert.NotEmpty(t, p.Source, "%s: %s", c.Name, p.Head)
			}
		}
	}
	for _, f := range bench.Figures() {
		assert.Contains(t, heads, "figures "+f.Name)
	}
	assert.Len(t, Chapters()[1].Parts, len(schedule.Cautions())+len(further))
}

// TestGlossaryIsShortAndUsed: the page of words has at most forty, and each is on a screen of the testdata or in the
// words of the program.
func TestGlossaryIsShortAndUsed(t *testing.T) {
	screens, err := filepath.Glob("../../testdata/*/*.txt")
	require.NoError(t, err)
	var shown strings.Builder
	for _, path := range screens {
		if !strings.Contains(path, "guide-") {
			text, err := os.ReadFile(path)
			require.NoError(t, err)
			shown.Write(text)
		}
	}
	assert.LessOrEqual(t, len(glossary()), 40)
	for _, p := range glossary() {
		for _, word := range strings.Fields(cmp.Or(p.Head, string(p.Mark))) {
			assert.Contains(t, shown.String(), word, "is in the glossary and on no screen")
		}
	}
}
