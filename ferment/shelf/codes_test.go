package shelf_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"cellar/jugkeeper/ferment/shelf"
)

func TestCodes(t *testing.T) {
	for text, want := range map[string]string{
		"":               "",
		"BH-A 3":         "BH-A 3",
		"BH-A 1-3":       "BH-A 1|BH-A 2|BH-A 3",
		"BH-A 1 – 3":     "BH-A 1|BH-A 2|BH-A 3",
		"1-3":            "1|2|3",
		"A08-A11":        "A08|A09|A10|A11",
		"LIME 1-2, 7":    "LIME 1|LIME 2|LIME 7",
		"LIME 1, 3-4":    "LIME 1|LIME 3|LIME 4",
		"LIME 2, SLOE 2": "LIME 2|SLOE 2",
		"red cap":        "red cap",
		"2026-10":        "2026-10", // not a run: the number falls
		"A1-B3":          "A1-B3",
		"1-999999":       "1-999999",
		"BH-A":           "BH-A",
		",;":             "",
	} {
		assert.Equal(t, want, strings.Join(shelf.Codes(text), "|"), "%q", text)
	}
}

func TestRuns(t *testing.T) {
	for _, c := range []struct{ codes, want []string }{
		{[]string{"G 1", "G 2", "G 3", "G 5"}, []string{"G 1-3", "G 5"}}, {[]string{"G 1", "G 2"}, []string{"G 1-2"}},
		{[]string{"08", "09", "10"}, []string{"08-10"}}, {[]string{"red", "blue", "green"}, []string{"red", "blue", "green"}}, {nil, nil},
	} {
		assert.Equal(t, c.want, shelf.Runs(c.codes))
	}
}
