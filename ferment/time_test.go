package ferment

import (
	"testing"
	"time"
	_ "time/tzdata"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParseMoment(t *testing.T) {
	dublin := zoneNamed(t, "Europe/Dublin")
	for _, c := range []struct{ text, want string }{
		{"2026-09-12T18:30:00+01:00", "2026-09-12T18:30:00+01:00"},
		{"2026-09-12T17:30:00Z", "2026-09-12T18:30:00+01:00"},
		{"2026-09-12T19:30:00+02:00", "2026-09-12T18:30:00+01:00"},
		{"2026-01-12T18:30:00Z", "2026-01-12T18:30:00Z"},
		{"2026-09-12 18:30", "2026-09-12T18:30:00+01:00"},
		{"2026-09-12 18:30:05", "2026-09-12T18:30:05+01:00"},
		{" 2026-09-12 ", "2026-09-12T00:00:00+01:00"},
		{"2028-02-29", "2028-02-29T00:00:00Z"},
		{"1900-01-01 00:00", "1900-01-01T00:00:00-00:25"},
		{"2200-12-31 23:59:59", "2200-12-31T23:59:59Z"},
		// The clocks go back at 01:00 UTC on the last Sunday of October and
		// forward on the last of March (Directive 2000/84/EC).
		{"2026-10-25 00:59", "2026-10-25T00:59:00+01:00"},
		{"2026-10-25 01:00", "2026-10-25T01:00:00+01:00"},
		{"2026-10-25 01:59", "2026-10-25T01:59:00+01:00"},
		{"2026-10-25 02:00", "2026-10-25T02:00:00Z"},
		{"2026-03-29 00:59", "2026-03-29T00:59:00Z"},
		{"2026-03-29 02:00", "2026-03-29T02:00:00+01:00"},
	} {
		got, err := ParseMoment(c.text, dublin)
		require.NoError(t, err, c.text)
		if c.text[:4] != "1900" { // local mean time has seconds, which RFC 3339 cannot write
			assert.Equal(t, c.want, got.Time.Format(time.RFC3339), c.text)
		}
		assert.Equal(t, len(got.Text) == len("2026-09-12"), got.DayOnly, c.text)
	}
}

func TestInvalidMoments(t *testing.T) {
	dublin := zoneNamed(t, "Europe/Dublin")
	for text, want := range map[string]string{
		"2026-03-29 01:00":          `"2026-03-29 01:00" was skipped by a change of the clocks (e.g. 2026-09-12T18:30:00+01:00, 2026-09-12 18:30 or 2026-09-12)`,
		"2026-03-29 01:59":          "was skipped by a change of the clocks",
		"2026-02-29":                "is no day of the calendar",
		"2026-13-01":                "is no day of the calendar",
		"2026-09-31 18:30":          "is no day of the calendar",
		"2026-09-12 24:00":          "is no time of day",
		"2026-09-12 18:60":          "is no time of day",
		"2026-09-12 1830":           "is not a time",
		"2026-09-12T18:30":          "is not a time",
		"12.09.2026":                "is not a time",
		"18:30":                     "is not a time",
		"yesterday":                 "is not a time",
		"":                          "is not a time",
		"1899-12-31":                "outside the years 1900 to 2200",
		"2201-01-01":                "outside the years 1900 to 2200",
		"1899-12-31T23:59:59Z":      "outside the years 1900 to 2200",
		"2201-01-01T00:00:00Z":      "outside the years 1900 to 2200",
		"0000-00-00":                "is no day of the calendar",
		"2026-09-12 18:30 tomorrow": "is not a time",
	} {
		_, err := ParseMoment(text, dublin)
		assert.ErrorContains(t, err, want, text)
	}
}

// The rules of these zones are those of the IANA time zone database.
func TestDaysOfZonesThatChangeAtMidnight(t *testing.T) {
	for _, c := range []struct{ zone, day, want string }{
		{"Asia/Beirut", "2022-03-27", "2022-03-27T01:00:00+03:00"},         // midnight was skipped
		{"America/Havana", "2022-11-06", "2022-11-06T00:00:00-04:00"},      // midnight came twice
		{"Australia/Lord_Howe", "2022-04-03", "2022-04-03T00:00:00+11:00"}, // a change of half an hour, later
	} {
		got, err := ParseMoment(c.day, zoneNamed(t, c.zone))
		require.NoError(t, err, c)
		assert.Equal(t, c.want, got.Time.Format(time.RFC3339), c)
	}
	_, err := ParseMoment("2011-12-30", zoneNamed(t, "Pacific/Apia"))
	assert.ErrorContains(t, err, "is no day of the calendar", "the islands went over the date line")
	got, err := ParseMoment("2022-04-03 01:45", zoneNamed(t, "Australia/Lord_Howe"))
	require.NoError(t, err)
	assert.Equal(t, "2022-04-03T01:45:00+11:00", got.Time.Format(time.RFC3339), "the first of two")
}

func TestParseTime(t *testing.T) {
	dublin := zoneNamed(t, "Europe/Dublin")
	for _, c := range []struct{ now, text, want, notice string }{
		{"2026-09-14 07:15", "07:00", "2026-09-14 07:00:00", ""},
		{"2026-09-14 07:15", "7:00", "2026-09-14 07:00:00", ""},
		{"2026-09-14 07:15", "07:15", "2026-09-14 07:15:00", ""},
		{"2026-09-14 07:15", "07:15:01", "2026-09-13 07:15:01", "07:15:01 is later than now: yesterday"},
		{"2026-09-14 07:15", "07:16", "2026-09-13 07:16:00", "07:16 is later than now: yesterday"},
		{"2026-09-14 07:15", "18:30", "2026-09-13 18:30:00", "18:30 is later than now: yesterday"},
		{"2026-09-01 07:15", "18:30", "2026-08-31 18:30:00", "18:30 is later than now: yesterday"},
		{"2026-09-14 07:15", "yesterday 20:00", "2026-09-13 20:00:00", ""},
		{"2026-09-14 07:15", "Yesterday  7:00", "2026-09-13 07:00:00", ""},
		{"2026-01-01 07:15", "yesterday 20:00", "2025-12-31 20:00:00", ""},
		{"2026-09-14 07:15", "yesterday", "2026-09-13 day", ""},
		{"2026-09-14 07:15", "2026-09-10", "2026-09-10 day", ""},
		{"2026-09-14 07:15", "2026-09-10 18:30", "2026-09-10 18:30:00", ""},
		{"2026-09-14 07:15", "2026-09-20 18:30", "2026-09-20 18:30:00", ""},
		{"2026-09-14 07:15", "2026-09-10T17:30:00Z", "2026-09-10 18:30:00", ""},
		{"2026-09-14 07:15", "-30min", "2026-09-14 06:45:00", ""},
		{"2026-09-14 07:15", "-2h", "2026-09-14 05:15:00", ""},
		{"2026-09-14 07:15", "- 2 h", "2026-09-14 05:15:00", ""},
		{"2026-09-14 07:15", "−2h", "2026-09-14 05:15:00", ""},
		{"2026-09-14 07:15", "-1.5h", "2026-09-14 05:45:00", ""},
		{"2026-09-14 07:15", "-2d", "2026-09-12 07:15:00", ""},
		{"2026-09-14 07:15", "-2wk", "2026-08-31 07:15:00", ""},
		{"2026-03-31 07:15", "-1mo", "2026-02-28 07:15:00", ""},
		// Over the night in which clocks go back, days keep the hour.
		{"2026-10-26 07:15", "-2d", "2026-10-24 07:15:00", ""},
		{"2026-10-26 07:15", "-48h", "2026-10-24 08:15:00", ""},
		{"2026-10-25 07:15", "01:30", "2026-10-25 01:30:00", "01:30 comes twice that day: the first is taken"},
		{"2026-10-26 00:15", "01:30", "2026-10-25 01:30:00", "01:30 is later than now: yesterday; 01:30 comes twice that day: the first is taken"},
	} {
		now, err := ParseMoment(c.now, dublin)
		require.NoError(t, err)
		got, notice, err := ParseTime(c.text, now.Time, dublin)
		require.NoError(t, err, c.text)
		layout := "2006-01-02 15:04:05"
		if got.DayOnly {
			layout = "2006-01-02 day"
		}
		assert.Equal(t, c.want, got.Time.Format(layout), c)
		assert.Equal(t, c.notice, notice, c)
	}
}

func TestInvalidTimes(t *testing.T) {
	dublin := zoneNamed(t, "Europe/Dublin")
	now := time.Date(2026, 3, 29, 9, 0, 0, 0, dublin)
	for text, want := range map[string]string{
		"01:30":           `"01:30" was skipped by a change of the clocks (e.g. 18:30, yesterday 20:00, -2h, 2026-09-14 or 2026-09-14 07:15)`,
		"25:00":           "is no time of day",
		"yesterday 25:00": "is no time of day",
		"yesterday noon":  "is not a time",
		"yesterdays":      "is not a time",
		"2h":              "is not a time",
		"+2h":             "is not a time",
		"-2":              "is not a time",
		"-2x":             "is not a time",
		"-1.5mo":          "is not a time",
		"-51000wk":        "is not a time",
		"noon":            "is not a time",
		"":                "is not a time",
	} {
		_, _, err := ParseTime(text, now, dublin)
		assert.ErrorContains(t, err, want, text)
	}
}

// FuzzTime: a time that parses is in the allowed years and parses the same from the text that the program writes.
func FuzzTime(f *testing.F) {
	for _, text := range []string{"18:30", "yesterday 20:00", "-30min", "-2d", "2026-10-25 01:30", "2026-03-29 01:30", "2026-09-12", "2026-09-12T18:30:00+01:00", "1900-01-01", "−1mo"} {
		f.Add(text)
	}
	dublin := zoneNamed(f, "Europe/Dublin")
	now := time.Date(2026, 10, 26, 0, 15, 0, 0, dublin)
	f.Fuzz(func(t *testing.T, text string) {
		at, _, err := ParseTime(text, now, dublin)
		if err != nil {
			return
		}
		require.GreaterOrEqual(t, at.Latest().Year(), firstYear)
		require.LessOrEqual(t, at.Time.UTC().Year(), lastYear+1)
		if _, seconds := at.Time.Zone(); seconds%60 != 0 {
			return // local mean time, which RFC 3339 cannot write
		}
		written := at.Time.Format(time.RFC3339Nano)
		if at.DayOnly {
			written = at.Time.Format(time.DateOnly)
		}
		again, err := ParseMoment(written, dublin)
		require.NoError(t, err)
		require.True(t, again.Time.Equal(at.Time), "%q: %s", text, written)
	})
}
