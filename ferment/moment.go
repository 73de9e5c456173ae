package ferment

import "time"

// Moment is a time as a file gives it: to the second, or only the day.
type Moment struct {
	Time    time.Time // of a day alone: its first instant in the cellar's zone
	DayOnly bool
	Text    string // as typed; empty for a moment the program made
}

// At is a moment to the second.
func At(t time.Time) Moment { return Moment{Time: t} }

// IsZero tells whether no moment was given.
func (m Moment) IsZero() bool { return m.Time.IsZero() }

// Earliest is the first instant that the moment can mean: what freshness is
// counted from.
func (m Moment) Earliest() time.Time { return m.Time }

// Latest is the last instant that the moment can mean: what spacing is counted
// from.
func (m Moment) Latest() time.Time {
	if m.DayOnly {
		return m.Time.AddDate(0, 0, 1).Add(-time.Second)
	}
	return m.Time
}

// Written is the moment as RFC 3339 or as a day alone; empty for none.
func (m Moment) Written() string {
	switch {
	case m.IsZero():
		return ""
	case m.DayOnly:
		return m.Time.Format(time.DateOnly)
	}
	return m.Time.Format(time.RFC3339)
}
