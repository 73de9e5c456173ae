package measure

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestSearch(t *testing.T) {
	root := Search[Gravity](0, 2, func(g Gravity) bool { return g*g >= 2 })
	assert.InDelta(t, math.Sqrt2, float64(root), 1e-15)
	assert.Equal(t, 3.0, Search(1.0, 3.0, func(float64) bool { return false }))
	assert.InDelta(t, 1.0, Search(1.0, 3.0, func(float64) bool { return true }), 1e-15)
}
