package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tabled runs a command on a cellar.
func tabled(t *testing.T, dir string, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	require.Equal(t, 0, run(append(args, "--at", "2026-11-25 09:00"), around(dir, &out, &errs)), errs.String())
	return out.String()
}

// Readings and acts of "export table" are imported as the same log.
func TestExportedTableCanBeImported(t *testing.T) {
	const head = "format: 1\nname: Lime\ntag: LIME\nprotocol: small-jug\nmust: {volume: 3.6 L, gravity: 1.084}\nlog:\n"
	const log = `  - {at: 2026-10-03T11:00:00Z, did: pitch, amount: 0.9 g}
  - {at: 2026-10-05T09:00:00Z, gravity: 1.072, sample: 24.0 °C, with: hydrometer, temperature: 17 °C to 24 °C, ph: 3.42}
  - {at: 2026-10-05T09:05:00Z, did: nutrient, step: nutrient-1, amount: 1.5 g, of: ammonium phosphate}
  - {at: 2026-10-06, brix: 16.2, doubt: true, seen: [foam, gas], smell: clean, note: "two fingers, lively"}
  - {at: 2026-10-07T09:00:00Z, skipped: degas, because: away}
  - {at: 2026-10-08T09:00:00Z, did: foam-over, lost: 0.15 L, volume: 3.4 L, lees: 1.5 cm, clarity: hazy, airlock: working}
`
	write := func(dir, text string) {
		require.NoError(t, os.MkdirAll(filepath.Join(dir, "ferments"), 0o777))
		require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments", "lime.yaml"), []byte(text), 0o666))
	}
	from, to := t.TempDir(), t.TempDir()
	write(from, head+log)

	logs := func(dir string) []any {
		var shown struct{ Log []any }
		require.NoError(t, json.Unmarshal([]byte(tabled(t, dir, "show", "lime", "--json")), &shown))
		require.Len(t, shown.Log, 6)
		return shown.Log
	}
	for _, decimal := range []string{"point", "comma"} {
		write(to, head+"  []\n")
		table := filepath.Join(to, decimal+".csv")
		text := tabled(t, from, "export", "table", "lime", "--decimal", decimal)
		assert.Equal(t, decimal == "comma", strings.Contains(text, ";1,072;"), text)
		require.NoError(t, os.WriteFile(table, []byte(text), 0o666))
		tabled(t, to, "log", "lime", "--table", table, "--yes")
		assert.Equal(t, logs(from), logs(to), decimal)
		assert.Contains(t, tabled(t, from, "log", "lime", "--table", table, "--yes"), "kept: LIME 0 entries; already in the log: 6")
		assert.Len(t, logs(from), 6, "a number with other digits is the same")
	}
}

// lime returns a cellar with one jug, pitched on 3 September.
func lime(t *testing.T) string {
	dir := t.TempDir()
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "ferments"), 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments", "lime.yaml"),
		[]byte("format: 1\nname: Lime\nprotocol: small-jug\nmust: {volume: 3.6 L, gravity: 1.084}\nlog:\n  - {at: 2026-09-03T11:00:00Z, did: pitch}\n"), 0o666))
	return dir
}

// What spreadsheets and loggers write, and what of it is kept.
func TestTablesAsProgramsWriteThem(t *testing.T) {
	for _, c := range []struct{ table, says, log string }{
		{"at,gravity\n2026-09-07 18:00,1,046\n", "row 2: it has 3 cells, and the heading 2", ""},
		{"at,gravity,\n2026-09-07 18:00,1.046,,\n", "1 entry", "2026-09-07T18:00:00Z 1.046"},
		{"at,gravity\n2026-09-07 18:00,1.046\n2026-09-07 18:00,1.046\n", "1 entry; already in the log: 1", "2026-09-07T18:00:00Z 1.046"},
		{"at,gravity\n2026-09-07 18:00,1.046\n2026-09-07 18:00,1.045\n", "2 entries", "2026-09-07T18:00:00Z 1.046|2026-09-07T18:00:00Z 1.045"},
		{"at,gravity\n2026-09-07 18:00,\n2026-09-08 18:00,1.046\n,\n", "1 entry", "2026-09-08T18:00:00Z 1.046"},
		{"at,gravity,SG\n2026-09-07 18:00,1.046,1.050\n", "columns left out: SG", "2026-09-07T18:00:00Z 1.046"},
		{"at,gravity\n2026-09-07T18:00,1.046\n", "1 entry", "2026-09-07T18:00:00Z 1.046"},
		{"at,gravity\n2026-09-07T18:00:00-0500,1.046\n", "1 entry", "2026-09-07T23:00:00Z 1.046"},
		{"at,gravity\n2026-09-07 18:00:00.250,1.046\n", "1 entry", "2026-09-07T18:00:00Z 1.046"},
		{"at,gravity\n9/7/2026 6:05 PM,1.046\n9/13/2026 6:05:10 am,1.040\n", "2 entries", "2026-09-07T18:05:00Z 1.046|2026-09-13T06:05:10Z 1.04"},
		{"date,time,gravity\n7/9/2026,18:00,1.046\n13/9/2026,18:00,1.040\n", "2 entries", "2026-09-07T18:00:00Z 1.046|2026-09-13T18:00:00Z 1.04"},
		{"at,gravity\n2026-12-07 18:00,1.046\n", "1 row later than now", "2026-12-07T18:00:00Z 1.046"},
		{"date,gravity\n7/9/2026,1.046\n", "may be a day or a month first", ""},
		{"date,gravity\n13/9/2026,1.046\n9/13/2026,1.046\n", "may be a day or a month first", ""},
	} {
		dir := lime(t)
		path := filepath.Join(dir, "t.csv")
		require.NoError(t, os.WriteFile(path, []byte(c.table), 0o666))
		var out, errs bytes.Buffer
		run([]string{"log", "lime", "--table", path, "--yes", "--at", "2026-11-25 09:00"}, around(dir, &out, &errs))
		assert.Contains(t, out.String()+errs.String(), c.says, c.table)
		var shown struct {
			Log []struct {
				At      string
				Gravity float64
			}
		}
		require.NoError(t, json.Unmarshal([]byte(tabled(t, dir, "show", "lime", "--json")), &shown))
		var log []string
		for _, e := range shown.Log[1:] {
			log = append(log, fmt.Sprint(e.At, " ", e.Gravity))
		}
		assert.Equal(t, c.log, strings.Join(log, "|"), c.table)
	}
}

// Ten thousand readings of a logger become four a day, in one write of about a second.
func TestImportThinsFrequentReadings(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "ferments"), 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments", "lime.yaml"),
		[]byte("format: 1\nname: Lime\nprotocol: small-jug\nmust: {volume: 3.6 L, gravity: 1.084}\nlog:\n  - {at: 2026-10-03T11:00:00Z, did: pitch}\n"), 0o666))
	var b strings.Builder
	b.WriteString("at;gravity;temperature (°C)\n")
	at := time.Date(2026, 10, 4, 0, 0, 0, 0, time.UTC)
	for i := range 10_000 {
		fmt.Fprintf(&b, "%s;1,0%02d;%d,5\n", at.Format("2006-01-02 15:04"), 80-i/200, 18+i%3)
		at = at.Add(5 * time.Minute)
	}
	path := filepath.Join(dir, "logger.csv")
	require.NoError(t, os.WriteFile(path, []byte(b.String()), 0o666))
	begun := time.Now()
	said := tabled(t, dir, "log", "lime", "--table", path, "--yes")
	assert.Less(t, time.Since(begun), 30*time.Second, "about one second on a quiet machine")
	days := 10_000.0 * 5 / 60 / 24
	var n int
	_, err := fmt.Sscanf(said, "kept: lime %d entries", &n)
	require.NoError(t, err, said)
	assert.InDelta(t, 4*days, n, 4)
}
