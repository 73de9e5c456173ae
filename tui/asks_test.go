package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// moorTrial returns a trial of two jugs, one on its third day.
func moorTrial(x, log string) string {
	return "tag: MOOR-" + x + "\nvessel: {kind: glass jug, brimful: 4.1 L}\ntrial: {name: moor, differs: yeast}\nprotocol: small-jug\n" +
		"must: {volume: 3.6 L, gravity: 1.084}\nyeast: {name: white-wine yeast, tolerance: 14 %}\nlog:\n" +
		"  - {at: 2026-10-05T18:00:00Z, did: pitch, amount: 0.9 g}\n  - {at: 2026-10-06T08:00:00Z, did: started}\n" + log
}

// TestQuestionScreens are six questions at 80×24: a dose, a range, a temperature in the other unit, a rise, the other
// jug, more than the vessel's volume.
func TestQuestionScreens(t *testing.T) {
	a := moorTrial("A", "  - {at: 2026-10-07T18:00:00Z, gravity: 1.071, sample: 20 °C, temperature: 19 °C}\n")
	b := moorTrial("B", "  - {at: 2026-10-07T18:10:00Z, gravity: 1.058, sample: 20 °C, temperature: 19 °C}\n")
	for _, c := range []struct {
		name string
		keys []string
		asks string
	}{
		{"dose", []string{"/", "text:nutrient 2", "enter", "space", "text:14g", "enter"}, "14 g"},
		{"range", []string{"/", "text:moor-a", "enter", "g", "text:ph9.9", "enter"}, "outside the usual 2.5 to 5"},
		{"degree", []string{"/", "text:moor-a", "enter", "g", "text:1.064@68", "enter"}, "68 °F"},
		{"rise", []string{"/", "text:moor-a", "enter", "g", "text:1.078@20", "enter"}, "Which one is wrong"},
		{"jug", []string{"/", "text:moor-a", "enter", "g", "text:1.058@20", "enter"}, "MOOR-B"},
		{"volume", []string{"/", "text:moor-a", "enter", "g", "text:vol36L", "enter"}, "3.6 L"},
	} {
		l := aBoard(t, "ferments/moor-a.yaml", a+"-- ferments/moor-b.yaml --\nformat: 1\n"+b, "2026-10-08 07:10")
		l.keys(c.keys...)
		got := l.show("screen")
		assert.Contains(t, strings.Join(strings.Fields(got), " "), c.asks, c.name)
		file := filepath.Join("..", "testdata", "screens", "ask-"+c.name+"-80x24.txt")
		if *update {
			require.NoError(t, os.WriteFile(file, []byte(got), 0o666))
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Equal(t, string(want), got, file)
	}
}
