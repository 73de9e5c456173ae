package ferment

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNearest(t *testing.T) {
	words := []string{"degas", "nutrient", "rack", "top-up", "taste", "volume"}
	for word, want := range map[string]string{
		"degass": "degas", "nutrent": "nutrient", "nut": "nutrient", "NUTRIENT": "nutrient", "rakc": "rack", "rac": "rack",
		"topup": "top-up", "volum": "volume", "elk": "", "": "", "ra": "", "tast": "taste", "tassel": "taste",
	} {
		assert.Equal(t, want, Nearest(word, words), word)
	}
}
