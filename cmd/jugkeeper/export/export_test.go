package export_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/cmd/jugkeeper/export"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/protocols"
)

// nasty is a text with everything special in one of the formats: a comma, a semicolon, a backslash, quotes, angle
// brackets, wide letters, a second line, and control sequences for terminals and spreadsheets.
const nasty = `"=1+1, wash; the \\ <bung> & \"ring\" 蜂蜜蜂蜜蜂蜜蜂蜜蜂蜜蜂蜜蜂蜜蜂蜜蜂蜜 é\e[2J\a\0\r\nEND:VEVENT\n@sum]]>"`

// The cellar here is invented; its figures are only for the formats.
var invented = map[string]string{
	"cellar.yaml": "format: 1\ntimezone: Europe/Dublin\n",
	"ferments/lime-a.yaml": `format: 1
name: ` + nasty + `
tag: LIME-A
protocol: small-jug
ending: [still, bottle-conditioned]
trial: {name: lime, differs: yeast}
must: {volume: 3.6 L, gravity: 1.084, ph: 3.9, honey: [{lot: lime-26, mass: 980 g, water: 18.1 %}]}
yeast: {name: "white-wine yeast, dry", tolerance: 14 %, temperature: 15 °C to 22 °C}
log:
  - {at: 2026-10-03T11:00:00+01:00, did: pitch, amount: 0.9 g}
  - {at: 2026-10-04T09:00:00+01:00, did: started}
  - {at: 2026-10-04T09:05:00+01:00, did: nutrient, step: nutrient-1, amount: 14 mL, stock: 10 %, of: ammonium phosphate}
  - {at: 2026-10-05T09:00:00+01:00, gravity: 1.071, sample: 24 °C, ph: 3.4, temperature: 17 °C to 21 °C}
  - {at: 2026-10-05T09:30:00+01:00, gravity: 1.079, doubt: true}
  - {at: 2026-10-06T09:00:00+01:00, gravity: 1.063, remind: 2026-10-12, note: ` + nasty + `}
  - {at: 2026-10-06T20:00:00+01:00, gravity: 1.059}
`,
	"ferments/lime-b.yaml": `format: 1
name: lime, lane trees
tag: LIME-B
protocol: by-thirds
trial: {name: lime, differs: yeast}
must: {volume: 3.6 L, gravity: 1.084}
log:
  - {at: 2026-10-04T11:00:00+01:00, did: pitch, amount: 0.9 g}
  - {at: 2026-10-05T09:00:00+01:00, did: started}
  - {at: 2026-10-05T09:00:00+01:00, gravity: 1.080}
  - {at: 2026-10-06T19:00:00+01:00, refractometer: 18.0}
`,
	"ferments/bram.yaml": `format: 1
name: Bramble, wood edge
tag: BRAM
must: {volume: 3.6 L, gravity: 1.090, fruit: [{name: bramble and walnut, mass: 200 g}]}
log:
  - {at: 2026-04-03, did: pitch}
  - {at: 2026-05-20, gravity: 1.000}
  - {at: 2026-06-20, gravity: 0.9975}
  - {at: 2026-07-01, did: fine, of: isinglass}
  - {at: 2026-07-02, did: fine, of: Egg white, amount: unknown}
  - {at: 2026-07-20, did: sulphite, amount: 0.2 g}
  - at: 2026-08-01
    did: bottle
    bottles:
      - {kind: crown beer bottle, size: 330 mL, count: 3, codes: BRAM 1-3, fizz: 5.0 g/L, honey: 3.0 g}
      - {kind: still-wine bottle, size: 750 mL, count: 1, codes: BRAM S, fizz: none}
      - {kind: still-wine bottle, size: 375 mL, count: 3, codes: "BRAM 7-8, 12", fizz: none}
`,
}

// now is the morning of all tests.
var now = time.Date(2026, 10, 7, 7, 30, 0, 0, time.UTC)

// opened returns a cellar at a moment.
func opened(t *testing.T, files map[string]string, at time.Time) app.Snapshot {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		path := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o777))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o666))
	}
	s, err := app.New(journal.Open(dir, time.UTC, protocols.Files())).Open(at)
	require.NoError(t, err)
	require.Empty(t, s.Cellar.Problems)
	return s
}

func found(t *testing.T, s app.Snapshot, id string) app.Vessel {
	t.Helper()
	v, ok := s.Find(id)
	require.True(t, ok, id)
	return v
}

// obstinate returns a cellar with the nasty text in every free text.
func obstinate() map[string]string {
	text := strings.NewReplacer("NASTY", nasty)
	return map[string]string{
		"cultures.yaml": text.Replace(`format: 1
cultures:
  - {id: oak, name: NASTY, source: NASTY, protocol: wild-culture, log: [{at: 2026-10-05, did: collect, remind: 2026-10-09, note: NASTY}]}
`),
		"ferments/oak.yaml": text.Replace(`format: 1
name: NASTY
vessel: {kind: NASTY}
trial: {name: NASTY, differs: NASTY}
protocol: small-jug
note: NASTY
must: {volume: 3.6 L, gravity: 1.084, honey: [{lot: NASTY, mass: 980 g}], fruit: [{name: NASTY, mass: 100 g}]}
yeast: {name: NASTY, culture: NASTY}
log:
  - {at: 2026-09-03T11:00:00Z, did: pitch, of: NASTY, place: NASTY}
  - {at: 2026-09-05T11:00:00Z, gravity: 1.060, with: NASTY, smell: NASTY, remind: 2026-10-09, note: NASTY}
  - {at: 2026-09-06T11:00:00Z, gravity: 0.996, skipped: degas, because: NASTY}
  - {at: 2026-09-07T11:00:00Z, did: degas, step: NASTY, overrode: NASTY, because: NASTY}
  - {at: 2026-09-20, did: taste, bottle: NASTY, taste: {look: NASTY, nose: NASTY, palate: NASTY, body: NASTY, finish: NASTY, faults: [NASTY]}}
  - {at: 2026-09-21, did: bottle, left: 1 L, bottles: [{kind: NASTY, size: 330 mL, count: 2, codes: NASTY}]}
`),
	}
}

// Any text in a record keeps the formats valid, and no output has control characters.
func TestPersonsTextBreaksNoFormat(t *testing.T) {
	s := opened(t, obstinate(), now)
	s.Vessels = append(s.Vessels, s.Cultures...)
	s.Cultures = nil
	calendar := events(t, export.Calendar(s, 60, true, export.Sent{}))
	assert.Contains(t, calendar, "oak.reminder.1@jugkeeper")
	assert.Contains(t, calendar, "culture.oak.reminder.1@jugkeeper", "a culture may be called as a ferment is")
	assert.Len(t, rows(t, export.Table(s.Vessels, false)), 7)
	paper(t, export.Forms(s))
	paper(t, export.Tags(s))
	labels, _ := export.Labels(s)
	paper(t, labels)
	curves, _ := export.Curves(s)
	drawn(t, curves)
	for _, text := range []string{export.Calendar(s, 60, true, export.Sent{}), export.Table(s.Vessels, false), export.Forms(s), export.Tags(s), labels, curves} {
		assert.NotRegexp(t, "[\x00-\x09\x0b\x0e-\x1f\x7f]", text)
	}
}
