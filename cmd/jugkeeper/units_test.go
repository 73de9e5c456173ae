package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// usCellar returns the invented cellar, typed in metric units, shown in US units.
func usCellar(t *testing.T) string {
	t.Helper()
	dir := demoCellar(t)
	settings := filepath.Join(dir, "cellar.yaml")
	data, err := os.ReadFile(settings)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(settings, append(data, "units: us\n"...), 0o666))
	return dir
}

func told(t *testing.T, dir, line string) string {
	t.Helper()
	var out, errs bytes.Buffer
	run(strings.Fields(line), around(dir, &out, &errs))
	require.NotEmpty(t, out.String()+errs.String(), line)
	return strings.ReplaceAll(out.String()+errs.String(), dir, "CELLAR")
}

// JSON is metric, including its sentences.
func TestJSONIsMetric(t *testing.T) {
	metric, us := demoCellar(t), usCellar(t)
	for _, line := range []string{
		"today", "", "today --days 60", "show clover", "show chestnut-b", "show gorse", "show thyme-a", "compare chestnut-a chestnut-b", "check",
	} {
		line += " --json"
		assert.Equal(t, told(t, metric, line), told(t, us, line), line)
	}
}

// A bare number is in the person's units, with --json too.
func TestTypedUnitsAreKept(t *testing.T) {
	dir := usCellar(t)
	require.Contains(t, told(t, dir, "log chestnut-b 1.061@68 --json"), "kept")
	data, err := os.ReadFile(filepath.Join(dir, "ferments/chestnut-b.yaml"))
	require.NoError(t, err)
	assert.Contains(t, string(data), "sample: 68 °F")
}

// slipped matches a metric unit in output, except units by the litre (g/L, mg/L), grams below 10 g, as scales show
// them, and a density in kg/m³.
var slipped = regexp.MustCompile(`\d ?°?C\b|°C|(^|[^\p{L}/])(mL|L|kg|bar|kPa|mm|cm)($|[^\p{L}/³])|(^|[^.\d])(1[1-9]|[2-9]\d|\d{3,})(\.\d+)? g($|[^\p{L}/])`)

// asPublished matches lines with a published source and range.
var asPublished = regexp.MustCompile(`(?m)^(equation|source|range|uncertainty) .*$`)

// With US units no others are shown, whatever was typed.
func TestOnlyUSUnitsAreShown(t *testing.T) {
	for _, line := range []string{
		"", "today", "today --days 90", "today --plain", "show clover", "show clover --plain", "show chestnut-a", "show chestnut-b", "show dandelion", "show buckwheat",
		"show gorse", "show gorse --plain", "show thyme-a", "show thyme-b", "compare chestnut-a chestnut-b", "compare clover chestnut-a gorse", "compare thyme-a thyme-b --plain", "check",
		"export calendar", "export sheet", "export sheet clover", "export tag", "export label gorse", "export label thyme-a", "export curve clover",
		"log clover 0.996@18C 19C", "log clover volume=3.1L", "log buckwheat rack 3.2L lost=0.2L", "log chestnut-b nutrient 1.4g", "log buckwheat lees=1.5cm", "log clover forced-test 100mL",
		"done buckwheat nutrient", "done chestnut-b nutrient 14mL stock=10%", "done dandelion started", "done gorse squeeze",
		"new fir volume=3.6L gravity=1.084 lot=heath-26 brimful=4.1L from=target",
		"work must honey=1kg volume=3L water=18%", "work prime volume=3.05L alcohol=11.5% warmest=19C target=5g/L bottle=330mL", "work pressure co2=5g/L alcohol=11% at=20C",
		"work hydrometer reads=1.046 sample=23C", "work sulphite ph=3.4 volume=3L", "work nutrient volume=3.6L gravity=1.084 demand=medium", "work gas volume=3L alcohol=11% cools-from=20C to=10C",
	} {
		text := asPublished.ReplaceAllString(told(t, usCellar(t), line), "")
		for _, row := range strings.Split(text, "\n") {
			assert.NotRegexp(t, slipped, row, line)
		}
	}
}

// own is a person's text with units.
const own = "spilled 2 L, the jug stood at 30 cm and {about} 20 °C"

// In US units a person's text is unchanged.
func TestOwnWordsAreNotConverted(t *testing.T) {
	dir := usCellar(t)
	write := func(file, text string) {
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(dir, file)), 0o777))
		require.NoError(t, os.WriteFile(filepath.Join(dir, file), []byte(text), 0o666))
	}
	write("protocols/mine.yaml", "format: 1\nname: mine\nsteps:\n"+
		"  - {step: stir, title: stir it, do: look, due: pitch + 1 d, window: 0 d .. +30 d, missed: late, amount: \"half of 4 L and 10 cm\", of: \"the 3 kg pot\", say: \""+own+"\"}\n")
	write("ferments/fir.yaml", "format: 1\nname: the 2 L jug\nvessel: {kind: glass jug, brimful: 4.1 L}\nprotocol: mine\nmust: {volume: 3.6 L, gravity: 1.084}\n"+
		"log:\n  - {at: "+evening.AddDate(0, 0, -2).Format("2006-01-02")+", did: pitch}\n")
	write("honey.yaml", "format: 1\nlots:\n  - {id: ivy, mass: 1.8 kg, treated: \""+own+"\", note: \""+own+"\"}\n")
	for line, said := range map[string][]string{
		"today":           {"spilled 2 L", "half of 4 L and 10 cm", "the 3 kg pot"},
		"today --plain":   {"half of 4 L and 10 cm"},
		"show fir":        {"the 2 L jug"},
		"export calendar": {"spilled 2 L"},
	} {
		text := strings.Join(strings.Fields(told(t, dir, line)), " ")
		for _, words := range said {
			assert.True(t, strings.Contains(text, words), "%s: %s", line, words)
		}
		assert.Empty(t, regexp.MustCompile(`0\.53 gal|1\.06 gal|11\.8 in`).FindAllString(text, -1), line)
	}
}
