package protocol

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment"
)

func offset(n float64, unit ferment.OffsetUnit) ferment.Offset {
	return ferment.Offset{Number: n, Unit: unit}
}

func TestParseWhen(t *testing.T) {
	step := offset
	anchor := func(name string) ferment.Point { return ferment.Point{Anchor: name} }
	last := func(name string) ferment.Point { return ferment.Point{Anchor: name, Last: true} }
	end := func(name string) ferment.Point { return ferment.Point{EndOf: name} }
	first := func(c ferment.Condition) ferment.Point { return ferment.Point{Condition: &c} }
	for _, c := range []struct {
		text   string
		point  ferment.Point
		offset ferment.Offset
	}{
		{"mix", anchor("mix"), ferment.Offset{}},
		{"pitch + 2 d", anchor("pitch"), step(2, ferment.Day)},
		{"pitch+2d", anchor("pitch"), step(2, ferment.Day)},
		{"pitch  +  24 h", anchor("pitch"), step(24, ferment.Hour)},
		{"pitch - 30 min", anchor("pitch"), step(-30, ferment.Minute)},
		{"planned pitch - 3 d", anchor("planned pitch"), step(-3, ferment.Day)},
		{"planned pitch − 3 d", anchor("planned pitch"), step(-3, ferment.Day)},
		{"quiet + 60 d", anchor("quiet"), step(60, ferment.Day)},
		{"nutrient-1 + 24 h", anchor("nutrient-1"), step(24, ferment.Hour)},
		{"nutrient-1", anchor("nutrient-1"), ferment.Offset{}},
		{"w2", anchor("w2"), ferment.Offset{}},
		{"open-3 + 1 mo", anchor("open-3"), step(1, ferment.Month)},
		{"bottle + 8 wk", anchor("bottle"), step(8, ferment.Week)},
		{"last rack", last("rack"), ferment.Offset{}},
		{"last rack + 14 d", last("rack"), step(14, ferment.Day)},
		{"last ph", last("ph"), ferment.Offset{}},
		{"last started", last("started"), ferment.Offset{}},
		{"last passage + 2 mo", last("passage"), step(2, ferment.Month)},
		{"end of quiet", end("quiet"), ferment.Offset{}},
		{"end of quiet + 1 d", end("quiet"), step(1, ferment.Day)},
		{"break 1/3 + 1 d", first(ferment.Condition{Kind: ferment.AtBreak, Break: ferment.BreakLimit{Of: 1, In: 3}, Text: "break 1/3"}), step(1, ferment.Day)},
		{"starter at break 1/2", first(ferment.Condition{Kind: ferment.StarterAtBreak, Break: ferment.BreakLimit{Of: 1, In: 2}, Text: "starter at break 1/2"}), ferment.Offset{}},
		{"below 1.020", first(ferment.Condition{Kind: ferment.Below, Number: 1.020, Text: "below 1.020"}), ferment.Offset{}},
		{"started + 6 h", first(ferment.Condition{Kind: ferment.HasStarted, Text: "started"}), step(6, ferment.Hour)},
		{"near finish", first(ferment.Condition{Kind: ferment.NearFinish, Text: "near finish"}), ferment.Offset{}},
		{"lees over 1 cm", first(ferment.Condition{Kind: ferment.LeesOver, Number: 1, Text: "lees over 1 cm"}), ferment.Offset{}},
		{"seen gas", first(ferment.Condition{Kind: ferment.Saw, Word: "gas", Text: "seen gas"}), ferment.Offset{}},
	} {
		got, err := ParseWhen(c.text)
		require.NoError(t, err, c.text)
		assert.Equal(t, c.point, got.Point, c.text)
		assert.Equal(t, c.offset, got.Offset, c.text)
	}
}

func TestInvalidWhen(t *testing.T) {
	for text, want := range map[string]string{
		"":                 `"" is not a point in time`,
		"soon after pitch": `"soon after pitch" is not a point in time`,
		"pitch + 2":        `"+2" needs its unit`,
		"pitch + 2 days":   `"+2 days" is not a step in time`,
		"pitch + d":        `"pitch + d" is not a point in time`,
		"+ 2 d":            `"+ 2 d" is not a point in time`,
		"last":             "",
		"last  first rack": `"last first rack" is not a point in time`,
		"end of":           `"end of" is not a point in time`,
		"break 3/1":        `"3/1" is not a break`,
		"below 2":          `"2" is not a density`,
		"seen elk":         `"elk" is not one of its words (one of foam, gas, sediment, film, mould, flies)`,
		"rack 2 d ago":     "does not say how long ago",
	} {
		_, err := ParseWhen(text)
		if want == "" {
			assert.NoError(t, err, "a step may be called so")
			continue
		}
		assert.ErrorContains(t, err, want, text)
	}
}

func TestParseCondition(t *testing.T) {
	for _, c := range []ferment.Condition{
		{Kind: ferment.AtBreak, Break: ferment.BreakLimit{Of: 1, In: 3}, Text: "break 1/3"},
		{Kind: ferment.AtBreak, Break: ferment.BreakLimit{Of: 2, In: 9}, Text: "break 2/9"},
		{Kind: ferment.Below, Number: 1.020, Text: "below 1.020"},
		{Kind: ferment.Above, Number: 1.010, Text: "above 1.010"},
		{Kind: ferment.NearFinish, Text: "near finish"},
		{Kind: ferment.Steady, Text: "steady"},
		{Kind: ferment.Dry, Text: "dry"},
		{Kind: ferment.Stuck, Text: "stuck"},
		{Kind: ferment.Sluggish, Text: "sluggish"},
		{Kind: ferment.Restarted, Text: "restarted"},
		{Kind: ferment.Stabilised, Text: "stabilised"},
		{Kind: ferment.IsClear, Text: "clear"},
		{Kind: ferment.HasStarted, Text: "started"},
		{Kind: ferment.NotStarted, Text: "not started"},
		{Kind: ferment.IsWild, Text: "wild"},
		{Kind: ferment.EndingUndecided, Text: "ending undecided"},
		{Kind: ferment.PaceOver, Number: 15, Text: "pace over 15"},
		{Kind: ferment.PaceUnder, Number: 3, Text: "pace under 3"},
		{Kind: ferment.PHOver, Number: 4.6, Text: "ph over 4.6"},
		{Kind: ferment.PHUnder, Number: 3.1, Text: "ph under 3.1"},
		{Kind: ferment.LeesOver, Number: 1, Text: "lees over 1 cm"},
		{Kind: ferment.LeesOver, Number: 1, Text: "lees over 10 mm"},
		{Kind: ferment.HissOver, Number: 4, Text: "hiss over 4"},
		{Kind: ferment.HissUnder, Number: 2, Text: "hiss under 2"},
		{Kind: ferment.Feels, Word: "hard", Text: "feel hard"},
		{Kind: ferment.Saw, Word: "gas", Text: "seen gas"},
		{Kind: ferment.Smells, Word: "clean", Text: "smell clean"},
		{Kind: ferment.HasFilm, Text: "film"},
		{Kind: ferment.HasMould, Text: "mould"},
		{Kind: ferment.DryAirlock, Text: "dry airlock"},
		{Kind: ferment.HasVerdict, Word: "usable", Text: "verdict usable"},
		{Kind: ferment.StarterAtBreak, Break: ferment.BreakLimit{Of: 1, In: 2}, Text: "starter at break 1/2"},
		{Kind: ferment.ToleranceOver, Number: 1, Text: "tolerance over by 1 %"},
		{Kind: ferment.BacteriaWorked, Text: "bacteria worked"},
		{Kind: ferment.IsPrimed, Text: "primed"},
		{Kind: ferment.IsDiscarded, Text: "discarded"},
		{Kind: ferment.TwoOpeningsSame, Text: "two openings equal"},
		{Kind: ferment.ActAtLeastAgo, Word: "sorbate", Offset: offset(24, ferment.Hour), Text: "sorbate at least 24 h ago"},
		{Kind: ferment.ActAtLeastAgo, Word: "forced-test", Offset: offset(7, ferment.Day), Text: "forced-test at least 7 d ago"},
		{Kind: ferment.ActUnderAgo, Word: "bottle", Offset: offset(5, ferment.Day), Text: "bottle under 5 d ago"},
		{Kind: ferment.KeySince, Word: "gravity", Step: "w4", Text: "gravity since w4"},
		{Kind: ferment.KeySince, Word: "ph", Step: "rack-clear", Text: "ph since rack-clear"},
		{Kind: ferment.StepDone, Word: "nutrient-1", Text: "nutrient-1"},
		{Kind: ferment.StepDone, Word: "prime", Text: "prime"},
	} {
		got, err := ParseCondition(c.Text)
		require.NoError(t, err, c.Text)
		assert.Equal(t, c, got, c.Text)
	}
	got, err := ParseCondition("  PH   Under  3.1 ")
	require.NoError(t, err)
	assert.Equal(t, ferment.Condition{Kind: ferment.PHUnder, Number: 3.1, Text: "PH Under 3.1"}, got)
}

func TestInvalidConditions(t *testing.T) {
	for text, want := range map[string]string{
		"":                         `"" is not a condition (a word, a step or a comparison, e.g. near finish, nutrient-1 or ph under 3.1)`,
		"nearly done":              "is not a condition",
		"ph under":                 "is not a condition",
		"ph under x":               "needs a number in its range (0 to 14, e.g. ph under 3.1)",
		"ph over 15":               "needs a number in its range",
		"hiss over 6":              "0 to 5",
		"pace over -1":             "points a day",
		"lees over 1":              "needs its unit",
		"lees over 1 L":            "is not a depth",
		"tolerance over by 1":      "needs its unit",
		"below 1.3":                "is not a density",
		"break 0/3":                "is not a break",
		"break 3/3":                "is not a break",
		"break 1.5/3":              "is not a break",
		"break -1/3":               "is not a break",
		"break 1/300":              "is not a break",
		"feel odd":                 "one of soft, firm, hard",
		"verdict good":             "one of trying, usable, discarded",
		"elk at least 2 h ago":     "how long ago",
		"rack at least 2 ago":      "how long ago",
		"rack at least -2 h ago":   "how long ago",
		"rack over 2 h ago":        "how long ago",
		"smell since w4":           "e.g. smell clean",
		"seen since w4":            "one of foam",
		"lees since w4":            "e.g. gravity since rack",
		"gravity since last rack":  "e.g. gravity since rack",
		"rack at least 24 h later": "is not a condition",
	} {
		_, err := ParseCondition(text)
		assert.ErrorContains(t, err, want, text)
	}
}

// FuzzWhen: a time or a condition that parses gives the same result from its own text.
func FuzzWhen(f *testing.F) {
	for _, text := range []string{"pitch + 2 d", "last rack", "end of quiet", "break 1/3 + 1 d", "planned pitch − 3 d",
		"rack at least 24 h ago", "gravity since w4", "ph under 3.1", "-12 h .. +24 h", "+", "last ", "breaK 1/3"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if w, err := ParseWhen(text); err == nil {
			again, err := ParseWhen(w.Text)
			require.NoError(t, err)
			require.Equal(t, w, again)
		}
		if c, err := ParseCondition(text); err == nil {
			again, err := ParseCondition(c.Text)
			require.NoError(t, err)
			require.Equal(t, c, again)
		}
		if w, err := ParseWindow(text); err == nil {
			require.True(t, !w.IsNever())
		}
	})
}

func TestParseWindow(t *testing.T) {
	for text, want := range map[string]ferment.Window{
		"-12 h .. +24 h": {Opens: offset(-12, ferment.Hour), Closes: offset(24, ferment.Hour)},
		"0 h..+1 d":      {Opens: offset(0, ferment.Hour), Closes: offset(1, ferment.Day)},
		"-7 d .. -1 d":   {Opens: offset(-7, ferment.Day), Closes: offset(-1, ferment.Day)},
		"+2 d .. +1 mo":  {Opens: offset(2, ferment.Day), Closes: offset(1, ferment.Month)},
		"23 h .. 1 d":    {Opens: offset(23, ferment.Hour), Closes: offset(1, ferment.Day)},
	} {
		got, err := ParseWindow(text)
		assert.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for text, want := range map[string]string{
		"+1 d .. 0 h":   "closes before it opens",
		"24 h .. 1 d":   "closes before it opens",
		"0 d .. 0 d":    "closes before it opens",
		"+5 wk .. 1 mo": "closes before it opens",
		"12 h":          "is not a window",
		"":              "is not a window",
		"0 h .. 12":     "needs its unit",
		"x .. 12 h":     "is not a step in time",
	} {
		_, err := ParseWindow(text)
		assert.ErrorContains(t, err, want, text)
	}
}

func TestDefaultWindow(t *testing.T) {
	daily, weekly, never := offset(1, ferment.Day), offset(7, ferment.Day), ferment.Offset{}
	for _, c := range []struct {
		do     string
		every  ferment.Offset
		want   string
		missed ferment.Missed
	}{
		{"nutrient", never, "-12 h .. +24 h", ferment.Late},
		{"nutrient", daily, "-12 h .. +24 h", ferment.Late},
		{"degas", offset(12, ferment.Hour), "-6 h .. 6 h", ferment.Drop},
		{"degas", daily, "-0.5 d .. 0.5 d", ferment.Drop},
		{"degas", never, "-12 h .. 12 h", ferment.Drop},
		{"punch", offset(12, ferment.Hour), "-6 h .. 6 h", ferment.Drop},
		{"look", weekly, "-3.5 d .. 3.5 d", ferment.Drop},
		{"squeeze", offset(1, ferment.Month), "-15 d .. 15 d", ferment.Drop},
		{"gravity", weekly, "-1 d .. +1 d", ferment.Drop},
		{"ph", never, "-1 d .. +1 d", ferment.Drop},
		{"rack", never, "-7 d .. +14 d", ferment.Late},
		{"bottle", never, "-7 d .. +14 d", ferment.Late},
		{"prime", never, "-7 d .. +14 d", ferment.Late},
		{"open", never, "-14 d .. +14 d", ferment.Late},
		{"taste", never, "-14 d .. +14 d", ferment.Late},
		{"temperature", daily, "0 h .. +1 d", ferment.Late},
		{"sorbate", never, "0 h .. +1 d", ferment.Late},
	} {
		want, err := ParseWindow(c.want)
		require.NoError(t, err)
		got, missed := defaultWindow(c.do, c.every)
		assert.Equal(t, want, got, c)
		assert.Equal(t, c.missed, missed, c)
	}
}
