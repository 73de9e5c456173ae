package app_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/schedule/app"
)

// TestUnlikelyDose has both sides of every limit for a dose. The limits are
// common practice, without a source, except where mostOf names one.
func TestUnlikelyDose(t *testing.T) {
	log := "3 11:00 pitch 1g|4 08:00 started|5 07:00 1.072"
	for _, c := range []struct{ log, entry, asks string }{
		{log, "5 09:00 nutrient 1.4g", ""},
		{log, "5 09:00 nutrient 2g", ""},
		{log, "5 09:00 nutrient 2.1g", "2.1 g is 1.5 times the plan, 1.4 g"},
		{log, "5 09:00 nutrient 0.5g", ""},
		{log, "5 09:00 nutrient 14g", "14 g is ten times the plan, 1.4 g: did you mean 1.4 g, or 14 mL of the 10 % solution?"},
		{log, "5 09:00 nutrient 41g", "41 g is 30 times the plan, 1.4 g: did you mean 1.4 g?"},
		{log, "5 09:00 nutrient 140g", "140 g is a hundred times the plan, 1.4 g: did you mean 1.4 g?"},
		{log, "5 09:00 nutrient 0.14g", "0.14 g is a tenth of the plan, 1.4 g: did you mean 1.4 g?"},
		{log, "5 09:00 nutrient 14mL stock=10%", ""},
		{log, "5 09:00 nutrient 18mL", "18 mL of a solution counts only with its strength"},
		{log, "5 09:00 nutrient 1tsp", "1 tsp is a volume"},
		{log, "5 09:00 nutrient unknown", ""},
		{log + "|5 08:00 nutrient 0.8g", "5 09:00 nutrient 0.8g", "nutrient 0.8 g is written down already, 5 Oct 08:00"},
		{log + "|5 08:00 nutrient 0.8g", "5 13:59 nutrient 0.8g", "written down already, 5 Oct 08:00"},
		{log + "|5 08:00 nutrient 0.8g", "5 14:01 nutrient 0.8g", ""},
		{"", "3 11:00 pitch 1g", ""},
		{"", "3 11:00 pitch 5g", ""}, // a packet
		{"", "3 11:00 pitch 11g", ""},
		{"", "3 11:00 pitch 50g", "50 g is 56 times the plan"},
		{"", "3 11:00 pitch 9g", "9 g is ten times the plan, 0.9 g: did you mean 0.9 g?"}, // not a packet
		{log, "6 09:00 buffer 5g", ""},
		{log, "6 09:00 buffer 50g", "comes to 13.9 g in each litre"},
		{log, "6 09:00 acid 12g", ""},
		{log, "6 09:00 acid 120g", "comes to 33.3 g in each litre"},
		{log, "6 09:00 fruit-in 800g", ""},
		{log, "6 09:00 fruit-in 8kg", "leaves no room"},
		{log, "6 09:00 honey 300g", ""},
		{log, "6 09:00 honey 3kg", "would stop the yeast"},
	} {
		snapshot, v := vessel(holding(jug("heath", 3.6, c.log)), "heath", line(c.entry).At.Time)
		assertAsks(t, c.asks, app.Says(app.Unlikely(snapshot, v, line(c.entry))), c.entry)
	}
}

// TestTypedDoseBringsNitrogen: ammonium phosphate has 212 mg of nitrogen in a gram (28.01/132.06, atomic weights), so
// 14 g make 825 mg/L in 3.6 L.
func TestTypedDoseBringsNitrogen(t *testing.T) {
	snapshot, v := vessel(holding(jug("heath", 3.6, "3 11:00 pitch|4 08:00 started|5 07:00 1.072")), "heath", at(5, 9, 0))
	p := app.Meaning(snapshot, v, line("5 09:00 nutrient 14g"))
	require.NotNil(t, p.Dose)
	assert.InDelta(t, 14*212.1/3.6, p.Dose.Reached.MilligramsPerLitre(), 3)
	assert.InDelta(t, 10, p.Dose.Factor, 0.5)
}

// TestGuessReplacesWhatWasTyped, wherever it is in the line.
func TestGuessReplacesWhatWasTyped(t *testing.T) {
	for _, c := range []struct{ line, part, takes, want string }{
		{"14g", "14 g", "1.4 g", "1.4 g"},
		{"14 g -30min ; of 14", "14 g", "1.4 g", "1.4 g -30min ; of 14"},
		{"nutrient 14g", "14 g", "14 mL stock=10%", "nutrient 14 mL stock=10%"},
		{"1.046@92 92C", "92 °C", "92F", "1.046@92F 92C"},
		{"ph9.9", "9.9", "3.9", "ph3.9"},
		{"degas", "14 g", "1.4 g", "degas 1.4 g"},
	} {
		assert.Equal(t, c.want, app.Ask{Part: c.part}.Take(c.line, app.Meant{Type: c.takes}), c.line)
	}
}
