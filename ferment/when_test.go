package ferment

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParseWhen(t *testing.T) {
	step := func(n float64, unit OffsetUnit) Offset { return Offset{n, unit} }
	anchor := func(name string) Point { return Point{Anchor: name} }
	last := func(name string) Point { return Point{Anchor: name, Last: true} }
	end := func(name string) Point { return Point{EndOf: name} }
	first := func(c Condition) Point { return Point{Condition: &c} }
	for _, c := range []struct {
		text   string
		point  Point
		offset Offset
	}{
		{"mix", anchor("mix"), Offset{}},
		{"pitch + 2 d", anchor("pitch"), step(2, Day)},
		{"pitch+2d", anchor("pitch"), step(2, Day)},
		{"pitch  +  24 h", anchor("pitch"), step(24, Hour)},
		{"pitch - 30 min", anchor("pitch"), step(-30, Minute)},
		{"planned pitch - 3 d", anchor("planned pitch"), step(-3, Day)},
		{"planned pitch − 3 d", anchor("planned pitch"), step(-3, Day)},
		{"quiet + 60 d", anchor("quiet"), step(60, Day)},
		{"nutrient-1 + 24 h", anchor("nutrient-1"), step(24, Hour)},
		{"nutrient-1", anchor("nutrient-1"), Offset{}},
		{"w2", anchor("w2"), Offset{}},
		{"open-3 + 1 mo", anchor("open-3"), step(1, Month)},
		{"bottle + 8 wk", anchor("bottle"), step(8, Week)},
		{"last rack", last("rack"), Offset{}},
		{"last rack + 14 d", last("rack"), step(14, Day)},
		{"last ph", last("ph"), Offset{}},
		{"last started", last("started"), Offset{}},
		{"last passage + 2 mo", last("passage"), step(2, Month)},
		{"end of quiet", end("quiet"), Offset{}},
		{"end of quiet + 1 d", end("quiet"), step(1, Day)},
		{"break 1/3 + 1 d", first(Condition{Kind: AtBreak, Break: BreakLimit{1, 3}, Text: "break 1/3"}), step(1, Day)},
		{"starter at break 1/2", first(Condition{Kind: StarterAtBreak, Break: BreakLimit{1, 2}, Text: "starter at break 1/2"}), Offset{}},
		{"below 1.020", first(Condition{Kind: Below, Number: 1.020, Text: "below 1.020"}), Offset{}},
		{"started + 6 h", first(Condition{Kind: HasStarted, Text: "started"}), step(6, Hour)},
		{"near finish", first(Condition{Kind: NearFinish, Text: "near finish"}), Offset{}},
		{"lees over 1 cm", first(Condition{Kind: LeesOver, Number: 1, Text: "lees over 1 cm"}), Offset{}},
		{"seen gas", first(Condition{Kind: Saw, Word: "gas", Text: "seen gas"}), Offset{}},
	} {
		got, err := ParseWhen(c.text)
		require.NoError(t, err, c.text)
		assert.Equal(t, c.point, got.Point, c.text)
		assert.Equal(t, c.offset, got.Offset, c.text)
	}
}

func TestWhenThatCannotBeRead(t *testing.T) {
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
	for _, c := range []Condition{
		{Kind: AtBreak, Break: BreakLimit{1, 3}, Text: "break 1/3"},
		{Kind: AtBreak, Break: BreakLimit{2, 9}, Text: "break 2/9"},
		{Kind: Below, Number: 1.020, Text: "below 1.020"},
		{Kind: Above, Number: 1.010, Text: "above 1.010"},
		{Kind: NearFinish, Text: "near finish"},
		{Kind: Steady, Text: "steady"},
		{Kind: Dry, Text: "dry"},
		{Kind: Stuck, Text: "stuck"},
		{Kind: Sluggish, Text: "sluggish"},
		{Kind: Restarted, Text: "restarted"},
		{Kind: Stabilised, Text: "stabilised"},
		{Kind: IsClear, Text: "clear"},
		{Kind: HasStarted, Text: "started"},
		{Kind: NotStarted, Text: "not started"},
		{Kind: IsWild, Text: "wild"},
		{Kind: EndingUndecided, Text: "ending undecided"},
		{Kind: PaceOver, Number: 15, Text: "pace over 15"},
		{Kind: PaceUnder, Number: 3, Text: "pace under 3"},
		{Kind: PHOver, Number: 4.6, Text: "ph over 4.6"},
		{Kind: PHUnder, Number: 3.1, Text: "ph under 3.1"},
		{Kind: LeesOver, Number: 1, Text: "lees over 1 cm"},
		{Kind: LeesOver, Number: 1, Text: "lees over 10 mm"},
		{Kind: HissOver, Number: 4, Text: "hiss over 4"},
		{Kind: HissUnder, Number: 2, Text: "hiss under 2"},
		{Kind: Feels, Word: "hard", Text: "feel hard"},
		{Kind: Saw, Word: "gas", Text: "seen gas"},
		{Kind: Smells, Word: "clean", Text: "smell clean"},
		{Kind: HasFilm, Text: "film"},
		{Kind: HasMould, Text: "mould"},
		{Kind: DryAirlock, Text: "dry airlock"},
		{Kind: HasVerdict, Word: "usable", Text: "verdict usable"},
		{Kind: StarterAtBreak, Break: BreakLimit{1, 2}, Text: "starter at break 1/2"},
		{Kind: ToleranceOver, Number: 1, Text: "tolerance over by 1 %"},
		{Kind: BacteriaWorked, Text: "bacteria worked"},
		{Kind: IsPrimed, Text: "primed"},
		{Kind: IsDiscarded, Text: "discarded"},
		{Kind: TwoOpeningsSame, Text: "two openings equal"},
		{Kind: ActAtLeastAgo, Word: "sorbate", Offset: Offset{24, Hour}, Text: "sorbate at least 24 h ago"},
		{Kind: ActAtLeastAgo, Word: "forced-test", Offset: Offset{7, Day}, Text: "forced-test at least 7 d ago"},
		{Kind: ActUnderAgo, Word: "bottle", Offset: Offset{5, Day}, Text: "bottle under 5 d ago"},
		{Kind: KeySince, Word: "gravity", Step: "w4", Text: "gravity since w4"},
		{Kind: KeySince, Word: "ph", Step: "rack-clear", Text: "ph since rack-clear"},
		{Kind: StepDone, Word: "nutrient-1", Text: "nutrient-1"},
		{Kind: StepDone, Word: "prime", Text: "prime"},
	} {
		got, err := ParseCondition(c.Text)
		require.NoError(t, err, c.Text)
		assert.Equal(t, c, got, c.Text)
	}
	got, err := ParseCondition("  PH   Under  3.1 ")
	require.NoError(t, err)
	assert.Equal(t, Condition{Kind: PHUnder, Number: 3.1, Text: "PH Under 3.1"}, got)
}

func TestConditionThatCannotBeRead(t *testing.T) {
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

func TestParseBreak(t *testing.T) {
	for text, want := range map[string]BreakLimit{
		"1/3": {1, 3}, "break 1/3": {1, 3}, " break 1/2 ": {1, 2}, "2/9": {2, 9}, "254/255": {254, 255},
	} {
		got, err := ParseBreak(text)
		assert.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
}

// FuzzWhen: a trigger that can be read is read the same again from its own
// text, and a condition too.
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
			require.True(t, w.Opens.before(w.Closes))
		}
	})
}
