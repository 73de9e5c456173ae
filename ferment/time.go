package ferment

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"cellar/jugkeeper/ferment/measure"
)

// Moment is a time as in a file: to the second, or only a day.
type Moment struct {
	Time    time.Time // for a day alone its first instant in the cellar's zone
	DayOnly bool
	Text    string // as typed; empty if the program made it
}

// At returns a moment to the second.
func At(t time.Time) Moment { return Moment{Time: t} }

// IsZero reports whether there is no moment.
func (m Moment) IsZero() bool { return m.Time.IsZero() }

// Earliest returns the first instant of the moment; freshness counts from it.
func (m Moment) Earliest() time.Time { return m.Time }

// Latest returns the last instant of the moment; spacing counts from it.
func (m Moment) Latest() time.Time {
	if m.DayOnly {
		return m.Time.AddDate(0, 0, 1).Add(-time.Second)
	}
	return m.Time
}

// Written returns the moment as RFC 3339, or as a day alone; empty for none.
func (m Moment) Written() string {
	switch {
	case m.IsZero():
		return ""
	case m.DayOnly:
		return m.Time.Format(time.DateOnly)
	}
	return m.Time.Format(time.RFC3339)
}

const (
	momentHint = "e.g. 2026-09-12T18:30:00+01:00, 2026-09-12 18:30 or 2026-09-12"
	timeHint   = "e.g. 18:30, yesterday 20:00, -2h, 2026-09-14 or 2026-09-14 07:15"
)

var (
	errNoTime = errors.New("is not a time")
	errNoDay  = errors.New("is no day of the calendar")
)

const firstYear, lastYear = 1900, 2200

// ParseMoment reads a time as in a file: RFC 3339, "2026-09-12 18:30", "2026-09-12 18:30:05", or a day alone. A local
// time that occurs twice at a clock change is the first one; one that is skipped is an error.
func ParseMoment(text string, zone *time.Location) (Moment, error) {
	text = strings.TrimSpace(text)
	at, _, err := parseDated(text, zone)
	if err != nil {
		return Moment{}, &measure.Error{Text: text, Problem: err.Error(), Hint: momentHint}
	}
	at.Text = text
	return at, nil
}

// ParseTime reads a time as typed: what ParseMoment reads, and also "18:30", "yesterday 20:00", "yesterday", "-30min",
// "-2h", "-2d". A time of day later than now means yesterday, and the notice says so.
func ParseTime(text string, now time.Time, zone *time.Location) (at Moment, notice string, err error) {
	text = strings.Join(strings.Fields(text), " ")
	now = now.In(zone).Truncate(time.Second)
	lower := strings.ToLower(text)
	clock, yesterday := strings.CutPrefix(lower, "yesterday")
	switch {
	case yesterday && (clock == "" || clock[0] == ' '):
		at, notice, err = parseYesterday(strings.TrimSpace(clock), now)
	case IsClock(lower):
		at, notice, err = parseClock(lower, now)
	case IsBack(lower):
		at, err = parseBack(lower, now)
	default:
		at, notice, err = parseDated(text, zone)
	}
	if err != nil {
		return Moment{}, "", &measure.Error{Text: text, Problem: err.Error(), Hint: timeHint}
	}
	return at, notice, nil
}

// IsClock reports whether a text looks like a time of day: 18:30.
func IsClock(text string) bool { return aClock().MatchString(text) }

// IsDate reports whether a text looks like a date: 2026-09-14.
func IsDate(text string) bool { return aDate().MatchString(text) }

// IsBack reports whether a text is a minus, a number and a unit of time.
func IsBack(text string) bool { return aStepBack().MatchString(text) }

var (
	aClock    = Pattern(`^\d\d?:\d\d(?::\d\d)?$`)
	aDate     = Pattern(`^\d{4}-\d\d-\d\d$`)
	aStepBack = Pattern(`^[-−] ?[\d.,]+ ?(?:min|h|d|wk|mo)$`)
)

// parseDated reads a time with its date. The text is a remark for the person, as in clockOn.
func parseDated(text string, zone *time.Location) (Moment, string, error) {
	if t, err := time.Parse(time.RFC3339, text); err == nil {
		return At(t.In(zone).Truncate(time.Second)), "", yearFits(t)
	}
	day, clock, timed := strings.Cut(text, " ")
	if !IsDate(day) || timed && !IsClock(clock) {
		return Moment{}, "", errNoTime
	}
	t, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return Moment{}, "", errNoDay
	}
	if err := yearFits(t); err != nil {
		return Moment{}, "", err
	}
	if timed {
		return clockOn(clock, t, zone)
	}
	return wholeDay(t, zone)
}

func yearFits(t time.Time) error {
	if y := t.Year(); y < firstYear || y > lastYear {
		return fmt.Errorf("is outside the years %d to %d", firstYear, lastYear)
	}
	return nil
}

func parseYesterday(clock string, now time.Time) (Moment, string, error) {
	switch {
	case clock == "":
		return wholeDay(dayBefore(now), now.Location())
	case IsClock(clock):
		return clockOn(clock, dayBefore(now), now.Location())
	}
	return Moment{}, "", errNoTime
}

// dayBefore returns noon of the day before, which no clock change skips.
func dayBefore(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d-1, 12, 0, 0, 0, t.Location())
}

// parseClock reads a time of day: today's, or yesterday's if today's is still to come.
func parseClock(clock string, now time.Time) (Moment, string, error) {
	at, notice, err := clockOn(clock, now, now.Location())
	if err != nil || !at.Time.After(now) {
		return at, notice, err
	}
	at, notice, err = clockOn(clock, dayBefore(now), now.Location())
	later := clock + " is later than now: yesterday"
	if notice != "" {
		later += "; " + notice
	}
	return at, later, err
}

// parseBack reads a time before now: "-2 h".
func parseBack(text string, now time.Time) (Moment, error) {
	back, err := ParseOffset(text)
	if err != nil {
		return Moment{}, errNoTime
	}
	t := back.Add(now)
	return At(t), yearFits(t)
}

// clockOn returns a time of day on a day. The text is a remark if the clocks were changed that day.
func clockOn(clock string, day time.Time, zone *time.Location) (Moment, string, error) {
	layout := "15:04"
	if strings.Count(clock, ":") == 2 {
		layout = "15:04:05"
	}
	t, err := time.Parse(layout, clock)
	if err != nil {
		return Moment{}, "", errors.New("is no time of day")
	}
	y, m, d := day.Date()
	first, last := instants(time.Date(y, m, d, t.Hour(), t.Minute(), t.Second(), 0, time.UTC), zone)
	switch {
	case first.IsZero():
		return Moment{}, "", errors.New("was skipped by a change of the clocks")
	case !first.Equal(last):
		return At(first), clock + " comes twice that day: the first is taken", nil
	}
	return At(first), "", nil
}

// wholeDay returns a day alone. It begins after midnight if a clock change skips midnight.
func wholeDay(day time.Time, zone *time.Location) (Moment, string, error) {
	y, m, d := day.Date()
	midnight := time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
	start, _ := instants(midnight, zone)
	if start.IsZero() {
		start = midnight.Add(-offsetAt(midnight.AddDate(0, 0, -1), zone)).In(zone)
	}
	if start.Day() != d {
		return Moment{}, "", errNoDay
	}
	return Moment{Time: start, DayOnly: true}, "", nil
}

// instants returns the first and last instant at which clocks in a zone show a given local time. They differ in an hour
// that occurs twice, and are zero in one that is skipped.
func instants(wall time.Time, zone *time.Location) (first, last time.Time) {
	for _, days := range []int{-1, 1} { // with the offsets before and after a change
		t := wall.Add(-offsetAt(wall.AddDate(0, 0, days), zone)).In(zone)
		if t.Format(time.DateTime) != wall.Format(time.DateTime) {
			continue
		}
		if first.IsZero() || t.Before(first) {
			first = t
		}
		if t.After(last) {
			last = t
		}
	}
	return first, last
}

// offsetAt returns the offset of a zone from UTC at an instant.
func offsetAt(t time.Time, zone *time.Location) time.Duration {
	_, seconds := t.In(zone).Zone()
	return time.Duration(seconds) * time.Second
}
