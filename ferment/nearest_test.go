package ferment

import (
	"regexp"
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

func TestStepNamesAreThoseOfThePattern(t *testing.T) {
	pattern := regexp.MustCompile(`^\pL[\pL0-9]*(?:[-_][\pL0-9]+)*$`)
	for _, name := range []string{"", "-", "1", "a", "a1", "1a", "nutrient-1", "look_2", "a-_b", "a--b", "-a", "a_b-", "höhe-2", "a b", "a\xff", "ö", "a\n", "a٣"} {
		assert.Equal(t, pattern.MatchString(name), IsStepName(name), "%q", name)
	}
}
