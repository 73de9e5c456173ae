package ferment

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParseOffset(t *testing.T) {
	for text, want := range map[string]Offset{
		"+24 h":     {24, Hour},
		"-12 h":     {-12, Hour},
		"- 12 h":    {-12, Hour},
		"−12 h":     {-12, Hour},
		"0 d":       {0, Day},
		"3d":        {3, Day},
		"1.5 h":     {1.5, Hour},
		"1,5 h":     {1.5, Hour},
		"0.5 d":     {0.5, Day},
		"30 MIN":    {30, Minute},
		"8 wk":      {8, Week},
		"2 mo":      {2, Month},
		"600 mo":    {600, Month},
		" + 1 d ":   {1, Day},
		"430000 h":  {430000, Hour},
		"-18000 d":  {-18000, Day},
		"+2600 wk":  {2600, Week},
		"25e6 min":  {}, // no exponents
		"601 mo":    {},
		"430001 h":  {},
		"-18001 d":  {},
		"1.5 mo":    {},
		"12":        {},
		"":          {},
		"h":         {},
		"d 3":       {},
		"3 days":    {},
		"++3 d":     {},
		"3 d 4 h":   {},
		"1.000,5 h": {},
		"NaN h":     {},
		"3 m":       {},
	} {
		got, err := ParseOffset(text)
		if want == (Offset{}) {
			assert.Error(t, err, text)
			continue
		}
		assert.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
}

func TestOffsetErrorsShowTheTextAndARightOne(t *testing.T) {
	for text, want := range map[string]string{
		"12":     `"12" needs its unit (a number and min, h, d, wk or mo, e.g. +12 h)`,
		"3 days": `"3 days" is not a step in time (a number and min, h, d, wk or mo, e.g. +12 h)`,
		"700 mo": `"700 mo" is more than fifty years (a number and min, h, d, wk or mo, e.g. +12 h)`,
		"1.5 mo": `"1.5 mo" is not a whole number of months (whole months, or weeks and days, e.g. 6 wk)`,
	} {
		_, err := ParseOffset(text)
		assert.EqualError(t, err, want)
	}
}

func TestAbsoluteOffsets(t *testing.T) {
	d, ok := Offset{36, Hour}.Absolute()
	assert.True(t, ok)
	assert.Equal(t, 36*time.Hour, d)
	d, ok = Offset{-90, Minute}.Absolute()
	assert.True(t, ok)
	assert.Equal(t, -90*time.Minute, d)
	for _, unit := range []OffsetUnit{Day, Week, Month} {
		_, ok = Offset{1, unit}.Absolute()
		assert.False(t, ok, unit)
	}
}

// The last Sundays of March and October are when the clocks change in the
// European Union (Directive 2000/84/EC); both nights stand between the two
// times here.
func TestCalendarStepsKeepTheTimeOfDay(t *testing.T) {
	dublin := zoneNamed(t, "Europe/Dublin")
	for _, c := range []struct{ from, offset, want string }{
		{"2026-10-24 18:30", "1 d", "2026-10-25 18:30"},
		{"2026-10-24 18:30", "24 h", "2026-10-25 17:30"},
		{"2026-03-28 18:30", "1 d", "2026-03-29 18:30"},
		{"2026-03-28 18:30", "24 h", "2026-03-29 19:30"},
		{"2026-01-31 07:00", "1 mo", "2026-02-28 07:00"},
		{"2028-01-31 07:00", "1 mo", "2028-02-29 07:00"},
		{"2026-01-31 07:00", "2 mo", "2026-03-31 07:00"},
		{"2026-03-31 07:00", "-1 mo", "2026-02-28 07:00"},
		{"2026-12-30 07:00", "1 wk", "2027-01-06 07:00"},
	} {
		from, err := ParseMoment(c.from, dublin)
		require.NoError(t, err)
		offset, err := ParseOffset(c.offset)
		require.NoError(t, err)
		assert.Equal(t, c.want, offset.Add(from.Time).Format("2006-01-02 15:04"), c)
	}
}

func TestParseWindow(t *testing.T) {
	for text, want := range map[string]Window{
		"-12 h .. +24 h": {Offset{-12, Hour}, Offset{24, Hour}},
		"0 h..+1 d":      {Offset{0, Hour}, Offset{1, Day}},
		"-7 d .. -1 d":   {Offset{-7, Day}, Offset{-1, Day}},
		"+2 d .. +1 mo":  {Offset{2, Day}, Offset{1, Month}},
		"23 h .. 1 d":    {Offset{23, Hour}, Offset{1, Day}},
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
	daily, weekly, never := Offset{1, Day}, Offset{7, Day}, Offset{}
	for _, c := range []struct {
		do     string
		every  Offset
		want   string
		missed Missed
	}{
		{"nutrient", never, "-12 h .. +24 h", Late},
		{"nutrient", daily, "-12 h .. +24 h", Late},
		{"degas", Offset{12, Hour}, "-6 h .. 6 h", Drop},
		{"degas", daily, "-0.5 d .. 0.5 d", Drop},
		{"degas", never, "-12 h .. 12 h", Drop},
		{"punch", Offset{12, Hour}, "-6 h .. 6 h", Drop},
		{"look", weekly, "-3.5 d .. 3.5 d", Drop},
		{"squeeze", Offset{1, Month}, "-15 d .. 15 d", Drop},
		{"gravity", weekly, "-1 d .. +1 d", Drop},
		{"ph", never, "-1 d .. +1 d", Drop},
		{"rack", never, "-7 d .. +14 d", Late},
		{"bottle", never, "-7 d .. +14 d", Late},
		{"prime", never, "-7 d .. +14 d", Late},
		{"open", never, "-14 d .. +14 d", Late},
		{"taste", never, "-14 d .. +14 d", Late},
		{"temperature", daily, "0 h .. +1 d", Late},
		{"sorbate", never, "0 h .. +1 d", Late},
	} {
		want, err := ParseWindow(c.want)
		require.NoError(t, err)
		got, missed := DefaultWindow(c.do, c.every)
		assert.Equal(t, want, got, c)
		assert.Equal(t, c.missed, missed, c)
	}
}

func zoneNamed(t testing.TB, name string) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation(name)
	require.NoError(t, err)
	return zone
}
