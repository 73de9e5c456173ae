package guide

import (
	"testing"

	"github.com/stretchr/testify/assert"

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
