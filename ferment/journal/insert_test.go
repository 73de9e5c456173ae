package journal_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
)

// degassed returns the entry that these tests insert: two lines in a block.
func degassed() ferment.Entry {
	return ferment.Entry{At: ferment.At(time.Date(2026, 9, 13, 18, 40, 0, 0, time.UTC)), Did: ferment.Degas}
}

// In each text ▸ is where the inserted bytes are expected and ◂ their end, or the end of the text. Without the marked
// bytes it is the text before.
func TestInsertPlaces(t *testing.T) {
	for _, c := range []struct{ what, text string }{
		{"after the last entry", "log:\n  - at: 2026-09-12\n    did: pitch\n▸  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂"},
		{"dashes at the key's depth", "log:\n- at: 2026-09-12\n  did: pitch\n▸- at: 2026-09-13T18:40:00Z\n  did: degas\n◂"},
		{"four spaces deep", "log:\n    - at: 2026-09-12\n▸    - at: 2026-09-13T18:40:00Z\n      did: degas\n◂"},
		{"wide dashes", "log:\n  -   at: 2026-09-12\n      did: pitch\n▸  -   at: 2026-09-13T18:40:00Z\n      did: degas\n◂"},
		{"in the middle of the file", "log:\n  - at: 2026-09-12\n▸  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂\n# about the must\nmust:\n  volume: 3.6 L\n"},
		{"before comments that follow", "log:\n  - at: 2026-09-12\n    did: pitch # at last\n▸  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂  # next: racking\n\n# end\n"},
		{"no line end at the end", "log:\n  - at: 2026-09-12▸\n  - at: 2026-09-13T18:40:00Z\n    did: degas◂"},
		{"carriage returns", "log:\r\n  - at: 2026-09-12\r\n▸  - at: 2026-09-13T18:40:00Z\r\n    did: degas\r\n◂name: x\r\n"},
		{"a byte-order mark", "\ufefflog:\n  - at: 2026-09-12\n▸  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂"},
		{"a log left out", "name: x\n▸log:\n  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂\n# that is all\n"},
		{"a log left out after a text that keeps its blank lines", "▸log:\n  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂name: x\nnote: |+\n  foam\n\n"},
		{"a bare log", "log:\n▸  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂name: x\n"},
		{"a bare log with a comment", "log: # nothing yet\n▸  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂\nname: x\n"},
		{"a bare log at the end", "name: x\nlog:▸\n  - at: 2026-09-13T18:40:00Z\n    did: degas◂"},
		{"an empty list", "log: [▸{at: 2026-09-13T18:40:00Z, did: degas}◂]\nname: x\n"},
		{"an empty list with room", "log: [▸{at: 2026-09-13T18:40:00Z, did: degas}◂  ] # none\n"},
		{"a list between brackets", "log: [{at: 2026-09-12, did: pitch}▸, {at: 2026-09-13T18:40:00Z, did: degas}◂]\n"},
		{"brackets over several lines", "log: [\n    {at: 2026-09-12, note: 'it''s ] # odd'}▸,\n    {at: 2026-09-13T18:40:00Z, did: degas}◂\n  ]\nname: x\n"},
		{"a comma at the end of a list", "log: [\n  {at: 2026-09-12},▸\n  {at: 2026-09-13T18:40:00Z, did: degas},◂\n]\n"},
		{"a bracket in a comment", "log: [ # an entry ] a line\n  {at: 2026-09-12, note: \"[\\\"\"}▸,\n  {at: 2026-09-13T18:40:00Z, did: degas}◂\n]\n"},
		{"the whole file between braces", `{"format": 1, "log": [{"at": "2026-09-12"}▸, {at: 2026-09-13T18:40:00Z, did: degas}◂]}` + "\n"},
		{"no log between braces", "{format: 1, name: x▸, log: [{at: 2026-09-13T18:40:00Z, did: degas}]◂ }\n"},
		{"a block of text last", "log:\n  - at: 2026-09-12\n    note: |\n      # not a comment\n\n      second\n▸  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂\n# a comment\n"},
		{"a block of text that keeps its blank lines", "log:\n▸  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂  - at: 2026-09-12\n    note: |+\n      foam\n\n\n"},
		{"a block of text without a line end", "log:\n▸  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂  - at: 2026-09-12\n    note: |\n      foam"},
		{"a quote over several lines", "log:\n  - at: 2026-09-12\n    note: \"foam\n\n      # and more\"\n▸  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂"},
		{"a bare text over several lines", "log:\n  - at: 2026-09-12\n    note: foam\n      and more\n▸  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂"},
		{"the end of the document marked", "---\nlog:\n  - at: 2026-09-12\n▸  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂...\n"},
		{"an entry between braces", "log:\n  - {at: 2026-09-12, did: pitch}\n▸  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂"},
		{"an entry that cannot be read", "log:\n  - at: 2026-09-12\n  - at: 2026-09-12\n    note: smell: eggs\n▸  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂"},
		{"an entry with a quote that does not end", "log:\n▸  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂  - at: 2026-09-12\n    note: \"foam\n"},
		{"an entry of a wrong kind", "log:\n  - at: soon\n▸  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂"},
		{"letters of other scripts", "name: عسل 🐝\nlog:\n  - at: 2026-09-12\n    note: мёд 🐝\n▸  - at: 2026-09-13T18:40:00Z\n    did: degas\n◂"},
	} {
		t.Run(c.what, func(t *testing.T) {
			before, rest, _ := strings.Cut(c.text, "▸")
			added, after, _ := strings.Cut(rest, "◂")
			got, err := journal.Insert([]byte(before+after), degassed())
			require.NoError(t, err)
			assert.Equal(t, before+added+after, string(got.Text))
			assert.Equal(t, added, got.Added)
			assert.Equal(t, len(before), got.Offset)
		})
	}
}

func TestInsertReplacesTheWord(t *testing.T) {
	for _, c := range []struct{ before, after string }{
		{"log: ~\nname: x\n", "log: \n  - at: 2026-09-13T18:40:00Z\n    did: degas\nname: x\n"},
		{"log: null # none\n", "log: \n  - at: 2026-09-13T18:40:00Z\n    did: degas # none\n"},
		{"{log: null, name: x}", "{log:  [{at: 2026-09-13T18:40:00Z, did: degas}], name: x}"},
	} {
		got, err := journal.Insert([]byte(c.before), degassed())
		require.NoError(t, err, c.before)
		assert.Equal(t, c.after, string(got.Text))
	}
}

const cultures = `format: 1
cultures:
  - id: hawthorn-2
    log:
      - {at: 2026-05-18T12:00:00+01:00, did: collect}
    verdict: discarded
  # the second
  -
    id: hawthorn-3

  - {id: bramble-1, log: []}
  - id: heather-1
    log: [{at: 2026-05-18, did: collect}] # from the combs
`

func TestInsertCulture(t *testing.T) {
	for _, c := range []struct{ id, after, added string }{
		{"hawthorn-2", "did: collect}\n", "      - at: 2026-09-13T18:40:00Z\n        did: degas\n"},
		{"hawthorn-3", "id: hawthorn-3\n", "    log:\n      - at: 2026-09-13T18:40:00Z\n        did: degas\n"},
		{"bramble-1", "log: [", "{at: 2026-09-13T18:40:00Z, did: degas}"},
		{"heather-1", "05-18, did: collect}", ", {at: 2026-09-13T18:40:00Z, did: degas}"},
	} {
		got, err := journal.InsertCulture([]byte(cultures), c.id, degassed())
		require.NoError(t, err, c.id)
		assert.Equal(t, strings.Replace(cultures, c.after, c.after+c.added, 1), string(got.Text), c.id)
	}
	_, err := journal.InsertCulture([]byte(cultures), "hawthorn-9", degassed())
	assert.EqualError(t, err, `there is no culture "hawthorn-9" in the file`)
}

func TestInsertSeveralIsOneWrite(t *testing.T) {
	fed := ferment.Entry{At: ferment.At(time.Date(2026, 9, 13, 18, 41, 0, 0, time.UTC)), Did: ferment.Nutrient, Note: "slow: a spoon at a time\nno foam"}
	got, err := journal.Insert([]byte("log:\n  - at: 2026-09-12\n"), degassed(), fed)
	require.NoError(t, err)
	assert.Equal(t, 3, got.Line)
	assert.Equal(t, `log:
  - at: 2026-09-12
  - at: 2026-09-13T18:40:00Z
    did: degas
  - at: 2026-09-13T18:41:00Z
    did: nutrient
    note: "slow: a spoon at a time\nno foam"
`, string(got.Text))
}

func TestInsertRefuses(t *testing.T) {
	for _, c := range []struct{ what, text, message string }{
		{"a newer format", "format: 2\nlog:\n", "the file cannot be read: 1:9: format 2 is newer than this program, which reads format 1: the file is left as it is"},
		{"two documents", "log:\n---\nlog:\n", "the file cannot be read: 2:1: a second document begins here: a file has only one (put it into a file of its own)"},
		{"bad syntax outside the log", "name: a: b\nlog:\n", `the file cannot be read: 1:7: name "a: b" has a colon in it (put the text in quotes, e.g. name: "a: b")`},
		{"a lone carriage return", "name: x\rlog:\n", "line 1 ends in a sign that editors and YAML count differently, so no place is certain (save the file with plain line ends)"},
		{"a separator of lines", "name: x\nlog:\n  - at: 2026-09-12\n    note: \"a\u2028b\"\n", "line 4 ends in a sign that editors and YAML count differently, so no place is certain (save the file with plain line ends)"},
		{"an empty file", "# nothing\n", "the file has no record (it begins with format: 1)"},
		{"a log that is no list", "log: later\n", "the place for an entry in the log is not clear"},
		{"an anchor on the log is kept whole", "log: &a later\n", "the place for an entry in the log is not clear"},
	} {
		_, err := journal.Insert([]byte(c.text), degassed())
		assert.EqualError(t, err, c.message, c.what)
	}
	_, err := journal.Insert([]byte("log:\n"))
	assert.EqualError(t, err, "there is no entry to write")
	_, err = journal.Insert([]byte("log:\n"), ferment.Entry{Did: "dance", At: degassed().At})
	assert.EqualError(t, err, `the entry could not be read again: did "dance" is not one of its words (one of mix, pitch, started, degas, aerate, nutrient, buffer, acid, punch, fruit-in, fruit-out, honey and more)`)
}
