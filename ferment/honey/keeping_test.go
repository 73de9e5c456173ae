package honey_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
)

// TestKeepingOf holds both sides of the two limits: 18.6 % of the United States
// Standards for Grades of Extracted Honey (1985), grades A and B, and 20 % of
// Codex Stan 12-1981. Readings differ by less than 0.05 % only in noise.
func TestKeepingOf(t *testing.T) {
	for water, want := range map[measure.Share]honey.Keeping{
		0: honey.Keeps, 17.2: honey.Keeps, 18.6: honey.Keeps, 18.64: honey.Keeps, 18.7: honey.ThisYear,
		20: honey.ThisYear, 20.04: honey.ThisYear, 20.1: honey.AtOnce, 26: honey.AtOnce,
	} {
		assert.Equal(t, want, honey.KeepingOf(water), "%v", water)
	}
}
