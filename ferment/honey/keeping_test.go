package honey_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment/honey"
	"cellar/jugkeeper/ferment/measure"
)

// TestKeepingOf checks both sides of the limits: 17.1 and 18.0 % of USDA Agriculture
// Handbook 335, 18.6 % of the United States Standards for Grades of Extracted Honey (1985),
// grades A and B, and 20 % of Codex Stan 12-1981. The water is rounded
// to 0.1 %.
func TestKeepingOf(t *testing.T) {
	for water, want := range map[measure.Share]honey.Keeping{
		0: honey.Keeps, 17: honey.Keeps, 17.04: honey.Keeps, 17.1: honey.KeepsClean, 17.2: honey.KeepsClean, 18: honey.KeepsClean,
		18.1: honey.ThisYear, 18.6: honey.ThisYear, 18.64: honey.ThisYear, 18.7: honey.First,
		20: honey.First, 20.04: honey.First, 20.1: honey.AtOnce, 26: honey.AtOnce,
	} {
		assert.Equal(t, want, honey.KeepingOf(water), "%v", water)
	}
}
