package main

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/cmd/jugkeeper/export"
	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/course"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

var keyMorning = time.Date(2026, 9, 14, 7, 15, 0, 0, time.UTC)

// goesWith is what an entry line needs before some keys.
var goesWith = map[string]string{
	"sample": "1.066", "with": "1.066", "degassed": "1.066", "doubt": "1.066",
	"amount": "nutrient", "stock": "nutrient 14mL", "of": "nutrient 1g", "overrode": "because=away",
}

// inFile returns an entry of a file with one key.
func inFile(t *testing.T, k *ferment.Key, value string) (ferment.Entry, bool) {
	t.Helper()
	key := "    " + k.Name + ": " + value + "\n"
	if k.In != "" {
		key = "    " + k.In + ":\n      " + k.Name + ": " + value + "\n"
	}
	read := journal.ReadFerment("a.yaml", []byte("log:\n  - at: 2026-09-14T07:15:00Z\n"+key), time.UTC)
	if len(read.Value.Log) != 1 {
		return ferment.Entry{}, false
	}
	return read.Value.Log[0], true
}

func onLine(typed string) (ferment.Entry, error) {
	l, err := line.Parse(typed, line.Context{Now: keyMorning, Zone: time.UTC, Units: measure.Metric})
	return l.Entry, err
}

// tableRow returns the only entry of a table, by column names.
func tableRow(t *testing.T, e ferment.Entry) map[string]string {
	t.Helper()
	v := app.Vessel{Ferment: ferment.Ferment{ID: "a"}, Course: &course.Course{Entries: []*ferment.Entry{&e}, Settings: ferment.Settings{Zone: time.UTC}, Now: keyMorning}}
	rows, err := csv.NewReader(strings.NewReader(export.Table([]app.Vessel{v}, false))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 2)
	row := map[string]string{}
	for i, name := range rows[0] {
		_, twice := row[name]
		require.False(t, twice, name)
		row[name] = rows[1][i]
	}
	return row
}

// Every key is the same in a file, on the entry line, in the log, in JSON and in a table; a key missing in one is found
// here.
func TestEveryKeyReachesEveryPlace(t *testing.T) {
	for i := range ferment.Keys() {
		k := &ferment.Keys()[i]
		if k.Name == "at" || k.Name == "taste" {
			continue // one is in every entry, the other is a group
		}
		e, ok := inFile(t, k, k.Example)
		require.True(t, ok, k.Name)
		require.True(t, k.Has(&e), k.Name)
		without := ferment.Entry{At: e.At}
		if k.Typed != "" {
			with := goesWith[k.Name]
			typed, err := onLine(with + " " + k.Typed)
			require.NoError(t, err, k.Name)
			assert.Equal(t, k.Value(&e), k.Value(&typed), "typed as %s", k.Typed)
			if with != "" {
				without, _ = onLine(with)
				e = typed
			}
		}
		for _, units := range []measure.System{measure.Metric, measure.US} {
			if k.Name != "did" || e.Did != "" {
				assert.NotEqual(t, words.EntryLine(without, ferment.Protocol{}, units), words.EntryLine(e, ferment.Protocol{}, units), "the log says nothing of %s", k.Name)
			}
		}
		inJSON(t, k, e)
		inTable(t, k, e, without)
	}
}

func inJSON(t *testing.T, k *ferment.Key, e ferment.Entry) {
	t.Helper()
	out, err := json.Marshal(entryOf(&e))
	require.NoError(t, err)
	var back map[string]any
	require.NoError(t, json.Unmarshal(out, &back))
	if k.In != "" {
		back, _ = back[k.In].(map[string]any)
	}
	require.Contains(t, back, k.Name)
	if v, is := k.Value(&e).(float64); is {
		assert.Equal(t, v, back[k.Name])
	}
}

func inTable(t *testing.T, k *ferment.Key, e, without ferment.Entry) {
	t.Helper()
	row := tableRow(t, e)
	assert.NotEqual(t, tableRow(t, without), row, "the table has nothing of %s", k.Name)
	if k.Column == "" {
		return
	}
	cell, has := row[k.Column]
	require.True(t, has, k.Column)
	if v, is := k.Value(&e).(float64); is {
		back, err := strconv.ParseFloat(cell, 64)
		require.NoError(t, err, k.Name)
		assert.InDelta(t, v, back, math.Pow10(-k.Places)/2+1e-9, k.Name)
		return
	}
	assert.Equal(t, k.Text(&e), cell)
}

// A file and an entry line accept the same values.
func TestFileAndEntryLineTakeTheSameValues(t *testing.T) {
	for _, c := range []struct{ key, inside, outside string }{
		{"gravity", "1.250", "1.251"}, {"brix", "60", "60.1"}, {"plato", "-5", "-5.1"}, {"oechsle", "250", "251"},
		{"refractometer", "90", "90.1"}, {"ph", "14", "14.1"}, {"hiss", "5", "5.1"}, {"score", "100", "101"},
		{"amount", "0.3 g/L", "14 %"}, {"verdict", "usable", "splendid"}, {"clarity", "hazy", "murky"},
	} {
		k, ok := ferment.KeyNamed(c.key)
		require.True(t, ok)
		with := map[bool]string{true: "nutrient "}[c.key == "amount"]
		for value, fits := range map[string]bool{c.inside: true, c.outside: false} {
			_, inTheFile := inFile(t, k, value)
			_, err := onLine(with + c.key + "=" + strings.ReplaceAll(value, " ", ""))
			assert.Equal(t, fits, inTheFile, "%s: %s in a file", c.key, value)
			assert.Equal(t, fits, err == nil, "%s=%s on a line: %v", c.key, value, err)
		}
	}
}
