package main

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"cellar/jugkeeper/ferment"
)

// tableDates are the date formats of spreadsheets, besides that of the files and those with slashes.
var tableDates = []string{"2.1.2006", "2006/1/2", "2 Jan 2006", "2-Jan-2006"}

// zonedDates are times with their zone as spreadsheets and databases write them, besides that of the files.
var zonedDates = []string{"2006-01-02 15:04Z07:00", "2006-01-02 15:04:05Z07:00", "2006-01-02 15:04:05Z0700", "2006-01-02 15:04 -0700", "2006-01-02 15:04:05 -0700", "2006-01-02 15:04:05 -07:00"}

// tableClocks are times of day besides those of the files: with am and pm, and with parts of a second.
var tableClocks = []string{"3:04 PM", "3:04:05 PM", "3:04PM", "15:04:05"}

func (t *tableReader) moment(date, clock string) (ferment.Moment, error) {
	if date == "" {
		return ferment.Moment{}, fmt.Errorf("it has no date")
	}
	if len(date) > len(time.DateOnly) && date[len(time.DateOnly)] == 'T' {
		date = strings.Replace(date, "T", " ", 1)
	}
	for _, form := range zonedDates {
		if at, err := time.Parse(form, strings.TrimSpace(date+" "+clock)); err == nil {
			return ferment.ParseMoment(at.Format(time.RFC3339), t.zone)
		}
	}
	if i := strings.LastIndex(date[:max(0, strings.Index(date, ":"))], " "); i > 0 && clock == "" {
		date, clock = date[:i], date[i+1:]
	}
	if i := strings.Index(date, "/"); i > 0 && i < 4 && t.slashes == "" {
		return ferment.Moment{}, fmt.Errorf("%q may be a day or a month first: write 2026-11-28 or 28.11.2026", date)
	}
	for _, form := range append(tableDates, t.slashes) {
		if d, err := time.ParseInLocation(form, date, t.zone); err == nil {
			date = d.Format(time.DateOnly)
		}
	}
	for _, form := range tableClocks {
		if at, err := time.Parse(form, strings.ToUpper(clock)); err == nil {
			clock = at.Format(time.TimeOnly)
		}
	}
	return ferment.ParseMoment(strings.TrimSpace(date+" "+clock), t.zone)
}

// slashes returns the format of dates with slashes, if the dates of a table leave one alone: a day is over 12.
func slashes(rows [][]string) string {
	forms := ferment.Where([]string{"2/1/2006", "1/2/2006"}, func(form string) bool {
		other := func(cell string) bool {
			date, _, _ := strings.Cut(strings.TrimSpace(cell), " ")
			_, err := time.Parse(form, date)
			return strings.Count(date, "/") == 2 && err != nil
		}
		return !slices.ContainsFunc(rows, func(cells []string) bool { return slices.ContainsFunc(cells, other) })
	})
	if len(forms) != 1 {
		return ""
	}
	return forms[0]
}
