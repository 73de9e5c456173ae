package journal_test

import (
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/measure"
)

func TestReadSettings(t *testing.T) {
	dublin, err := time.LoadLocation("Europe/Dublin")
	require.NoError(t, err)
	r := journal.ReadSettings("cellar.yaml", []byte(`format: 1
units: us
morning: "06:30"
timezone: Europe/Dublin
hottest: 86 °F
mouse: true
instruments:
  - {name: hydrometer, kind: hydrometer, calibrated: 20 °C, water: 1.001}
  - {name: brix, kind: refractometer, compensated: true}
nutrients: [{name: ammonium phosphate, kind: ammonium, nitrogen: 212 mg/g}]
bottles: [{kind: crown beer bottle, size: 330 mL, holds: 5.5 g/L, stands: 6 bar}]
limits: {grace: 0.004, ammonium-until: break 2/5, spacing: 1 d, fresh: 90 min, steady-days: 10, molecular: 0.5 mg/L, bound: 20 %, pk: 1.9,
  steady-days-wild: 35, steady-fall: 0.002, steady-spread: 0.003, steady-temperature: 16 °C, dry-within: 0.003, stuck-above: 0.009, fermentable: 80 %,
  stored-at: 24 °C, gas-left: 1.2 g/L, forecast-above: 0.012, nutrient-alcohol: 8 %, organic-until: break 2/3}
keys: {degas: d, nutrient: N}
`), time.UTC)
	require.Empty(t, r.Problems)
	s := r.Value
	assert.Equal(t, measure.US, s.Units)
	assert.Equal(t, 6*time.Hour+30*time.Minute, s.Morning)
	assert.Equal(t, dublin.String(), s.Zone.String())
	assert.InDelta(t, 30, float64(s.Hottest), 1e-9) // (86 − 32) / 1.8
	assert.True(t, s.Mouse)
	assert.Equal(t, measure.Gravity(1.001), s.Instruments[0].Water.Value)
	assert.True(t, s.Instruments[1].Compensated)
	assert.Equal(t, measure.Yield(212), s.Nutrients[0].Nitrogen.Value)
	assert.Equal(t, measure.Pressure(6), s.Bottles[0].Stands.Value)
	assert.Equal(t, map[string]string{"degas": "d", "nutrient": "N"}, s.Keys)
	want := ferment.DefaultLimits()
	want.Grace, want.AmmoniumUntil, want.Spacing, want.Fresh, want.SteadyDays = 0.004, ferment.BreakLimit{Of: 2, In: 5}, 24*time.Hour, 90*time.Minute, 10
	want.Molecular = measure.Give(measure.MilligramsPerLitre(0.5), "0.5 mg/L")
	want.Bound, want.PK = measure.Give[measure.Share](20, "20 %"), measure.Give(1.9, "1.9")
	want.SteadyDaysWild, want.SteadyFall, want.SteadySpread, want.SteadyTemperature = 35, 0.002, 0.003, 16
	want.DryWithin, want.StuckAbove, want.Fermentable, want.ForecastAbove = 0.003, 0.009, 80, 0.012
	want.NutrientAlcohol, want.OrganicUntil = 8, ferment.BreakLimit{Of: 2, In: 3}
	want.StoredAt, want.GasLeft = measure.Give[measure.Temperature](24, "24 °C"), measure.Give[measure.Content](1.2, "1.2 g/L")
	want.Set = "grace 0.004, ammonium-until break 2/5, spacing 1 d, fresh 90 min, steady-days 10, molecular 0.5 mg/L, bound 20 %, pk 1.9, steady-days-wild 35, " +
		"steady-fall 0.002, steady-spread 0.003, steady-temperature 16 °C, dry-within 0.003, stuck-above 0.009, fermentable 80 %, stored-at 24 °C, gas-left 1.2 g/L, " +
		"forecast-above 0.012, nutrient-alcohol 8 %, organic-until break 2/3"
	assert.Equal(t, want, s.Limits, "what is not said stays as it is by default")
}

func TestEverySettingHasADefault(t *testing.T) {
	for _, text := range []string{"", "# nothing\n", "format: 1\n", "---\n"} {
		r := journal.ReadSettings("cellar.yaml", []byte(text), time.UTC)
		assert.True(t, r.Readable, text)
		assert.Equal(t, ferment.DefaultSettings(time.UTC), r.Value, text)
	}
	r := journal.ReadSettings("cellar.yaml", []byte("theme: dark\nmouse: on\n"), time.UTC)
	assert.Equal(t, ferment.DefaultSettings(time.UTC), r.Value, "a problem costs the file")
}

func TestProblemsOfOtherFiles(t *testing.T) {
	settings := func(text string) []ferment.Problem {
		return journal.ReadSettings("", []byte(text), time.UTC).Problems
	}
	lots := func(text string) []ferment.Problem { return journal.ReadLots("", []byte(text), time.UTC).Problems }
	cultures := func(text string) []ferment.Problem {
		return journal.ReadCultures("", []byte(text), time.UTC).Problems
	}
	protocol := func(text string) []ferment.Problem {
		_, ps := journal.ReadProtocol("protocols/mine.yaml", []byte(text))
		for i := range ps {
			ps[i].File = ""
		}
		return ps
	}
	for _, c := range []struct {
		read          func(string) []ferment.Problem
		text, problem string
	}{
		{settings, "mouse: on", `1:8: mouse "on" is neither true nor false (e.g. mouse: true)`},
		{settings, "mouse: yes", `1:8: mouse "yes" is neither true nor false (e.g. mouse: true)`},
		{settings, "morning: 7 am", `1:10: morning "7 am" is no time of day (e.g. morning: "07:00")`},
		{settings, "timezone: Heather/Hill", `1:11: timezone "Heather/Hill" is no time zone known here (e.g. timezone: Europe/Dublin)`},
		{settings, "timezone: Local", `1:11: timezone "Local" is no time zone known here (e.g. timezone: Europe/Dublin)`},
		{settings, "limits: {spacing: 2 mo}", `1:19: spacing "2 mo" is no length of time (a number and min, h or d, e.g. 12 h)`},
		{settings, "limits: {spacing: -2 h}", `1:19: spacing "-2 h" is no length of time (a number and min, h or d, e.g. 12 h)`},
		{settings, "limits: {grace: 0.06}", `1:17: grace "0.06" is out of range for a fall of gravity (0 to 0.05, e.g. 0.005)`},
		{settings, "limits: {steady-days: 0}", `1:23: steady-days "0" is out of range (1 to 365, e.g. steady-days: 14)`},
		{settings, "limits: {stored-at: 12 °C}", `1:21: stored-at "12 °C" is outside what the dose of sulphite is worked out for (20 to 40 °C, and 20 °C for anything colder, e.g. 20 °C)`},
		{settings, "limits: {gas-left: 1.2 bar}", `1:20: gas-left "1.2 bar" is not a carbonation (a number and g/L or volumes, e.g. 5 g/L)`},
		{settings, "limits: {forecast-above: 0.06}", `1:26: forecast-above "0.06" is out of range for a fall of gravity (0 to 0.05, e.g. 0.005)`},
		{settings, "limits: {fermentable: 40 %}", `1:23: fermentable "40 %" is no fermentable share (50 to 100 %, e.g. 80 %)`},
		{settings, "limits: {stuck-above: high}", `1:23: stuck-above "high" is not a fall of gravity (a plain number, e.g. 0.005)`},
		{settings, "limits: {molecular: 0.8}", `1:21: molecular "0.8" needs its unit (a number and g/L or mg/L, e.g. 5.5 g/L)`},
		{lots, "lots: [{id: a, fermentable: 120 %}]", `1:29: fermentable "120 %" is out of range for a share (a number and %, e.g. 18.1 %)`},
		{settings, "keys: {degas: d, degas: e}", `1:18: "degas" is twice in keys (leave one, e.g. keys: {degas: d})`},
		{settings, "keys: d", `1:7: keys is written as actions with their keys (e.g. keys: {degas: d})`},
		{settings, "bottles: [{kind: jar, holds: 6 bar}]", `1:30: holds "6 bar" is not a carbonation (a number and g/L or volumes, e.g. 5 g/L)`},
		{lots, "lots: [{mass: 8 kg}]", `1:8: a lot needs id (e.g. id: bell-heather-26)`},
		{lots, "lots:\n  - id: a\n  - id: a", `3:9: id "a" is the id of line 2 too (e.g. id: a-2)`},
		{lots, "lots: [{id: a, refractive-index: 1.29}]", `1:34: refractive-index "1.29" is out of range for a refractive index (1.3 to 1.6, e.g. 1.4912)`},
		{lots, "lots: [{id: a, state: sett}]", `1:23: state "sett" is not one of its words (did you mean state: set)`},
		{lots, "lots: [{id: a, used: [{masss: 1 g}]}]", `1:24: "masss" is no key of a use of honey (did you mean mass, e.g. mass: 500 g)`},
		{cultures, "cultures: [{name: a}]", `1:12: a culture needs id (e.g. id: hawthorn-3)`},
		{cultures, "cultures: [{id: a, verdict: good}]", `1:29: verdict "good" is not one of its words (one of trying, usable, discarded)`},
		{cultures, "cultures:\n  - id: a\n    log:\n      - at: 2026-05-18\n        note: smell: eggs\n      - at: 2026-05-19\n", `5:15: note "smell: eggs" has a colon in it (put the text in quotes, e.g. note: "smell: eggs")`},
		{protocol, "steps:\n  - {step: a, do: degas, due: pitch + 1 day}", `2:31: due `},
		{protocol, "steps:\n  - {step: a, do: degas, due: {firts: [pitch]}}", `2:32: "firts" is no choice of times (first or last, e.g. due: {first: [pitch + 2 d, break 1/3]})`},
		{protocol, "steps:\n  - {step: a, do: degas, due: {first: [pitch], last: [rack]}}", `2:31: due takes one of first and last (e.g. due: pitch + 2 d)`},
		{protocol, "steps:\n  - {step: a, do: degas, due: {first: []}}", `2:39: due has nothing to choose from (e.g. due: pitch + 2 d)`},
		{protocol, "steps:\n  - {step: a, do: degas, due: pitch, gate: open}", `2:44: gate "open" is not one of its words (one of nutrient, steady, still bottling, bottle-conditioning)`},
		{protocol, "steps:\n  - {step: a, title: a title that is longer than a line, do: degas, due: pitch}", `2:22: title "a title that is longer than a line" has 34 characters, and a title has room for 28 (e.g. title: look at the culture)`},
		{protocol, "steps:\n  - {do: degas, due: pitch}", `2:5: a step needs step (e.g. step: nutrient-1)`},
		{protocol, "steps:\n  - {step: a, do: degas, due: pitch, part: whole}", `2:44: part "whole" is not one of its words (one of culture, ferment)`},
		{protocol, "steps:\n  - {step: a, do: degas, due: pitch, broken-by: [stuck]}", `2:5: broken-by needs quiet (e.g. quiet: {from: pitch + 14 d, to: quiet + 60 d})`},
		{protocol, "limits: {steady-days: many}", `1:23: steady-days "many" is not a whole number (e.g. steady-days: 14)`},
	} {
		got := lines(c.read(c.text))
		if c.problem[len(c.problem)-1] == ' ' {
			assert.Contains(t, got, c.problem, c.text)
			continue
		}
		assert.Equal(t, c.problem, got, c.text)
	}
}

func TestReadCultures(t *testing.T) {
	r := journal.ReadCultures("cultures.yaml", []byte(`format: 1
cultures:
  - id: hawthorn-2
    log:
      - {at: 2026-05-18T15:00:00+01:00, did: passage, step: w1, medium: 100 mL, gravity: 1.036, alcohol: 5 %, ph: 4.1}
      - {at: 2026-05-22, did: look, smell: eggs: many}
    verdict: discarded
  - id: hawthorn-3
    from: hawthorn-2
    log: [{at: 2026-06-01, did: collect}]
`), time.UTC)
	require.True(t, r.Readable)
	require.Len(t, r.Problems, 1)
	require.Len(t, r.Value, 2)
	first, second := r.Value[0], r.Value[1]
	assert.True(t, first.Incomplete)
	assert.False(t, second.Incomplete)
	require.Len(t, first.Log, 1)
	assert.Equal(t, measure.Millilitres(100), first.Log[0].Medium.Value)
	assert.Equal(t, "discarded", first.Verdict)
	assert.Equal(t, 8, second.Line)
	assert.Len(t, second.Log, 1)
}

func TestReadProtocolFillsInDefaults(t *testing.T) {
	p, problems := journal.ReadProtocol("protocols/mine.yaml", []byte(`format: 1
name: mine
limits: {steady-days: 7}
steps:
  - {step: feed, do: nutrient, share: 25 %, due: {first: [pitch + 2 d, {last: [started, break 1/9]}]}, first: [degas], needs: started}
  - {step: stir, do: degas, due: pitch + 1 d, window: -5 h .. +7 h, missed: late, repeat: {at: [3 d, 5 d], from: pitch}}
  - step: rest
    quiet: {from: pitch + 14 d, to: quiet + 60 d}
    broken-by: [stuck, dry airlock]
  - {step: grow, part: culture, do: passage, due: collect, medium: {gravity: 1.035, ph: at most 4.2}}
  - {step: bad, do: dance, due: pitch}
`))
	require.Len(t, problems, 1)
	assert.True(t, p.Problem, "a step is left out")
	require.Len(t, p.Steps, 4)
	feed, stir, rest, grow := p.Steps[0], p.Steps[1], p.Steps[2], p.Steps[3]
	assert.Equal(t, 0.25, feed.Share)
	assert.Equal(t, ferment.Window{Opens: ferment.Offset{Number: -12, Unit: ferment.Hour}, Closes: ferment.Offset{Number: 24, Unit: ferment.Hour}}, feed.Window)
	assert.Equal(t, ferment.Late, feed.Missed)
	assert.Equal(t, []ferment.Act{ferment.Degas}, feed.First)
	require.Len(t, feed.Due.First, 2)
	assert.Len(t, feed.Due.First[1].Last, 2)
	assert.Equal(t, ferment.Offset{Number: -5, Unit: ferment.Hour}, stir.Window.Opens)
	assert.Len(t, stir.Repeat.At, 2)
	assert.Equal(t, "pitch", stir.Repeat.From.Point.Anchor)
	assert.Len(t, rest.Quiet.BrokenBy, 2)
	assert.True(t, grow.Culture)
	assert.Equal(t, "gravity 1.035, ph at most 4.2", grow.Medium)
	changed := ferment.DefaultLimits()
	changed.SteadyDays, changed.Set = 7, "steady-days 7"
	assert.Equal(t, changed, p.Limits(ferment.DefaultLimits()))
	assert.Equal(t, "pk 1.9, steady-days 7", p.Limits(ferment.Limits{Set: "steady-days 10, pk 1.9"}).Set, "the plan's comes last")
}

// An id is typed in commands and completed by shells, so it is as strict as a name.
func TestIdsAreNames(t *testing.T) {
	for b := range 256 {
		id := "a" + string(rune(b)) + "b"
		lots := journal.ReadLots("honey.yaml", []byte("lots: [{id: "+strconv.Quote(id)+"}]\n"), time.UTC)
		cultures := journal.ReadCultures("cultures.yaml", []byte("cultures: [{id: "+strconv.Quote(id)+"}]\n"), time.UTC)
		assert.Equal(t, ferment.LegalName(id), lots.Readable, id)
		assert.Equal(t, ferment.LegalName(id), cultures.Readable, id)
	}
	r := journal.ReadCultures("cultures.yaml", []byte("cultures:\n  - id: $(touch${IFS}x)\n"), time.UTC)
	assert.Equal(t, `cultures.yaml:2:9: id "$(touch${IFS}x)" is no name: at most 64 letters, digits, _ and, not first, -, without spaces (e.g. id: hawthorn-3)`, r.Problems[0].String())
}
