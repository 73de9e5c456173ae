package export_test

import (
	"encoding/csv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/cmd/jugkeeper/export"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/schedule/app"
)

// rows parses a table by RFC 4180: lines end in CRLF (section 2, 1), the first is a header (3), every line has as many
// fields (4), fields with a comma, a quote or a line end are quoted (6, 7).
func rows(t *testing.T, text string) []map[string]string {
	t.Helper()
	require.NotRegexp(t, `[^\r]\n`, text)
	r := csv.NewReader(strings.NewReader(text))
	all, err := r.ReadAll() // as many fields in each as in the first, or an error
	require.NoError(t, err)
	var out []map[string]string
	for _, fields := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			require.NotContains(t, row, name)
			row[name] = fields[i]
		}
		out = append(out, row)
	}
	return out
}

func TestTable(t *testing.T) {
	v := found(t, opened(t, invented, now), "lime-a")
	all := rows(t, export.Table([]app.Vessel{v}, false))
	require.Len(t, all, 7)
	for _, c := range []struct {
		row  int
		want map[string]string
	}{
		{0, map[string]string{"ferment": "lime-a", "tag": "LIME-A", "at": "2026-10-03T11:00:00+01:00", "day": "0", "did": "pitch", "amount": "0.9", "unit": "g", "gravity": ""}},
		{2, map[string]string{"did": "nutrient", "step": "nutrient-1", "amount": "14", "unit": "mL", "stock %": "10", "of": "ammonium phosphate"}},
		{3, map[string]string{"typed": "1.071", "scale": "SG", "sample C": "24", "pH": "3.4", "low C": "17", "high C": "21", "remark": ""}},
		{4, map[string]string{"typed": "1.079", "remark": "in doubt: marked doubtful"}},
	} {
		for name, want := range c.want {
			assert.Equal(t, want, all[c.row][name], "%d %s", c.row, name)
		}
	}
	r, ok := v.Course.ReadingOf(v.Course.Entries[3])
	require.True(t, ok)
	assert.Equal(t, strings.TrimRight(r.Gravity.Places(4), "0"), all[3]["gravity"], "the course's own figure")
	assert.NotEqual(t, "1.071", all[3]["gravity"], "corrected for a warm sample")
}

// A refractometer's reading is not a gravity, but there is the corrected one.
func TestTableMarksRefractometerReadings(t *testing.T) {
	v := found(t, opened(t, invented, now), "lime-b")
	last := rows(t, export.Table([]app.Vessel{v}, false))[3]
	assert.Equal(t, "refractometer", last["scale"])
	assert.Equal(t, "18.0", last["typed"])
	r, ok := v.Course.ReadingOf(v.Course.Entries[3])
	require.True(t, ok)
	assert.Equal(t, course.Refractometer, r.From)
	assert.Equal(t, strings.TrimRight(r.Gravity.Places(4), "0"), last["gravity"])
}

// Text that begins like a formula stays text; numbers stay numbers. The signs are those with which spreadsheets begin a
// formula (OWASP, "CSV Injection").
func TestTableCellsAreNeverFormulas(t *testing.T) {
	for note, want := range map[string]string{
		`=1+1`: `'=1+1`, `+1 g`: `'+1 g`, `-2 h late`: `'-2 h late`, `@sum(a1)`: `'@sum(a1)`, ` =cmd|'/c calc'!a0`: `'=cmd|'/c calc'!a0`,
		`−3 points`: `'−3 points`, `＝1`: `'＝1`,
		`-5`: `-5`, `-5.5`: `-5.5`, `3,5`: `3,5`, `bready, "warm"`: `bready, "warm"`, `a-b`: `a-b`,
		"\\t=1+1": `'=1+1`, `\r=1+1`: `'=1+1`, `up\e[2J\0`: "up�[2J�",
		`two\nlines`: "two\nlines", `two\n=lines`: "two\n=lines",
	} {
		quoted := `"` + strings.ReplaceAll(note, `"`, `\"`) + `"`
		s := opened(t, map[string]string{"ferments/oak.yaml": "format: 1\nlog: [{at: 2026-10-05, note: " + quoted + "}]\n"}, now)
		assert.Equal(t, want, rows(t, export.Table(s.Vessels, false))[0]["note"], note)
	}
}

// The table has the whole log, including later entries.
func TestTableHasTheWholeLog(t *testing.T) {
	s := opened(t, map[string]string{"ferments/oak.yaml": `format: 1
log:
  - {at: 2026-12-01, note: planned}
  - {at: 2026-10-05, did: taste, taste: {nose: hay, faults: [dull]}}
  - {at: 2026-10-05T10:00:00Z, did: sulphite, amount: unknown}
  - {at: 2026-10-06, did: bottle, bottles: [{kind: jar, size: 330 mL, count: 9, codes: OAK 1-9, fizz: none}]}
`}, now)
	all := rows(t, export.Table(s.Vessels, false))
	require.Len(t, all, 4)
	assert.Equal(t, "2026-10-05", all[0]["at"], "a day is a day")
	assert.Equal(t, "hay, dull", all[0]["tasted"])
	assert.Equal(t, "unknown", all[1]["amount"])
	assert.Equal(t, "9 × 0.33 L jar, OAK 1-9, still", all[2]["bottles"])
	assert.Equal(t, "in the future, not counted", all[3]["remark"])
}
