package app_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
)

// TestCheckReportsKeptUnlikelyEntries: what the program would ask about is a remark of check if it is in a file, one
// for each kind of rule, with its line; not if it was confirmed, put in doubt or given against advice.
func TestCheckReportsKeptUnlikelyEntries(t *testing.T) {
	const head = `format: 1
name: Heath
tag: HEATH
vessel: {kind: glass jug, brimful: 4.1 L}
protocol: small-jug
must: {volume: 3.6 L, gravity: 1.084}
yeast: {name: white-wine yeast, demand: medium}
log:
  - {at: 2026-10-03 11:00, did: pitch, amount: 0.9 g}
  - {at: 2026-10-04 08:00, did: started}
  - {at: 2026-10-05 07:00, gravity: 1.072, temperature: 20 °C}
`
	for _, c := range []struct{ what, entry, want string }{
		{"a likely dose", "at: 2026-10-05 09:00, did: nutrient, amount: 1.4 g", ""},
		{"a dose", "at: 2026-10-05 09:00, did: nutrient, amount: 14 g", "14 g is ten times the plan, 1.4 g"},
		{"a dose that was given on purpose", "at: 2026-10-05 09:00, did: nutrient, amount: 14 g, overrode: nutrient, because: spilt", ""},
		{"a range", "at: 2026-10-05 09:00, ph: 9.9", "ph 9.9 is outside the usual 2.5 to 5"},
		{"a change", "at: 2026-10-05 19:00, temperature: 31 °C", "temperature 31 °C is far from the last, 20 °C 12 h before"},
		{"a fall", "at: 2026-10-06 07:00, gravity: 1.026", "−46.0 points in 24 h: a typing slip? the other vessel?"},
		{"a fall in doubt", "at: 2026-10-06 07:00, gravity: 1.026, doubt: true", ""},
		{"a rise", "at: 2026-10-06 07:00, gravity: 1.078", "Mark this one doubt: true, or doubt: false if the other is wrong"},
		{"a rise that is confirmed", "at: 2026-10-06 07:00, gravity: 1.078, doubt: false", ""},
		{"the wrong jug", "at: 2026-11-20 09:00, did: nutrient, amount: unknown", "nutrient at 0.997, where no sugar is left"},
		{"a cap", "at: 2026-11-20 09:00, did: sulphite, amount: 4 g", "4 g is 12 times the plan, 0.3 g"},
	} {
		log := head
		if strings.Contains(c.entry, "11-20") {
			log += "  - {at: 2026-10-09 07:00, gravity: 1.030}\n  - {at: 2026-11-10 07:00, gravity: 0.997}\n"
		}
		dir := t.TempDir()
		path := filepath.Join(dir, "ferments", "heath.yaml")
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o777))
		require.NoError(t, os.WriteFile(path, []byte(log+"  - {"+c.entry+"}\n"), 0o666))
		_, remarks, err := app.New(journal.Open(dir, time.UTC, protocols.Files())).Check(at(60, 9, 0))
		require.NoError(t, err)
		if c.want == "" {
			assert.Empty(t, remarks, c.what)
			continue
		}
		if assert.Len(t, remarks, 1, c.what) {
			assert.Equal(t, strings.Count(log, "\n")+1, remarks[0].Line, c.what)
			assert.Contains(t, remarks[0].Message, c.want, c.what)
		}
	}
}
