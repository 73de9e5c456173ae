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

func TestOffsetErrorsShowARightExample(t *testing.T) {
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

// Clocks change on the last Sundays of March and October in the European Union (Directive 2000/84/EC); both nights are
// between the two times here.
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

func zoneNamed(t testing.TB, name string) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation(name)
	require.NoError(t, err)
	return zone
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
